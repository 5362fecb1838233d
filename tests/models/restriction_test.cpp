#include "models/restriction.hpp"

#include <algorithm>

#include "models/gas.hpp"
#include "models/tube_flow.hpp"
#include "tests/models/support.hpp"

namespace clearstroke {
namespace {

using test::close;

TEST(Restriction, HasTheKnownConstantsAndFlows) {
    const Liquid l = test::reference_liquid(20.0);
    const DropLaw law = drop_law(Restriction{0.5e-3, 0.0, 0.61}, l.density, l.dynamic_viscosity);
    EXPECT_TRUE(close(law.a, 4.63644e8));
    EXPECT_TRUE(close(law.b, 2.30907e15));
    EXPECT_TRUE(close(volume_flow(law, 10.0), 1.96461e-8));
    EXPECT_TRUE(close(volume_flow(law, 1e3), 5.65302e-7));
    EXPECT_TRUE(close(volume_flow(law, 1e5), 6.48122e-6));
}

TEST(Restriction, TendsToCreepAndToTheOrificeLaw) {
    const Liquid l = test::reference_liquid(20.0);
    const Restriction hole{0.5e-3, 0.0, 0.61};
    const DropLaw law = drop_law(hole, l.density, l.dynamic_viscosity);
    const double creep = std::pow(hole.radius, 3) / (3.0 * l.dynamic_viscosity);
    EXPECT_TRUE(close(volume_flow(law, 1e-8) / 1e-8, creep, 1e-9));
    const double area = pi * hole.radius * hole.radius;
    EXPECT_TRUE(close(volume_flow(law, 1e12), 0.61 * area * std::sqrt(2e12 / l.density), 1e-4));
    EXPECT_TRUE(close(std::sqrt(1e5 / law.b), 6.58085e-6)); // pure orifice at 1 bar
}

TEST(Restriction, IsInverseOddSteadyAndSlopedAsItSays) {
    test::Sampler s(3u);
    for (int k = 0; k < 300; ++k) {
        const DropLaw law{s(1e5, 1e12), s(1e8, 1e18)};
        const double dp = s(1e-9, 1e8), q = volume_flow(law, dp);
        EXPECT_TRUE(close(pressure_drop(law, q), dp, 1e-13));
        EXPECT_DOUBLE_EQ(volume_flow(law, -dp), -q);
        const double h = 1e-4 * dp, slope = (volume_flow(law, dp + h) - volume_flow(law, dp - h)) / (2.0 * h);
        EXPECT_TRUE(close(flow_slope(law, q), slope, 1e-7));
        EXPECT_DOUBLE_EQ(flow_slope(law, q), flow_slope(law, -q));
    }
    EXPECT_EQ(volume_flow({1e8, 1e15}, 0.0), 0.0);
    EXPECT_DOUBLE_EQ(flow_slope({1e8, 1e15}, 0.0), 1e-8);
}

TEST(Restriction, AreaFormIsTheRoundHole) {
    const double r = 0.75e-3;
    const DropLaw hole = drop_law(Restriction{r, 10e-3, 0.61}, 1060.0, 0.02);
    const DropLaw area = drop_law(pi * r * r, 10e-3, 2.0 * r, 0.61, 1060.0, 0.02);
    EXPECT_TRUE(close(hole.a, area.a, 1e-14));
    EXPECT_TRUE(close(hole.b, area.b, 1e-14));
    // the drilling is a laminar tube
    const double creep = drop_law(Restriction{r, 0.0, 0.61}, 1060.0, 0.02).a;
    EXPECT_TRUE(close(hole.a - creep, laminar_resistance(0.02, 10e-3, 2.0 * r), 1e-12));
}

// 2 m of 3.3 mm line under 0.5 m of head, alone and with a hole of 1.5 mm, 10 mm long, whose creep term is
// left out as in the independent calculation; the same path under other drives [derived].
TEST(Restriction, LimitsAGravityBleed) {
    const auto flow = [](double celsius, double dp, bool hole) {
        const Liquid l = test::reference_liquid(celsius);
        const double area = circle_area(1.5e-3), line = laminar_resistance(l.dynamic_viscosity, 2.0, 3.3e-3);
        if (!hole) return dp / line;
        const double drill = laminar_resistance(l.dynamic_viscosity, 10e-3, 1.5e-3);
        return volume_flow({line + drill, drop_law(area, 0.0, 1e-3, 0.61, l.density, l.dynamic_viscosity).b},
                           dp);
    };
    const double head_20 = test::reference_liquid(20.0).density * standard_gravity * 0.5;
    const double head_m10 = test::reference_liquid(-10.0).density * standard_gravity * 0.5;
    EXPECT_TRUE(close(flow(20.0, head_20, false), 0.3916e-6));
    EXPECT_TRUE(close(flow(20.0, head_20, true), 0.3468e-6));
    EXPECT_TRUE(close(flow(-10.0, head_m10, true), 0.07496e-6));
    EXPECT_TRUE(close(flow(20.0, 1e5, true), 5.733e-6));
    EXPECT_TRUE(close(flow(20.0, 0.8e5, true), 4.712e-6));
    EXPECT_TRUE(close(flow(20.0, 20e5, true), 51.9e-6));
    EXPECT_TRUE(close(flow(20.0, standard_atmosphere, false), 7.63e-6)); // the most a line can give back
    EXPECT_TRUE(close(flow(-10.0, standard_atmosphere, false), 1.60e-6, 3e-3));
}

// Mass flow through a sonic throat: 0.6847 p A / sqrt(R T) for gamma 1.4, exact to the digits shown.
TEST(ChokedGas, HasTheSonicMassFlow) {
    const double t = 293.15, p = 3e5, area = 1e-6;
    const double mass = choked_gas_flow_limit(area, 1.0, t) * air_density(p, t);
    EXPECT_NEAR(mass * std::sqrt(air_gas_constant * t) / (p * area), 0.6847, 5e-5);
    EXPECT_DOUBLE_EQ(choked_gas_flow_limit(area, 0.6, t), 0.6 * choked_gas_flow_limit(area, 1.0, t));
}

// The smaller of the orifice law with upstream density and the choked limit, against isentropic nozzle flow.
TEST(ChokedGas, WithTheOrificeLawIsWithinSixteenPercent) {
    const double t = 293.15, p = 3e5, area = 1e-6, gamma = air_heat_ratio;
    const double limit = choked_gas_flow_limit(area, 1.0, t), speed = std::sqrt(air_gas_constant * t);
    const double critical = std::pow(2.0 / (gamma + 1.0), gamma / (gamma - 1.0));
    double worst = 0.0;
    for (double ratio = 0.02; ratio < 1.0; ratio += 0.02) {
        const double r = std::max(ratio, critical);
        const double exact = area * speed *
                             std::sqrt(2.0 * gamma / (gamma - 1.0) *
                                       (std::pow(r, 2.0 / gamma) - std::pow(r, 1.0 + 1.0 / gamma)));
        const double orifice = area * std::sqrt(2.0 * (1.0 - ratio) * p / air_density(p, t));
        const double error = std::min(orifice, limit) / exact - 1.0;
        EXPECT_GE(error, -1e-9);
        worst = std::max(worst, error);
    }
    EXPECT_LT(worst, 0.16);
    EXPECT_GT(worst, 0.14); // the law is no better than the header says
}

TEST(RestrictionProperty, IsDimensionallyHomogeneous) {
    test::Sampler s(4u);
    for (int k = 0; k < 200; ++k) {
        const double l = s(1e-3, 1e3), m = s(1e-3, 1e3), t = s(1e-3, 1e3), p = m / (l * t * t);
        const Restriction a{s(1e-4, 1e-2), s(1e-3, 1e-1), 0.7}, b{a.radius * l, a.length * l, 0.7};
        const double dp = s(1e-2, 1e7), rho = s(1.0, 2e3), mu = s(1e-5, 1.0);
        const double scaled = volume_flow(drop_law(b, rho * m / (l * l * l), mu * p * t), dp * p);
        EXPECT_TRUE(close(scaled, volume_flow(drop_law(a, rho, mu), dp) * l * l * l / t, 1e-12))
            << "case " << k;
    }
}

} // namespace
} // namespace clearstroke
