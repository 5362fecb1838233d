/// Flow of liquid in a tube: laminar resistance, friction above it, wall compliance, inertance.
///
///     dp = R q,  R = 128 mu L / (pi D^4)                                        laminar               (T-1)
///     dp = f (L/D) rho U^2 / 2,  f = 64 / Re                                    laminar factor        (T-2)
///     1/sqrt f = -2 log10( e/3.7 + 2.51/(Re sqrt f) )                           Colebrook             (T-3)
///     1/sqrt f = -1.8 log10( (e/3.7)^1.11 + 6.9/Re )                            Haaland               (T-4)
///     f = 0.3164 Re^(-1/4)                                                      Blasius, smooth       (T-5)
/// `friction_factor` is (T-2) to Re 2300, (T-4) from Re 4000, and between them the cubic of f Re^2 that
/// meets both
/// with their slopes, so that the pressure drop is C1 and rises with the flow                          (T-6)
///     dV/(V dp) = (2/E) [ (ro^2 + ri^2)/(ro^2 - ri^2) + nu_p ]                  thick wall            (T-7)
///     1/(rho c^2) = 1/K + dV/(V dp)                                             wave speed            (T-8)
///     I = rho L / A                                                             inertance             (T-9)
/// q and dp positive from up to down; e is the relative roughness. Valid: developed flow, one phase.
/// Source: white2011 ch. 6 [from memory] for (T-1), (T-2), (T-5); colebrook1939, haaland1983 [secondary];
/// (T-6) ours; (T-7) tijsseling2007 [from memory], (T-8) tijsseling_anderson2004 [verified in the text].
#pragma once

#include <cmath>

#include "models/constants.hpp"

namespace clearstroke {

inline constexpr double laminar_limit = 2300.0;   ///< Reynolds number up to which (T-2) holds [-]
inline constexpr double turbulent_limit = 4000.0; ///< Reynolds number from which (T-4) holds  [-]

/// Cross-section [m^2] of a circle of diameter `bore` [m].
[[nodiscard]] constexpr double circle_area(double bore) { return 0.25 * pi * bore * bore; }

/// Laminar resistance [Pa s/m^3] of a liquid length `length` [m] in a tube of diameter `bore` [m], (T-1).
[[nodiscard]] constexpr double laminar_resistance(double dynamic_viscosity, double length, double bore) {
    return 128.0 * dynamic_viscosity * length / (pi * bore * bore * bore * bore);
}

/// Reynolds number [-] of `flow` [m^3/s], either sign.
[[nodiscard]] inline double reynolds_number(double flow, double bore, double kinematic_viscosity) {
    return 4.0 * std::abs(flow) / (pi * bore * kinematic_viscosity);
}

/// (T-2), Darcy factor [-].
[[nodiscard]] constexpr double friction_factor_laminar(double re) { return 64.0 / re; }

/// (T-3), solved to rounding; Darcy factor [-].
[[nodiscard]] double friction_factor_colebrook(double re, double relative_roughness);

/// (T-4), Darcy factor [-].
[[nodiscard]] double friction_factor_haaland(double re, double relative_roughness);

/// (T-5), Darcy factor [-]; smooth wall, Re 4e3 to 1e5.
[[nodiscard]] double friction_factor_blasius(double re);

/// Darcy factor [-] at any Re > 0, (T-6).
[[nodiscard]] double friction_factor(double re, double relative_roughness);

/// Factor [-] by which friction exceeds the laminar law at this Re >= 0; exactly 1 up to Re 2300, never less.
[[nodiscard]] double turbulence_factor(double re, double relative_roughness);

/// Relative volume gain per pressure [1/Pa] of a tube with inner and outer radius [m], wall modulus [Pa],
/// (T-7).
[[nodiscard]] constexpr double tube_wall_compliance(double inner_radius, double outer_radius,
                                                    double youngs_modulus, double poisson_ratio) {
    const double i = inner_radius * inner_radius, o = outer_radius * outer_radius;
    return 2.0 / youngs_modulus * ((o + i) / (o - i) + poisson_ratio);
}

/// Speed [m/s] of a pressure wave; `wall_compliance` [1/Pa] from (T-7), (T-8).
[[nodiscard]] inline double wave_speed(double density, double bulk_modulus, double wall_compliance) {
    return 1.0 / std::sqrt(density * (1.0 / bulk_modulus + wall_compliance));
}

/// Inertance [kg/m^4] of a liquid length [m], (T-9).
[[nodiscard]] constexpr double inertance(double density, double length, double bore) {
    return density * length / circle_area(bore);
}

} // namespace clearstroke
