#pragma once
/// When a brake fluid boils, and which grades may stand in one circuit.
///
/// Two points are known of a grade: the boiling point dry, T_d, and with the water of the standard's
/// wet test, T_w. What the limits vouch for at a water content w by mass:
///     T(0) = T_d;   T(w) = T_w for 0 < w <= 3.7 %;   nothing beyond                               (F-5)
/// The curve between the points is not published with them and falls fast at first, so that a straight
/// line would promise too much; a step is on the safe side.
/// Grades of one family mix, and the mixture is only as good as its weakest part; families do not:
/// silicone and glycol stay apart, and mineral oil ruins the seals made for either, as they ruin its.
/// Valid: at one atmosphere; pressure raises the boiling point.
/// Source: cfr571_116 S5.1.1, S5.1.2, S6.2 [secondary]; mixing saej1705 scope [secondary] and common practice.
#include <optional>

#include "models/fluid.hpp"

namespace clearstroke {

inline constexpr double wet_test_water = 0.037; ///< water by mass in the wet test [-]

/// Least boiling point [K] that the grade vouches for with `water` by mass [-]; nothing above the wet test's.
[[nodiscard]] inline std::optional<double> boiling_at_least(const Fluid& fluid, double water) {
    if (water > wet_test_water) return std::nullopt;
    return water > 0.0 ? fluid.boiling_wet : fluid.boiling_dry;
}

[[nodiscard]] inline bool may_mix(const Fluid& one, const Fluid& other) { return one.family == other.family; }

} // namespace clearstroke
