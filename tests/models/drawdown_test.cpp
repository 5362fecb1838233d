#include "models/drawdown.hpp"

#include <numbers>

#include <algorithm>

#include "tests/models/support.hpp"

namespace clearstroke {
namespace {

using test::close;

Opening in_wall(double solid_angle) { return {solid_angle, 3e-3, 0.0, 0.0}; }
const Liquid inviscid = test::make_liquid(1060.0, 1e-12, 0.035);

TEST(Drawdown, PointSinkHasTheKnownConstants) {
    const double q = 10e-6, unit = std::pow(q * q / standard_gravity, 0.2);
    EXPECT_TRUE(close(unit, 6.334e-3));
    EXPECT_TRUE(close(drawdown_reach(in_wall(2.0 * pi), q, inviscid) / unit, 0.688405));
    EXPECT_TRUE(close(drawdown_reach(in_wall(4.0 * pi), q, inviscid) / unit, 0.521713));
    EXPECT_TRUE(close(drawdown_reach(in_wall(pi), q, inviscid) / unit, 0.908356));
    EXPECT_TRUE(close(drawdown_reach(in_wall(0.5 * pi), q, inviscid) / unit, 1.198583));
    const double reach = drawdown_reach(in_wall(2.0 * pi), q, inviscid);
    EXPECT_TRUE(close(q / std::sqrt(standard_gravity * std::pow(reach, 5)), 2.54325));
}

// The same height from the maximum of the flow that a Bernoulli interface at depth z can carry, found by
// search.
TEST(Drawdown, PointSinkIsTheLargestFlowOfItsInterface) {
    const double reach = drawdown_reach(in_wall(pi), 5e-6, inviscid);
    double largest = 0.0;
    for (double z = 0.0; z < reach; z += reach * 1e-5) {
        largest = std::max(largest, pi * z * z * std::sqrt(2.0 * standard_gravity * (reach - z)));
    }
    EXPECT_TRUE(close(largest, 5e-6, 1e-6));
}

TEST(Drawdown, ViscousReachTakesOverInTheCold) {
    const Opening wide = in_wall(400.0); // so wide that inertia does not count
    EXPECT_TRUE(close(drawdown_reach(wide, 10e-6, test::reference_liquid(20.0)), 2.076e-3));
    EXPECT_TRUE(close(drawdown_reach(wide, 10e-6, test::reference_liquid(-10.0)), 3.053e-3));
}

// A gap of 2 mm seen under 180 degrees: inertial 9.55 and 4.28 mm; viscous 12.30, 57.5 and 3.69, 17.3 mm
// [derived].
TEST(Drawdown, ThinGapHasTheKnownReaches) {
    const Opening gap{pi, 3e-3, 2e-3, pi};
    const Liquid warm = test::reference_liquid(20.0), cold = test::reference_liquid(-10.0);
    EXPECT_TRUE(close(drawdown_reach(gap, 10e-6, inviscid), 9.55e-3));
    EXPECT_TRUE(close(drawdown_reach(gap, 3e-6, inviscid), 4.28e-3));
    EXPECT_TRUE(close(drawdown_reach(gap, 10e-6, warm), 12.30e-3));
    EXPECT_TRUE(close(drawdown_reach(gap, 10e-6, cold), 57.5e-3));
    EXPECT_TRUE(
        close(drawdown_reach(gap, 3e-6, warm), 4.28e-3)); // inertia governs, viscosity alone gives 3.69
    EXPECT_TRUE(close(drawdown_reach(gap, 3e-6, cold), 17.3e-3, 4e-3));
    EXPECT_TRUE(
        close(drawdown_reach({400.0, 3e-3, 2e-3, pi}, 3e-6, test::make_liquid(1060, 18.225e-6, 0.035), 1.0),
              4.28e-3));
}

TEST(Drawdown, WideGapIsAPointSink) {
    const Liquid l = test::reference_liquid(20.0);
    const double point = drawdown_reach(in_wall(pi), 10e-6, l);
    EXPECT_DOUBLE_EQ(drawdown_reach({pi, 3e-3, 30e-3, pi}, 10e-6, l), point);
    // inertial laws meet where the gap is as wide as 0.8 of the reach, the place of the narrowest section
    const double w = 1.0417 * drawdown_reach(in_wall(pi), 10e-6, inviscid);
    EXPECT_TRUE(close(drawdown_reach({pi, 3e-3, w, pi}, 10e-6, inviscid),
                      drawdown_reach(in_wall(pi), 10e-6, inviscid), 1e-3));
}

TEST(Drawdown, IsEvenInFlowScalesAndIsBounded) {
    const Liquid l = test::reference_liquid(20.0);
    const Opening gap{pi, 3e-3, 2e-3, pi};
    EXPECT_EQ(drawdown_reach(gap, 0.0, l), 0.0);
    EXPECT_EQ(drawdown_reach(gap, -5e-6, l), drawdown_reach(gap, 5e-6, l));
    EXPECT_TRUE(close(drawdown_reach(gap, 5e-6, l, 1.5), 1.5 * drawdown_reach(gap, 5e-6, l), 1e-14));
    EXPECT_EQ(drawdown_reach({pi, 3e-3, 1e-6, pi}, 5e-6, l), largest_reach);
    double before = 0.0;
    for (double q = 1e-9; q < 1e-4; q *= 1.1) {
        EXPECT_GE(drawdown_reach(gap, q, l), before);
        before = drawdown_reach(gap, q, l);
    }
}

TEST(GasShare, IsZeroAboveTheReachAndOneWellBelowIt) {
    EXPECT_EQ(gas_fraction_drawn(10e-3, 10e-3, 3e-3), 0.0);
    EXPECT_EQ(gas_fraction_drawn(4e-3, 10e-3, 3e-3), 1.0);
    EXPECT_NEAR(gas_fraction_drawn(7e-3, 10e-3, 3e-3), 0.5, 1e-12); // half way between 4 and 10
    double before = 1.0;
    for (double h = -5e-3; h < 12e-3; h += 1e-4) {
        EXPECT_LE(gas_fraction_drawn(h, 10e-3, 3e-3), before);
        before = gas_fraction_drawn(h, 10e-3, 3e-3);
    }
}

// Without flow an opening draws what stands in front of it: liquid if covered, gas if clear of it.
TEST(GasShare, WithoutFlowFollowsTheLevelOverTheHole) {
    EXPECT_EQ(gas_fraction_drawn(0.0, 0.0, 3e-3), 0.0);
    EXPECT_EQ(gas_fraction_drawn(1e-3, 0.0, 3e-3), 0.0);
    EXPECT_EQ(gas_fraction_drawn(-3e-3, 0.0, 3e-3), 1.0);
    EXPECT_NEAR(gas_fraction_drawn(-1.5e-3, 0.0, 3e-3), 0.5, 1e-12);
}

// Gravity is a constant of the law: homogeneous in units with L = T^2 (below the bound, which is a length).
TEST(DrawdownProperty, IsDimensionallyHomogeneous) {
    test::Sampler s(8u);
    for (int k = 0; k < 200; ++k) {
        const double t = s(0.5, 1.2), l = t * t;
        const Opening a{s(0.5, 12.0), 3e-3, s(2e-3, 5e-3), s(1.0, 6.0)},
            b{a.solid_angle, a.diameter * l, a.gap_width * l, a.gap_angle};
        const double q = s(1e-8, 1e-5), nu = s(1e-6, 5e-5);
        const double reach = drawdown_reach(a, q, test::make_liquid(1000.0, nu, 0.03));
        ASSERT_LT(reach * 1.44, largest_reach);
        EXPECT_TRUE(
            close(drawdown_reach(b, q * l * l * l / t, test::make_liquid(1000.0, nu * l * l / t, 0.03)),
                  reach * l, 1e-12));
    }
}

// (D-7): 0.1 mL of gas under 10 mL/s, of which 0.5 mL passes in t_g, is at most a fifth of it.
TEST(Gathering, LimitsTheShareOfTheLastGas) {
    EXPECT_DOUBLE_EQ(largest_gas_share(1e-7, 1e-5), 0.2);
    EXPECT_DOUBLE_EQ(largest_gas_share(1e-6, 1e-5), 1.0);
    EXPECT_DOUBLE_EQ(largest_gas_share(0.0, 1e-5), 0.0);
    EXPECT_DOUBLE_EQ(largest_gas_share(0.0, 0.0), 1.0); // no flow, no limit
}

// 10 mL/s reach for 0.5 mL in t_g: enough of both, too little of one, too little of both.
TEST(Gathering, GasAndLiquidThatDoNotKeepUpLeaveAsTheyAreThere) {
    EXPECT_DOUBLE_EQ(gathered_gas_share(0.3, 1e-6, 1e-6, 1e-5), 0.3);
    EXPECT_DOUBLE_EQ(gathered_gas_share(0.3, 1e-7, 1e-6, 1e-5), 0.2);
    EXPECT_DOUBLE_EQ(gathered_gas_share(0.3, 1e-6, 1e-7, 1e-5), 0.8);
    EXPECT_DOUBLE_EQ(gathered_gas_share(0.3, 1e-7, 3e-7, 1e-5), 0.25);
    EXPECT_DOUBLE_EQ(gathered_gas_share(0.3, 1e-7, 4.1e-7, 1e-5), 0.2); // 0.82 of liquid keeps up
    EXPECT_DOUBLE_EQ(gathered_gas_share(0.3, 1e-7, 3.9e-7, 1e-5), 0.2 / 0.98);
    EXPECT_NEAR(gathered_gas_share(0.3, 1e-7, (1.0 - 1e-9) * 4e-7, 1e-5),
                gathered_gas_share(0.3, 1e-7, 4e-7, 1e-5), 1e-9); // no step between both rules
    EXPECT_LT(gathered_gas_share(1.0, 1e-15, 1e-7, 1e-5),
              1e-7); // the last gas does not leave faster and faster
}

} // namespace
} // namespace clearstroke
