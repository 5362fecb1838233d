#pragma once
/// Fluid that it takes to renew what stands at every wheel.
#include <optional>
#include <string>
#include <vector>

#include "sim/parameter.hpp"
#include "sim/run.hpp"

namespace clearstroke {

/// Share of fresh liquid [-] in the volumes whose place is `wheel`; `fresh` per volume as of Simulation::fresh_of_volume. Null where
/// there is no such volume.
[[nodiscard]] std::optional<double> fresh_at(const Network&, const std::string& wheel,
                                             const std::vector<double>& fresh);

/// What one visit took.
struct RenewalVisit {
    ScrewId screw;
    int strokes{};
    double drawn{}; ///< from the reservoirs [m^3]
    double share{}; ///< of fresh liquid at its wheel after it [-]
};

/// Visits in the procedure's order, each until its wheel holds `wanted` (0, 1) of fresh liquid or the stop rule's most strokes are made; a
/// wheel that holds it already is passed over. Pipes count by what they still give into the wheel. Ends with the first that cannot be
/// computed.
[[nodiscard]] std::vector<RenewalVisit> renew(const Case&, double wanted);

} // namespace clearstroke
