#include "models/flow_start.hpp"

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
