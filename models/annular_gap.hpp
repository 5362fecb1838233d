/// Leak through a narrow annulus: air past an opened thread, fluid past a worn seal.
///
///     q = G dp,   G = pi D c^3 (1 + 1.5 e^2) / (12 mu L)                                              (AG-1)
/// e is the eccentricity, 0 concentric to 1 touching. Positive from up to down. Valid: c << D, laminar,
/// incompressible; for gas an estimate while the pressure changes by less than half.
/// Source: merritt1967 ch. 3 [from memory].
#pragma once

#include "models/constants.hpp"

namespace clearstroke {

/// Geometry of a narrow annulus.
struct AnnularGap {
    double diameter{};     ///< D  mean diameter       [m]  > 0
    double clearance{};    ///< c  radial clearance    [m]  > 0
    double length{};       ///< L  length of the path  [m]  > 0
    double eccentricity{}; ///< e  offset / clearance  [-]  0 to 1
};

/// Conductance [m^3/(s Pa)] for a fluid of dynamic `viscosity` [Pa s], (AG-1).
[[nodiscard]] constexpr double annular_gap_conductance(const AnnularGap& gap, double viscosity) {
    return pi * gap.diameter * gap.clearance * gap.clearance * gap.clearance *
           (1.0 + 1.5 * gap.eccentricity * gap.eccentricity) / (12.0 * viscosity * gap.length);
}

} // namespace clearstroke
