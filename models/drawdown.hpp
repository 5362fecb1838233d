/// Does an opening that lies below the gas draw gas? How far the suction of an opening reaches up, and the
/// gas share of what it draws when the gas stands within that reach.
///
/// Point sink of solid angle W (flush in a wall 2 pi, in a corner pi):
///     h = (0.16384 W^2)^(-1/5) (q^2/g)^(1/5)                                    inertia               (D-1)
///     h = (nu q / g)^(1/4)                                                      viscosity             (D-2)
/// Thin gap of width w seen under the angle th (behind a retracted piston; th pi at the edge, 2 pi in the
/// middle):
///     h = [27 q^2 / (8 g w^2 th^2)]^(1/3)                                       inertia               (D-3)
///     h = 12 nu q ln(4) / (g w^3 th)                                            viscosity             (D-4)
/// reach = scale * max of the four, at most 0.25 m (larger than any cavity; keeps a vanishing gap finite)
/// (D-5) Gas share at height h of liquid above the top of the opening, diameter d:
///     1 - smoothstep((h - h2)/(h1 - h2)),  h1 = reach,  h2 = min(0.4 reach, reach - d)                (D-6)
/// and no more than gathers at the opening in time, for a gas volume V_g and flow q:
///     V_g / (q t_g),  t_g = 0.05 s                                                              (D-7)
/// likewise the liquid's share, by its volume; where both bounds together are below 1, the shares are as the volumes.
/// t_g is the rise of a millimetre bubble (0.2 m/s) over 10 mm. By (D-6) a covered opening without flow draws
/// liquid only and one that is clear of it gas only; the same curve gives the liquid carried along by a gas
/// flow. A thin gap turns into a point sink where w = reach if th = W.
/// Valid: order of magnitude; band on scale 0.5 to 1.5. The 4 in (D-4) is the distance ratio of the far
/// pocket to the opening (band 2 to 8).
/// Source: (D-1) derived (ours), agrees with craya1949 and lubin1967 [from memory, constant]; (D-2)
/// lister1989 [from memory], unit prefactor ours; (D-3), (D-4), (D-7) derived (ours), never measured;
/// (D-6) ours, after smoglie1987 [from memory].
#pragma once

#include <algorithm>

#include "models/fluid.hpp"

namespace clearstroke {

inline constexpr double largest_reach = 0.25; ///< bound of (D-5) [m]

/// How an opening sits in its cavity.
struct Opening {
    double solid_angle{}; ///< W   angle from which liquid comes        [sr]  > 0
    double diameter{};    ///< d   diameter of the hole                 [m]   > 0
    double gap_width{};   ///< w   width of a thin gap it opens into    [m]   > 0 if there is one
    double gap_angle{};   ///< th  angle of the gap around it, 0 = none [rad] >= 0
};

/// Height [m] over which the suction of `flow` [m^3/s] reaches, (D-1) to (D-5).
[[nodiscard]] double drawdown_reach(const Opening&, double flow, const Liquid&, double scale = 1.0);

/// Gas share [-] of the volume drawn; `depth` is how far [m] the top of the hole lies below the gas, (D-6).
[[nodiscard]] inline double gas_fraction_drawn(double depth, double reach, double diameter) {
    const double low = 0.4 * reach < reach - diameter ? 0.4 * reach : reach - diameter;
    const double t = (depth - low) / (reach - low);
    if (t <= 0.0) return 1.0;
    if (t >= 1.0) return 0.0;
    return 1.0 - t * t * (3.0 - 2.0 * t);
}

inline constexpr double gathering_time = 0.05; ///< t_g of (D-7) [s]

/// Largest gas share [-] of `flow` [m^3/s] that gas of volume `gas` [m^3] in the cavity keeps up, (D-7).
[[nodiscard]] inline double largest_gas_share(double gas, double flow) {
    return gas < flow * gathering_time ? gas / (flow * gathering_time) : 1.0;
}

/// Gas share of `flow` [m^3/s] of which an opening draws the share `drawn` where it finds enough, with the volumes `gas` and
/// `liquid` [m^3] in the cavity, by (D-7) for both; where neither keeps up, the flow takes both as they are there.
[[nodiscard]] inline double gathered_gas_share(double drawn, double gas, double liquid, double flow) {
    const double most = largest_gas_share(gas, flow), of_liquid = largest_gas_share(liquid, flow);
    if (most + of_liquid < 1.0) return most > 0.0 ? most / (most + of_liquid) : 0.0;
    return std::max(std::min(drawn, most), 1.0 - of_liquid);
}

} // namespace clearstroke
