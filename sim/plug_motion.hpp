#pragma once
/// How the gas of a cell passes through the liquid it stands between: pushed ahead of it, and rising by itself.
///
/// A plug whose middle is at V [m^3 of line] moves, with the flow q of contents through the cell, by
///     dV/dt = q + w,   w = (C0(q) - 1) q + A U_rise sign(s) sqrt|s| (1 + sqrt(1 - s^2))                 (N-8)
/// s: sine of the slope between its two ends, that of a bore's length for a shorter one. So s goes to 0 as a plug
/// straddles a high spot, and where it comes to rest there it stays: w = -q.
/// Integrated in steps by the midpoint rule in which the plug moves by at most an eighth of itself or of a bore.
/// Sign: towards `to` positive. Valid: plugs that fill the bore, q constant meanwhile. Source: laws of
/// models/long_bubble.hpp; the slope under a plug ours (what its buoyancy gains per length).
#include "sim/columns.hpp"

namespace clearstroke {

class PlugMotion {
public:
    /// `run_ahead_scale` as in Conditions. The line and the liquid must outlive this.
    PlugMotion(const Cell&, const Columns&, const LineLayout&, const Liquid&, double run_ahead_scale);

    /// w [m^3/s] where the plug stands, at the flow q [m^3/s].
    [[nodiscard]] double speed(double flow) const { return pushed(flow) + rising(0.0); }
    /// What passes the plug towards `from`, and it so towards `to`, in a time `dt` [s]: the integral of w [m^3].
    [[nodiscard]] double advance(double flow, double dt) const;

private:
    const LineLayout& line_;
    const Liquid& liquid_;
    int begin_, end_;
    double content_, middle_, half_, scale_;

    [[nodiscard]] double pushed(double flow) const;
    [[nodiscard]] double rising(double moved) const; // when its middle has moved by this
    [[nodiscard]] double slope_under(double moved) const;
    [[nodiscard]] double place_of_rest(double drift, double from, double to) const;
};

} // namespace clearstroke
