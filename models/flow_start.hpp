/// How long a liquid takes to get going when a pressure is let loose on it: what a quasi-steady law leaves out.
///
/// Lines in a row with the summed inertance I (T-9), friction that grows with the flow, a constant drop dp that would
/// keep up the flow q: the flow that is missing falls no slower than with the time
///     t_s = 4/3 I q / dp                                                                              (U-1)
/// and in all no more passes too little than
///     V_s = t_s q                                                                                     (U-2)
/// Exact for (U-2) in a laminar tube alone: 4/3 I/R = D^2 / (24 nu), the profile needing a third longer than its mean;
/// with a seat behind it, or turbulent, less.
/// Where the drop is not kept up but stored in an elastic volume, momentum lets more pass in the end: no more than V_s too
/// much either (searched, not proven).
/// Valid: rigid lines full of liquid; waves (1.6 ms over 2 m) left out too.
/// Source: derived (ours) from the start of laminar flow, szymanski1932 [from memory].
#pragma once

namespace clearstroke {

/// (U-1) [s]; `inertance` [kg/m^4], `flow` [m^3/s] that `drop` [Pa] > 0 keeps up.
[[nodiscard]] constexpr double starting_time(double inertance, double flow, double drop) {
    return 4.0 / 3.0 * inertance * flow / drop;
}

} // namespace clearstroke
