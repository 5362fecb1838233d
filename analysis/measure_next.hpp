#pragma once
/// "Go and measure": the unstated values that move the answer most, and where the finding would change.
///
/// Each value that a person can measure is moved to the low and to the high end of its band on a fixed order
/// of visits. Effect = the larger of the two moves, in strokes:
///     effect = max(|change of strokes|, |change of strokes to target|) + |change of air left| / target
/// For the values shown the rival order is run as well; where the winner differs at an end of the band, the
/// value at which it changes is found by bisection. Source: ours.
#include <optional>
#include <string>
#include <vector>

#include "analysis/order_tree.hpp"
#include "analysis/ranking.hpp"
#include "sim/parameter.hpp"

namespace clearstroke {

struct MeasureRequest {
    std::vector<ScrewId> order, rival; ///< what is compared; equal: only effects
    Cost cost{Cost::strokes};
    TieWidth tie;
    std::size_t most{7};
    double least_effect{0.1}; ///< smaller ones are not worth a walk to the vehicle [strokes]
    int threads{};            ///< 0: all cores
    Settings settings;
    Progress progress; ///< counts values, first those that are tried, then those that are shown
};

enum class Winner { order, tie, rival };

struct MeasureNext {
    std::size_t parameter{};           ///< position in CaseFactory::parameters
    double effect{};                   ///< (A-3) [strokes]
    int strokes_low{}, strokes_high{}; ///< of the order, at the ends of the band
    double air_low{}, air_high{};      ///< left [m^3]
    Winner at_low{}, at_usual{}, at_high{};
    std::optional<double> changes_at; ///< value at which the winner changes, if within the band
};

/// Largest effect first.
[[nodiscard]] std::vector<MeasureNext> measure_next(const CaseFactory&, const MeasureRequest&);

/// Value in [a, b] at which `same_as_a` turns false, true at a and false at b; to 1/64 of the interval.
[[nodiscard]] double turning_point(double a, double b, const std::function<bool(double)>& same_as_a);

} // namespace clearstroke
