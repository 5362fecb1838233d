/// Air in solution that comes out below ambient pressure.
///
/// A liquid that has stood open to the air holds, per volume and as free air,
///     S p_a / p_0                                                                                    
/// in solution (Henry's law; p_0 one standard atmosphere), of which it can keep S p / p_0 at the pressure p. What is too much
/// comes out with the time constant t_s:
///     dN/dt = (S (p_a - p) L / p_0 - G) / t_s, where that is positive                                
/// L: liquid; G: what that liquid has given up before. In solution air takes no room.
/// Valid: below ambient pressure. What has come out is not taken back: a bubble of radius r needs r^2 / (2 D S) for it even in
/// fluid without any air, D 2e-10 m^2/s: 3.5 hours for 0.5 mm. t_s stands for nuclei that nobody has counted: 30 s, band 3 s to 300 s.
/// Source: saej1705 app. A [secondary] for S of glycol and silicone fluids; Henry; ours; the time to dissolve
/// epstein1950 [from memory].
#pragma once

#include <algorithm>
#include <cmath>

#include "models/constants.hpp"

namespace clearstroke {

/// Free air [m^3] per volume of liquid that is too much at pressure `p` for liquid saturated at `ambient` [Pa], (A-1).
[[nodiscard]] constexpr double oversaturation(double solubility, double p, double ambient) {
    return solubility * std::max(ambient - p, 0.0) / standard_atmosphere;
}

/// Free air [m^3] that comes out in `time` [s] when `excess` [m^3] is too much at its start, (A-2).
[[nodiscard]] inline double comes_out(double excess, double time, double time_constant) {
    return -std::max(excess, 0.0) * std::expm1(-time / time_constant);
}

} // namespace clearstroke
