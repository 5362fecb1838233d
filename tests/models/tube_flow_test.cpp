#include "models/tube_flow.hpp"

#include "tests/models/support.hpp"

namespace clearstroke {
namespace {

using test::close;

TEST(LaminarTube, HasItsResistance) {
    EXPECT_TRUE(close(laminar_resistance(0.02, 1.0, 3e-3) * 1e-6, 10060.2));
    const double mu = test::reference_liquid(20.0).dynamic_viscosity;
    EXPECT_TRUE(close(laminar_resistance(mu, 2.0, 3.3e-3), 1.32742e10));
    EXPECT_TRUE(close(laminar_resistance(mu, 2.0, 3.3e-3) * 10e-6, 132742.0));
}

// Resistance per metre at 20 and -10 degC over the usual bores.
TEST(LaminarTube, HasItsResistancePerMetre) {
    const double warm = test::reference_liquid(20.0).dynamic_viscosity;
    const double cold = test::reference_liquid(-10.0).dynamic_viscosity;
    struct Row {
        double bore, warm, cold;
    };
    for (const Row& r :
         {Row{2.5e-3, 2.015e10, 9.628e10}, Row{3.2e-3, 7.506e9, 3.587e10}, Row{3.3e-3, 6.637e9, 3.171e10},
          Row{4.0e-3, 3.075e9, 1.469e10}, Row{4.6e-3, 1.758e9, 8.400e9}}) {
        EXPECT_TRUE(close(laminar_resistance(warm, 1.0, r.bore), r.warm));
        EXPECT_TRUE(close(laminar_resistance(cold, 1.0, r.bore), r.cold));
    }
}

TEST(LaminarTube, AgreesWithTheFrictionFactor) {
    test::Sampler s(1u);
    for (int k = 0; k < 100; ++k) {
        const double bore = s(1e-3, 1e-1), length = s(0.1, 10.0), rho = s(1.0, 2e3), nu = s(1e-6, 1e-3);
        const double flow = s(1.0, 2300.0) * pi * bore * nu / 4.0, speed = flow / circle_area(bore);
        const double re = reynolds_number(-flow, bore, nu);
        const double dp = friction_factor(re, 0.01) * length / bore * rho * speed * speed / 2.0;
        EXPECT_TRUE(close(laminar_resistance(rho * nu, length, bore) * flow, dp, 1e-12));
    }
}

TEST(Friction, HasItsKnownValues) {
    EXPECT_TRUE(close(friction_factor_colebrook(1e5, 1e-4), 0.0185139));
    EXPECT_TRUE(close(friction_factor_colebrook(1e5, 0.0), 0.0179898));
    EXPECT_TRUE(close(friction_factor_colebrook(4e4, 0.01), 0.0393632));
    EXPECT_TRUE(close(friction_factor_haaland(1e5, 1e-4), 0.0182651));
    EXPECT_TRUE(close(friction_factor_haaland(1e5, 0.0), 0.0178249));
    EXPECT_TRUE(close(friction_factor_haaland(4e4, 0.01), 0.0393511));
    EXPECT_TRUE(close(friction_factor_blasius(1e4), 0.031640));
    EXPECT_TRUE(close(friction_factor_blasius(4000.0), 0.039785));
    EXPECT_TRUE(close(friction_factor(2300.0, 0.0), 0.027826));
}

TEST(Friction, ColebrookSolvesItsEquation) {
    for (double re : {3e3, 1e4, 1e6, 1e8}) {
        for (double e : {0.0, 1e-5, 1e-3, 5e-2}) {
            const double f = friction_factor_colebrook(re, e), root = std::sqrt(f);
            EXPECT_NEAR(1.0 / root + 2.0 * std::log10(e / 3.7 + 2.51 / (re * root)), 0.0, 1e-12);
        }
    }
}

// The pressure drop f Re^2 and its slope are continuous at both ends of the blend, and it always rises.
TEST(Friction, PressureDropIsSmoothAndRising) {
    for (double e : {0.0, 1e-4, 1e-3, 1e-2, 5e-2}) {
        const auto drop = [e](double re) { return friction_factor(re, e) * re * re; };
        const auto slope = [&](double re, double side) {
            return (drop(re + side * 1e-3) - drop(re)) / (side * 1e-3);
        };
        for (double re : {laminar_limit, turbulent_limit}) {
            EXPECT_TRUE(close(drop(re * (1.0 + 1e-12)), drop(re * (1.0 - 1e-12)), 1e-9)) << re;
            EXPECT_TRUE(close(slope(re, 1.0), slope(re, -1.0), 1e-4)) << re;
        }
        for (double re = 2000.0; re < 5000.0; re += 10.0) EXPECT_GT(drop(re + 10.0), drop(re)) << re;
    }
}

TEST(Friction, NeverFallsBelowLaminar) {
    EXPECT_EQ(turbulence_factor(0.0, 0.0), 1.0);
    EXPECT_EQ(turbulence_factor(2300.0, 0.01), 1.0);
    double before = 1.0;
    for (double re = 2300.0; re < 2e5; re *= 1.005) {
        const double factor = turbulence_factor(re, 0.0);
        EXPECT_GE(factor, before);
        before = factor;
    }
}

TEST(TubeWall, StoresAndSlowsWaves) {
    const double wall = tube_wall_compliance(1.675e-3, 2.375e-3, 207e9, 0.29);
    EXPECT_TRUE(close(wall, 3.1587e-11));
    const double c = wave_speed(1060.0, 1.8e9, wall);
    EXPECT_TRUE(close(c, 1267.6));
    EXPECT_TRUE(close(1060.0 * c, 1.3436e6)); // pressure of 1 m/s stopped
    EXPECT_TRUE(close(c / 8.0, 158.4));       // first closed-open mode of 2 m
    // 2 m at 100 bar, 17.63 mL inside
    EXPECT_TRUE(close(wall * 2.0 * circle_area(3.35e-3) * 1e7, 5.57e-9));
    EXPECT_TRUE(close(1.0 / (1.0 / 1.8e9 + wall + 1e-3 / 1e6), 6.3006e8)); // series with 0.1 % gas at 1 MPa
}

// Dilation per metre, volume per metre of usual tubes [derived; E 200 GPa, 0.3].
TEST(TubeWall, DilatesAsTheTubesOfTheTrade) {
    struct Row {
        double outer, wall, volume, dilation;
    };
    for (const Row& r :
         {Row{4.7625e-3, 0.7112e-3, 8.76e-6, 0.000284}, Row{6.35e-3, 0.7112e-3, 19.07e-6, 0.000825},
          Row{7.9375e-3, 0.7112e-3, 33.34e-6, 0.00181}, Row{4.75e-3, 0.9e-3, 6.83e-6, 0.000175},
          Row{6.0e-3, 0.7e-3, 16.62e-6, 0.00069}}) {
        const double bore = r.outer - 2.0 * r.wall, area = circle_area(bore);
        EXPECT_TRUE(close(area, r.volume));
        EXPECT_TRUE(close(area * tube_wall_compliance(bore / 2.0, r.outer / 2.0, 200e9, 0.3) * 1e12,
                          r.dilation, 5e-3));
    }
}

TEST(Inertance, GivesTheKnownTimeConstants) {
    const Liquid warm = test::reference_liquid(20.0), cold = test::reference_liquid(-10.0);
    EXPECT_TRUE(close(inertance(warm.density, 2.0, 3.3e-3), 2.479e8));
    EXPECT_TRUE(close(inertance(cold.density, 2.0, 3.3e-3), 2.534e8));
    const double ratio =
        inertance(warm.density, 2.0, 3.3e-3) / laminar_resistance(warm.dynamic_viscosity, 2.0, 3.3e-3);
    EXPECT_TRUE(close(ratio, 3.3e-3 * 3.3e-3 / (32.0 * warm.kinematic_viscosity), 1e-12));
    EXPECT_TRUE(close(ratio, 18.7e-3, 2e-3));
}

TEST(TubeFlowProperty, IsDimensionallyHomogeneous) {
    test::Sampler s(2u);
    for (int k = 0; k < 100; ++k) {
        const double l = s(1e-3, 1e3), m = s(1e-3, 1e3), t = s(1e-3, 1e3), p = m / (l * t * t);
        const double mu = s(1e-5, 1.0), length = s(0.1, 10.0), bore = s(1e-3, 1e-1), rho = s(1.0, 2e3);
        EXPECT_TRUE(close(laminar_resistance(mu * p * t, length * l, bore * l),
                          laminar_resistance(mu, length, bore) * p * t / (l * l * l), 1e-12));
        EXPECT_TRUE(close(inertance(rho * m / (l * l * l), length * l, bore * l),
                          inertance(rho, length, bore) * p * t * t / (l * l * l), 1e-12));
        EXPECT_TRUE(close(tube_wall_compliance(bore * l, 2.0 * bore * l, 1e11 * p, 0.3),
                          tube_wall_compliance(bore, 2.0 * bore, 1e11, 0.3) / p, 1e-12));
        EXPECT_TRUE(close(wave_speed(rho * m / (l * l * l), 1e9 * p, 3e-11 / p),
                          wave_speed(rho, 1e9, 3e-11) * l / t, 1e-12));
    }
}

} // namespace
} // namespace clearstroke
