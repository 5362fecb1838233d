#include "models/flow_start.hpp"

#include <algorithm>
#include <array>

#include "models/restriction.hpp"
#include "models/tube_flow.hpp"
#include "tests/models/support.hpp"

namespace clearstroke {
namespace {

using test::close;

/// Zero of the Bessel function J0 in (low, low + pi), found by halving.
double zero_of_j0(double low) {
    double high = low + pi;
    const bool rises = std::cyl_bessel_j(0.0, low) < 0.0;
    for (int i = 0; i < 60; ++i) {
        const double middle = 0.5 * (low + high);
        ((std::cyl_bessel_j(0.0, middle) < 0.0) == rises ? low : high) = middle;
    }
    return low;
}

// Laminar flow that starts from rest under a constant drop lacks the share 32 sum exp(-z^2 nu t/r^2)/z^4 over the zeros z of J0
// (szymanski1932 [from memory]); over all time that is 32 r^2/nu sum 1/z^6.
TEST(FlowStart, IsExactForTheStartOfLaminarFlow) {
    const double bore = 3.3e-3, nu = 18e-6, rho = 1060.0, length = 2.0, dp = 1e5;
    double missing = 0.0;
    for (int n = 0; n < 12; ++n)
        missing += 32.0 * 0.25 * bore * bore / nu / std::pow(zero_of_j0(0.8 + n * pi), 6.0);
    const double flow = dp / laminar_resistance(nu * rho, length, bore);
    EXPECT_TRUE(close(starting_time(inertance(rho, length, bore), flow, dp), missing, 1e-6));
    EXPECT_TRUE(close(missing, bore * bore / (24.0 * nu), 1e-6));
}

/// An elastic volume under pressure that is let loose on a line with its seat: I dw/dt = p - a w - b w|w|, C dp/dt = -w.
struct Release {
    double inertia{}, compliance{}, pressure{};
    DropLaw law;
};

/// Passed volume [m^3] and flow [m^3/s] with inertance, passed volume of the quasi-steady law.
using Passed = std::array<double, 3>;

Passed rates(const Release& r, const Passed& y) {
    return {y[1], (r.pressure - y[0] / r.compliance - pressure_drop(r.law, y[1])) / r.inertia,
            volume_flow(r.law, r.pressure - y[2] / r.compliance)};
}

/// Classical Runge-Kutta step of the fourth order.
Passed stepped(const Release& r, const Passed& y, double dt) {
    const auto moved = [&y](const Passed& k, double by) {
        return Passed{y[0] + by * k[0], y[1] + by * k[1], y[2] + by * k[2]};
    };
    const Passed k1 = rates(r, y), k2 = rates(r, moved(k1, 0.5 * dt)), k3 = rates(r, moved(k2, 0.5 * dt)),
                 k4 = rates(r, moved(k3, dt));
    Passed out = y;
    for (std::size_t i = 0; i < y.size(); ++i) out[i] += dt / 6.0 * (k1[i] + 2.0 * (k2[i] + k3[i]) + k4[i]);
    return out;
}

/// What inertance changes: most by which it lags behind the quasi-steady law and by which it leads, what has passed in
/// the end [m^3], highest flow [m^3/s].
struct Change {
    double lags{}, leads{}, end{}, peak{};
};

Change change_by_inertance(const Release& r) {
    const double flow = volume_flow(r.law, r.pressure);
    const double lasts = std::max({r.inertia * flow / r.pressure, r.compliance * r.pressure / flow,
                                   0.5 * pi * std::sqrt(r.inertia * r.compliance)});
    constexpr int steps = 40000;
    Passed y{};
    Change out;
    for (int i = 0; i < steps; ++i) {
        y = stepped(r, y, 20.0 * lasts / steps);
        out.lags = std::max(out.lags, y[2] - y[0]);
        out.leads = std::max(out.leads, y[0] - y[2]);
        out.peak = std::max(out.peak, y[1]);
    }
    out.end = y[0];
    return out;
}

// 100 bar let loose on 2 m of 3.3 mm and a seat, behind volumes from stiff to soft: whatever rings, never is more than (U-2) too
// little or too much out, and no flow is higher than the quasi-steady one begins with.
TEST(FlowStart, BoundsTheReleaseOfAnElasticVolume) {
    const double inertia = inertance(1060.0, 2.0, 3.3e-3), dp = 100e5;
    for (const DropLaw law :
         {DropLaw{1.3e10, 1e12}, DropLaw{1.3e10, 1e15}, DropLaw{1e9, 1e15}, DropLaw{1e6, 1e15}})
        for (const double compliance : {1e-14, 1e-13, 5e-13, 5e-12}) {
            const double flow = volume_flow(law, dp), bound = starting_time(inertia, flow, dp) * flow;
            const Change c = change_by_inertance({inertia, compliance, dp, law});
            EXPECT_LE(c.lags, bound);
            EXPECT_LE(c.leads, bound);
            EXPECT_LE(c.peak, flow);
            EXPECT_NEAR(c.end, compliance * dp, bound);
        }
}

// By hand. Laminar: y'' + (R/I) y' + y/(I C) = 0 overshoots by C p exp(-pi R/(2 I w)), w^2 = 1/(I C) - (R/(2 I))^2. A seat alone:
// I/2 d(w^2)/dV = p - V/C - b w^2 comes to rest I/(2b) beyond C p, to exp(-2 b C p/I).
TEST(FlowStart, ReleaseOvershootsAsByHand) {
    const double inertia = 2.5e8, dp = 100e5;
    const double r = 1e10, soft = 5e-13, damping = 0.5 * r / inertia;
    const double frequency = std::sqrt(1.0 / (inertia * soft) - damping * damping);
    const Release laminar{inertia, soft, dp, {r, 0.0}};
    const double lasts = pi / frequency;
    Passed y{};
    for (int i = 0; i < 2000; ++i) y = stepped(laminar, y, lasts / 2000);
    EXPECT_TRUE(close(y[0] - soft * dp, soft * dp * std::exp(-damping * lasts), 1e-9));
    const Change seat = change_by_inertance({inertia, soft, dp, {1e-3, 1e15}});
    EXPECT_TRUE(close(seat.leads, 0.5 * inertia / 1e15, 1e-5));
}

// With a q + b q^2 and one inertance the missing volume is I/b ln((a + 2 b q)/(a + b q)): below the bound, and equal to it for b = 0.
TEST(FlowStart, BoundsTheStartBehindASeat) {
    const double inertia = 3e8, a = 1e10;
    for (const double b : {1e12, 1e14, 1e16}) {
        const double flow = 5e-5, dp = a * flow + b * flow * flow;
        const double missing = inertia / b * std::log1p(b * flow / (a + b * flow));
        const double bound = 0.75 * starting_time(inertia, flow, dp) * flow;
        EXPECT_LE(missing, bound);
        EXPECT_GT(missing, std::log(2.0) * bound);
    }
}

} // namespace
} // namespace clearstroke
