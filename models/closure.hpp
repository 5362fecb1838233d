#pragma once
/// Pressure of a volume from what it holds.
///
/// Capacity equals contents:
///     V_0 + V_el(e) = L (1 - e / (K + m e)) + N (p_0 / p) tau,     e = p - p_ambient            (C-1)
/// L: liquid at ambient pressure [m^3]; N: gas as free air [m^3 at p_0 = 101 325 Pa and the
/// scenario's temperature]; K: bulk modulus, m = (K' + 1) / 2 with K' = dK/dp; tau: gas temperature
/// over the scenario's, 1 when isothermal, theta (p / p_0)^kappa when theta is kept (adiabatic,
/// kappa = (gamma - 1) / gamma).
/// Below the vapour pressure p_v of the liquid a void opens instead of tension:
///     p = p_v / (1 + V_void / V_s),  V_s = 50 mL                                                 (C-2)
/// the slope (about 1 Pa per mL) only keeps the law invertible. No other clamp; the void is no air and
/// collapses.
/// Sign: p grows with L and with N. Valid: |e| < K / 10. Source: conservation; the second-order
/// compression law is Murnaghan's to that order [from memory], straight beyond K/10; (C-2) ours.
#include <algorithm>
#include <cmath>

#include "models/constants.hpp"
#include "models/elastic.hpp"
#include "models/fluid.hpp"

namespace clearstroke {

/// What a volume is filled with and how it is told to treat its gas.
struct Filling {
    double liquid{}; ///< L [m^3] at ambient pressure
    double gas{};    ///< N [m^3] free air
    double theta{};  ///< potential temperature ratio of the gas [-]; 0: isothermal
};

/// Constants of (C-1) that all volumes of a circuit share.
struct Medium {
    double ambient{standard_atmosphere}; ///< [Pa]
    double bulk_modulus{1.9e9};          ///< K [Pa]
    double stiffening{5.5};              ///< m [-]
    double vapour_pressure{50.0};        ///< p_v [Pa]
};
[[nodiscard]] Medium medium_of(const Liquid&, double ambient_pressure);

/// Pressure and its slopes; `softness` is -d(contents - capacity)/dp, the compliance of the volume.
struct Pressure {
    double p{};          ///< [Pa]
    double per_liquid{}; ///< dp/dL [Pa/m^3]
    double per_gas{};    ///< dp/dN [Pa/m^3]
    double softness{};   ///< [m^3/Pa]
    double gas_volume{}; ///< of the gas at p [m^3]
    bool void_open{};    ///< a vapour void stands in the volume
};

/// What a volume gives at least, where neither liquid nor walls do [m^3/Pa].
inline constexpr double least_softness = 1e-20;

/// Liquid alone in walls of constant compliance c: (C-1) is the quadratic
///     c m e^2 + (L + c K - (L - V_0) m) e - (L - V_0) K = 0;
/// its root, the gauge pressure e [Pa], is the pressure's where in_range.
[[nodiscard]] inline double gauge_of_liquid(double liquid, double capacity, double compliance,
                                            const Medium& m) {
    const double k = m.bulk_modulus, excess = liquid - capacity;
    const double a = compliance * m.stiffening, b = liquid + compliance * k - excess * m.stiffening,
                 d = excess * k;
    return 2.0 * d / (b + std::sqrt(std::max(b * b + 4.0 * a * d, 0.0)));
}

/// Whether that root lies within the laws' range.
[[nodiscard]] inline bool in_range(double gauge, const Medium& m) {
    return m.ambient + gauge >= m.vapour_pressure && std::abs(gauge) <= 0.1 * m.bulk_modulus;
}

/// Pressure and slopes at that root.
[[nodiscard]] inline Pressure liquid_at(double gauge, double liquid, double compliance, const Medium& m) {
    const double k = m.bulk_modulus, p = m.ambient + gauge, stiff = k + m.stiffening * gauge,
                 softness = std::max(liquid * k / (stiff * stiff) + compliance, least_softness);
    return {p, (1.0 - gauge / stiff) / softness, standard_atmosphere / (p * softness), softness, 0.0, false};
}

/// Solves (C-1), (C-2) for p. `capacity` is V_0 > 0; `guess` a pressure > 0 to start from.
[[nodiscard]] Pressure pressure_of(const Filling&, double capacity, const ElasticLaw&, double play_memory,
                                   const Medium&, double guess);

/// Liquid that fills what gas leaves of a volume at pressure p: inverse of (C-1) for L.
[[nodiscard]] double liquid_to_fill(double gas, double capacity, const ElasticLaw&, double play_memory,
                                    const Medium&, double p);

inline constexpr double theta_exponent = (air_heat_ratio - 1.0) / air_heat_ratio; ///< of p in theta [-]

/// theta of gas at p [Pa] that has the temperature of the walls.
[[nodiscard]] inline double theta_at_wall(double p) {
    return std::pow(p / standard_atmosphere, -theta_exponent);
}

/// Volume of `gas` (free air) at p [m^3]; theta as in Filling.
[[nodiscard]] double gas_volume_at(double gas, double theta, double p);

} // namespace clearstroke
