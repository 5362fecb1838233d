/// A bubble that fills the tube: how much faster than the liquid it is pushed, and whether it rises by
/// itself.
///
/// Creep and slow flow, Ca = mu U_b / sigma < 5e-3:
///     (U_b - U)/U_b = 1.29 (3 Ca)^(2/3),   dp = 3.58 (3 Ca)^(2/3) sigma / r                           (B-1)
/// Film left on the wall, and by continuity the speed of the bubble against the mean speed of the liquid:
///     h/r = 1.34 Ca^(2/3) / (1 + 3.35 Ca^(2/3)),   U_b/U = 1/(1 - h/r)^2                              (B-2)
///     C0 = min(1 + scale (U_b/U - 1), cap),  cap 2.3                                                  (B-3)
/// Rise in a vertical tube, Bo = drho g r^2 / sigma, Eo = 4 Bo:
///     none for Bo <= 0.842;  Bo - 0.842 = 1.25 Ca^(2/9) + 2.24 Ca^(1/3) up to Bo 1.04                 (B-4)
///     U/sqrt(g D) = A / (1 + (Nf/B)^C)^G from Eo 6 on, Nf = sqrt(g D^3)/nu                            (B-5)
/// Between Bo 1.04 and Eo 6: ln U goes by a smoothstep in Eo from the last value of (B-4) to (B-5)     (B-6)
/// which keeps the rise speed continuous and monotone in the bore. Sloping tube, s the sine of its slope:
///     rise times sqrt(s) (1 + sqrt(1 - s^2))^m,  m 1, band 0.8 to 1.1                                 (B-7)
/// Valid: wetting fluid, bubble longer than the bore; (B-2) Ca < 2, We < 1 (the cap holds beyond); (B-5)
/// measured for 1 to 3900 mPa s; below Eo 15 and Nf 10 its abstract's limit form is up to 2.2 times faster,
/// so take a factor of 2 either way there. Slope may also release a bubble that (B-4) holds: in a sloping
/// line "none" is "um/s".
/// Source: bretherton1961 abstract [verified in the text] for (B-1), (B-4); aussillous2000 [from memory]
/// for (B-2), cap taylor1961 [from memory]; viana2003 abstract [verified in the text] for the structure of
/// (B-5), its constants [from memory]; (B-3) form and (B-6) ours; (B-7) form hasan1988 [from memory],
/// exponent ours so that the gain at 45 degrees is 1.3 to 1.5 (zukoski1966 [from memory]).
#pragma once

#include <cmath>

#include "models/constants.hpp"
#include "models/fluid.hpp"

namespace clearstroke {

inline constexpr double no_rise_bond_number = 0.842;  ///< Bo up to which a long bubble stays put [-]
inline constexpr double bretherton_bond_limit = 1.04; ///< Bo up to which (B-4) holds             [-]
inline constexpr double viana_eotvos_limit = 6.0;     ///< Eo from which (B-5) holds              [-]
inline constexpr double run_ahead_cap = 2.3;          ///< largest U_b/U                          [-]

/// (U_b - U)/U_b [-] at capillary number `ca` of the bubble, (B-1).
[[nodiscard]] inline double bretherton_excess_speed(double ca) {
    const double y = std::cbrt(3.0 * ca);
    return 1.29 * y * y;
}

/// Pressure drop over the ends of a moving bubble [Pa] in a tube of `radius` [m], (B-1).
[[nodiscard]] inline double bretherton_pressure_drop(double ca, double surface_tension, double radius) {
    const double y = std::cbrt(3.0 * ca);
    return 3.58 * y * y * surface_tension / radius;
}

/// Film thickness over tube radius [-] at capillary number `ca` of the bubble, (B-2).
[[nodiscard]] inline double film_thickness_ratio(double ca) {
    const double c = std::cbrt(ca), y = c * c;
    return 1.34 * y / (1.0 + 3.35 * y);
}

/// C0 = U_b/U [-] at capillary number `ca` = mu |U| / sigma of the liquid; wetted line, (B-2), (B-3).
[[nodiscard]] double run_ahead(double ca, double scale = 1.0, double cap = run_ahead_cap);

/// Largest bore [m] of a vertical tube in which a long bubble does not rise, (B-4).
[[nodiscard]] inline double no_rise_bore(const Liquid& liquid, double gas_density) {
    return 2.0 * std::sqrt(no_rise_bond_number * liquid.surface_tension /
                           ((liquid.density - gas_density) * standard_gravity));
}

/// Capillary number [-] of the creep of a long bubble at Bond number `bo`; 0 up to 0.842, (B-4).
[[nodiscard]] double creep_capillary_number(double bo);

/// Froude number U/sqrt(g D) [-] of a long bubble at `eo` and inverse viscosity number `nf`, (B-5).
[[nodiscard]] double viana_froude(double eo, double nf);

/// Rise speed [m/s] of a long bubble in a vertical `bore` [m], liquid at rest, (B-4) to (B-6).
/// Costs a few powers: ask once for a line, not in every step.
[[nodiscard]] double bubble_rise_speed(double bore, const Liquid& liquid, double gas_density);

/// Factor [-] on the rise speed where the sine of the slope to the horizontal is `slope`, 0 to 1, (B-7).
[[nodiscard]] inline double inclination_factor(double slope, double exponent = 1.0) {
    const double gain = 1.0 + std::sqrt(1.0 - slope * slope);
    return std::sqrt(slope) * (exponent == 1.0 ? gain : std::pow(gain, exponent));
}

} // namespace clearstroke
