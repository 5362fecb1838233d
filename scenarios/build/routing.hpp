#pragma once
/// From a tee or cylinder to a wheel: rigid pipe, union, hose. Shared by the shorthands.
#include <string>
#include <utility>

#include "scenarios/build/parts.hpp"

namespace clearstroke {

/// Pipe and hose of a length that may include its hose; a hose that is not stated takes at most four
/// fifths of it.
[[nodiscard]] std::pair<double, double> split_length(Inputs&, const std::string& length_key, double length,
                                                     const std::string& hose_key);

struct WheelRun {
    std::string wheel, length_key, hose_key, hose_top_key;
};

/// Adds "W pipe", "W union" and "W hose"; returns the pipe.
LineId run_to_wheel(Inputs&, Parts&, const WheelRun&, std::variant<PortRef, JunctionId> from, PortRef brake);

} // namespace clearstroke
