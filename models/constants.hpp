/// Constants of nature and of convention used by every law.
///
/// Standard atmosphere and standard gravity are exact by definition (cgpm1954, cgpm1901 [from memory]); the
/// two constants of dry air are the usual engineering values (white2011 appendix A [from memory]).
#pragma once

#include <numbers>

namespace clearstroke {

inline constexpr double pi = std::numbers::pi;          ///< [-]
inline constexpr double standard_atmosphere = 101325.0; ///< pressure at which free air is measured [Pa]
inline constexpr double standard_gravity = 9.80665;     ///< [m/s^2]
inline constexpr double zero_celsius = 273.15;          ///< [K]
inline constexpr double air_gas_constant = 287.05;      ///< specific gas constant of dry air [J/(kg K)]
inline constexpr double air_heat_ratio = 1.4;           ///< cp / cv of air [-]

} // namespace clearstroke
