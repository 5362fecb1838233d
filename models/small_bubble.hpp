/// Rise of a small round bubble in a wide space: foam and fine bubbles in cavities and the reservoir.
///
/// With N = 4 rho drho g d^3 / (3 mu^2) and w = log10 N, Re = U d / nu:
///     N <= 73:    Re = N/24 - 1.7569e-4 N^2 + 6.9252e-7 N^3 - 2.3027e-10 N^4    (Stokes for N -> 0)
///     N <= 580:   log10 Re = -1.7095 + 1.33438 w - 0.11591 w^2
///     above:      log10 Re = -1.81391 + 1.34671 w - 0.12427 w^2 + 0.006344 w^3                        (S-1)
/// A bubble keeps its gas, so at the pressure p it has the diameter
///     d = d_a (p_a / p)^(1/3)                                                                         (S-2)
/// if d_a is that at p_a. Of bubbles stirred evenly through a cavity whose liquid stands H high on average the
/// share that has come to its top after the time t is
///     1 - exp(-U t / H)                                                                               (S-3)
/// Unstirred all would be up after H / U, when by (S-3) 63 % are.
/// Positive upwards. Valid: d < 3 mm (round, Eo small), N < 1.55e7, surface held rigid by additives; a
/// clean bubble rises up to 1.5 times faster. (S-3): shares of gas up to a tenth, above which bubbles hinder one another.
/// Source: clift1978 [secondary] for (S-1); (S-2) isothermal gas, (S-3) conservation (ours).
#pragma once

#include "models/fluid.hpp"

namespace clearstroke {

/// Rise speed [m/s] of a bubble of `diameter` [m], (S-1).
[[nodiscard]] double terminal_velocity(double diameter, const Liquid& liquid, double gas_density);

/// Diameter [m] at pressure `p` [Pa] of a bubble that has `diameter` [m] at `p_known` [Pa], (S-2).
[[nodiscard]] double diameter_at(double p, double diameter, double p_known);

/// Share [-] of the bubbles that reach the top in `time` [s], `mean_height` [m] as in (K-4), (S-3).
[[nodiscard]] double share_risen(double rise_speed, double mean_height, double time);

/// Gas share [-] of a stream above which its bubbles touch and join: what arrives is a plug (band 0.2 to 0.3).
/// Source: taitel1980 [from memory], bubbly to slug flow in upright pipes.
inline constexpr double densest_swarm = 0.25;

} // namespace clearstroke
