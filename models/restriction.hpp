/// Short restriction: bleed-screw seat, port, compensating hole, valve.
///
/// Pressure drop at volume flow q, positive from up to down:
///     dp(q) = a q + b q |q|,   a = 3 mu / r^3 + 8 mu l / (pi r^4),   b = rho / (2 (Cd A)^2)          
///     q(dp) = 2 dp / (a + sqrt(a^2 + 4 b |dp|)),   dq/dp = 1 / (a + 2 b |q|)                         
/// The first term of a is creeping flow through the hole, the second its drilling, b the orifice law. No
/// smoothing constant; odd in q: reverse flow is allowed, never clamped. Gas uses the same law with its own
/// density and viscosity, up to the volume flow at upstream conditions at which it chokes:
///     q* = Cd A sqrt(gamma R T) (2/(gamma+1))^((gamma+1)/(2(gamma-1)))                               
/// Valid: one phase at a time; no cavitation in the hole; for gas the smaller of and
/// is up to 16 % above isentropic nozzle flow.
/// Source: sampson1891 [from memory] for creeping flow, merritt1967 ch. 3 [from memory] for b; their sum is
/// ours; white2011 ch. 9 [from memory].
#pragma once

#include <cmath>

#include "models/constants.hpp"

namespace clearstroke {

/// A round hole with a drilling of the same radius.
struct Restriction {
    double radius{};              ///< r   hole radius             [m]  > 0
    double length{};              ///< l   length of the drilling  [m]  >= 0
    double discharge_coeff{0.62}; ///< Cd  discharge coefficient   [-]  (0, 1]; 0.6 sharp to 0.82 short tube
};

/// The two constants of for one fluid.
struct DropLaw {
    double a{}; ///< [Pa s/m^3]    > 0
    double b{}; ///< [Pa s^2/m^6]  >= 0
};

/// Law of an opening of geometric `area` [m^2] behind a drilling of `length` and diameter `bore` [m];
/// creeping flow through the opening as through a round hole of the same area.
[[nodiscard]] inline DropLaw drop_law(double area, double length, double bore, double discharge_coeff,
                                      double density, double viscosity) {
    const double hole = std::sqrt(area / pi), drill = 0.5 * bore;
    const double effective = discharge_coeff * area;
    return {3.0 * viscosity / (hole * hole * hole) +
                8.0 * viscosity * length / (pi * drill * drill * drill * drill),
            density / (2.0 * effective * effective)};
}

/// Law of a round hole for a fluid of `density` [kg/m^3] and dynamic `viscosity` [Pa s], (R-1).
[[nodiscard]] inline DropLaw drop_law(const Restriction& hole, double density, double viscosity) {
    return drop_law(pi * hole.radius * hole.radius, hole.length, 2.0 * hole.radius, hole.discharge_coeff,
                    density, viscosity);
}

/// Law of `hole` behind a line that resists in proportion to flow, `resistance` [Pa s/m^3].
[[nodiscard]] inline DropLaw behind(double resistance, const DropLaw& hole) {
    return {resistance + hole.a, hole.b};
}

/// Pressure drop [Pa] at `flow` [m^3/s], (R-1).
[[nodiscard]] inline double pressure_drop(const DropLaw& law, double flow) {
    return flow * (law.a + law.b * std::abs(flow));
}

/// Volume flow [m^3/s] at drop `dp` [Pa], (R-2).
[[nodiscard]] inline double volume_flow(const DropLaw& law, double dp) {
    return 2.0 * dp / (law.a + std::sqrt(law.a * law.a + 4.0 * law.b * std::abs(dp)));
}

/// Slope dq/dp [m^3/(s Pa)] of at `flow` [m^3/s].
[[nodiscard]] inline double flow_slope(const DropLaw& law, double flow) {
    return 1.0 / (law.a + 2.0 * law.b * std::abs(flow));
}

/// Slope dq/dp [m^3/(s Pa)] of the secant through no flow and |q| = `flow`.
[[nodiscard]] inline double secant_slope(const DropLaw& law, double flow) {
    return 1.0 / (law.a + law.b * flow);
}

/// Largest volume flow of air [m^3/s], measured at upstream conditions, through `area` [m^2] at upstream
/// temperature [K], (R-3).
[[nodiscard]] inline double choked_gas_flow_limit(double area, double discharge_coeff, double temperature) {
    // (2/(gamma+1))^((gamma+1)/(2(gamma-1))) is (1/1.2)^3 for gamma = 1.4
    constexpr double critical = 1.0 / (1.2 * 1.2 * 1.2);
    static_assert(air_heat_ratio == 1.4);
    return discharge_coeff * area * std::sqrt(air_heat_ratio * air_gas_constant * temperature) * critical;
}

} // namespace clearstroke
