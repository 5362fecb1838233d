/// A small bubble that clings to a wall: what flow, or its own lift, tears it off.
///
/// Drag of a stream with the wall stress tau on a round bubble of diameter d that touches the wall:
///     F_d = 1.7009 * 3 pi tau d^2 / 2                                                                 (W-1)
/// and what its foot on the wall bears, with the grip g = (width of the foot / d) (cos receding - cos advancing angle):
///     F_r = 24 / pi^3 sigma g d                                                                       (W-2)
/// so that it comes off at the stress
///     tau_c = 16 sigma g / (1.7009 pi^4 d)                                                            (W-3)
/// and by its own lift where it is larger than
///     d_l = sqrt(144 sigma g / (pi^4 drho g_0))                                                       (W-4)
/// Mean flow q through a cavity of breadth b and depth w, the smaller of the two taken as the gap, makes
///     tau = 6 mu q / (b w^2)                                                                          (W-5)
/// Valid: Reynolds number of the bubble, rho (tau/mu) d^2 / (4 mu), below 1; surface held rigid by additives (a clean
/// bubble feels less drag and stays longer); (W-5) order of magnitude: more stands beside the openings. The grip has
/// never been measured for these fluids on seals and castings: 0.07, band 0.02 to 0.25.
/// Source: (W-1) oneill1968 [from memory, factor]; (W-2) elsherbini2006 [from memory]; (W-3), (W-4) derived (ours);
/// (W-5) plane channel, white2011 ch. 4 [from memory]; grip ours.
#pragma once

#include "models/fluid.hpp"

namespace clearstroke {

/// Wall stress [Pa] that tears off a bubble of `diameter` [m] > 0; `grip` [-] >= 0, (W-3).
[[nodiscard]] double detaching_stress(double diameter, double grip, double surface_tension);

/// Largest diameter [m] of a bubble that stays on a wall without flow, (W-4).
[[nodiscard]] double largest_clinging(double grip, const Liquid&);

/// Wall stress [Pa] of `flow` [m^3/s] through a cavity, `breadth` and `depth` [m] > 0, (W-5).
[[nodiscard]] double wall_stress(double flow, double breadth, double depth, double dynamic_viscosity);

} // namespace clearstroke
