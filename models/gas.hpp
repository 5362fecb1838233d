/// Air in the circuit: density, viscosity, volume of a pocket, its thermal time constant, soft liquid.
///
///     rho = p / (R T)                                                                                 (G-1)
///     mu = mu0 (T/T0)^(3/2) (T0 + S)/(T + S),  mu0 1.716e-5 Pa s, T0 273.15 K, S 110.4 K              (G-2)
///     V = V_free (p_atm / p) (T / T_ref)                                                              (G-3)
///     V/V0 = (p0/p)^(1/n)                                                                             (G-4)
///     tau = L^2 / (k alpha), alpha = alpha0 p_atm / p; slab gap L: k = pi^2; sphere radius: k = pi^2;
///           tube radius: k = 5.783 (first zero of J0, squared)                                        (G-5)
///     K_eff = [l + g] / [l/K + g/(n p)],  l = (1-phi) exp(-(p-p0)/K),  g = phi (p0/p)^(1/n)           (G-6)
/// Free air is measured at one standard atmosphere and the temperature T_ref of the scenario.
/// Valid: dry air, 230 to 420 K, below 300 bar (the ideal gas is then up to 10 % off in a volume that has
/// shrunk to a three-hundredth); (G-5) conduction only, walls isothermal.
/// Source: white2011 ch. 1 [from memory] for (G-1), (G-2); (G-5) derived (ours), alpha0 2.12e-5 m^2/s [from
/// memory]; (G-6) nykanen2000 [from memory], derived again (ours).
#pragma once

#include <cmath>

#include "models/constants.hpp"

namespace clearstroke {

/// Density of air [kg/m^3] at pressure `p` [Pa] and temperature `t` [K], (G-1).
[[nodiscard]] constexpr double air_density(double p, double t) { return p / (air_gas_constant * t); }

/// Dynamic viscosity of air [Pa s] at temperature `t` [K], (G-2).
[[nodiscard]] inline double air_viscosity(double t) {
    constexpr double mu0 = 1.716e-5, t0 = 273.15, s = 110.4;
    const double ratio = t / t0;
    return mu0 * ratio * std::sqrt(ratio) * (t0 + s) / (t + s);
}

/// Volume [m^3] at pressure `p` [Pa] of `free_air` [m^3]; `temperature_ratio` T/T_ref [-], (G-3).
[[nodiscard]] constexpr double gas_volume(double free_air, double p, double temperature_ratio = 1.0) {
    return free_air * standard_atmosphere / p * temperature_ratio;
}

/// Free air [m^3] of a gas volume [m^3] at pressure `p` [Pa]; inverse of (G-3).
[[nodiscard]] constexpr double free_air_of(double volume, double p, double temperature_ratio = 1.0) {
    return volume * p / (standard_atmosphere * temperature_ratio);
}

/// V/V0 [-] when the pressure goes from `p0` to `p` [Pa] with exponent `n` [-], (G-4).
[[nodiscard]] inline double polytropic_volume_ratio(double p0, double p, double n) {
    return std::pow(p0 / p, 1.0 / n);
}

/// Thermal diffusivity of air [m^2/s] near 20 degC at pressure `p` [Pa].
[[nodiscard]] constexpr double air_thermal_diffusivity(double p) { return 2.12e-5 * standard_atmosphere / p; }

/// Thermal time constant [s] of gas in a slab of width `gap` [m], (G-5).
[[nodiscard]] constexpr double thermal_time_constant_slab(double gap, double p) {
    return gap * gap / (pi * pi * air_thermal_diffusivity(p));
}

/// Thermal time constant [s] of a gas sphere of `volume` [m^3], (G-5).
[[nodiscard]] inline double thermal_time_constant_sphere(double volume, double p) {
    const double radius = std::cbrt(3.0 * volume / (4.0 * pi));
    return radius * radius / (pi * pi * air_thermal_diffusivity(p));
}

/// Thermal time constant [s] of a long gas plug in a tube of diameter `bore` [m], (G-5).
[[nodiscard]] constexpr double thermal_time_constant_tube(double bore, double p) {
    return bore * bore / (4.0 * 5.783 * air_thermal_diffusivity(p));
}

/// Tangent bulk modulus [Pa] at pressure `p` [Pa] of liquid with modulus `bulk_modulus` [Pa] that holds the
/// volume fraction `gas_fraction` [-] of free gas at one atmosphere; exponent `n` [-], (G-6).
[[nodiscard]] inline double effective_bulk_modulus(double p, double bulk_modulus, double gas_fraction,
                                                   double n) {
    const double liquid = (1.0 - gas_fraction) * std::exp(-(p - standard_atmosphere) / bulk_modulus);
    const double gas = gas_fraction * polytropic_volume_ratio(standard_atmosphere, p, n);
    return (liquid + gas) / (liquid / bulk_modulus + gas / (n * p));
}

} // namespace clearstroke
