/// Rise of a small round bubble in a wide space: foam and fine bubbles in cavities and the reservoir.
///
/// With N = 4 rho drho g d^3 / (3 mu^2) and w = log10 N, Re = U d / nu:
///     N <= 73:    Re = N/24 - 1.7569e-4 N^2 + 6.9252e-7 N^3 - 2.3027e-10 N^4    (Stokes for N -> 0)
///     N <= 580:   log10 Re = -1.7095 + 1.33438 w - 0.11591 w^2
///     above:      log10 Re = -1.81391 + 1.34671 w - 0.12427 w^2 + 0.006344 w^3                        (S-1)
/// Positive upwards. Valid: d < 3 mm (round, Eo small), N < 1.55e7, surface held rigid by additives; a
/// clean bubble rises up to 1.5 times faster.
/// Source: clift1978 [secondary].
#pragma once

#include "models/fluid.hpp"

namespace clearstroke {

/// Rise speed [m/s] of a bubble of `diameter` [m], (S-1).
[[nodiscard]] double terminal_velocity(double diameter, const Liquid& liquid, double gas_density);

} // namespace clearstroke
