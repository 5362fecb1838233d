#include "scenarios/build/routing.hpp"

#include <algorithm>

#include <fmt/format.h>

namespace clearstroke {

std::pair<double, double> split_length(Inputs& in, const std::string& length_key, double length,
                                       const std::string& hose_key) {
    const double hose = in.value(hose_key);
    if (!in.truth("lines.lengths_include_hose")) return {length, hose};
    if (hose >= length && in.has(hose_key) && in.has(length_key)) {
        const Place other = in.document().place_of(length_key);
        in.fault(
            hose_key,
            fmt::format("is not shorter than {} at {}:{}:{}, which includes it; allowed: a shorter hose, or "
                        "lines.lengths_include_hose = false",
                        length_key, other.file, other.line, other.column));
    }
    const double fitted = std::min(hose, 0.8 * length);
    return {length - fitted, fitted};
}

LineId run_to_wheel(Inputs& in, Parts& parts, const WheelRun& run, std::variant<PortRef, JunctionId> from,
                    PortRef brake) {
    const auto [pipe, hose] = split_length(in, run.length_key, in.value(run.length_key), run.hose_key);
    const JunctionId join = parts.add(Junction{run.wheel + " union", in.value(run.hose_top_key)});
    const std::string place = run.wheel + " line";
    const End start = std::visit([](auto end) -> End { return end; }, from);
    const LineId id = parts.add(pipe_between(in, parts, run.wheel + " pipe", place, pipe, start, join));
    parts.add(hose_between(in, parts, run.wheel + " hose", place, hose, join, brake));
    return id;
}

} // namespace clearstroke
