#include "models/small_bubble.hpp"

#include "tests/models/support.hpp"

namespace clearstroke {
namespace {

using test::close;

// mm/s at 20 and -10 degC [derived by an independent evaluation].
TEST(SmallBubble, RisesAtTheKnownSpeeds) {
    struct Row {
        double diameter, warm, cold;
    };
    const Liquid warm = test::reference_liquid(20.0), cold = test::reference_liquid(-10.0);
    for (const Row& r : {Row{0.1, 0.2989, 0.0640}, Row{0.3, 2.678, 0.576}, Row{0.5, 7.321, 1.598},
                         Row{1, 25.69, 6.349}, Row{2, 72.49, 24.1}, Row{3, 121.1, 48.0}}) {
        EXPECT_TRUE(close(terminal_velocity(r.diameter * 1e-3, warm, 0.0) * 1e3, r.warm, 2e-3)) << r.diameter;
        EXPECT_TRUE(close(terminal_velocity(r.diameter * 1e-3, cold, 0.0) * 1e3, r.cold, 3e-3)) << r.diameter;
    }
}

// Re on each piece, the polynomial evaluated by hand.
TEST(SmallBubble, FollowsItsPolynomials) {
    struct Row {
        double n, re;
    };
    for (const Row& r :
         {Row{73.0, 2.368278},
          Row{300.0, std::pow(10.0, -1.7095 + 1.33438 * 2.4771213 - 0.11591 * 6.1361297)},
          Row{1e5, std::pow(10.0, -1.81391 + 1.34671 * 5.0 - 0.12427 * 25.0 + 0.006344 * 125.0)}}) {
        const Liquid l = test::reference_liquid(20.0);
        const double d = std::cbrt((r.n - 1e-9) * 3.0 * l.dynamic_viscosity * l.dynamic_viscosity /
                                   (4.0 * l.density * l.density * standard_gravity));
        EXPECT_TRUE(close(terminal_velocity(d, l, 0.0) * d / l.kinematic_viscosity, r.re, 1e-6)) << r.n;
    }
}

TEST(SmallBubble, TendsToStokes) {
    const Liquid l = test::reference_liquid(20.0);
    const double d = 2e-6,
                 stokes = (l.density - 1.2) * standard_gravity * d * d / (18.0 * l.dynamic_viscosity);
    EXPECT_TRUE(close(terminal_velocity(d, l, 1.2), stokes, 1e-6));
}

// The pieces of the law join within the accuracy of the tables they were fitted to, and the speed rises
// throughout.
TEST(SmallBubble, RisesFasterWhenLarger) {
    const Liquid l = test::reference_liquid(20.0);
    for (double n : {73.0, 580.0}) {
        const double d = std::cbrt(n * 3.0 * l.dynamic_viscosity * l.dynamic_viscosity /
                                   (4.0 * l.density * l.density * standard_gravity));
        EXPECT_TRUE(close(terminal_velocity(d * (1.0 + 1e-9), l, 0.0),
                          terminal_velocity(d * (1.0 - 1e-9), l, 0.0), 1e-2));
    }
    double before = 0.0;
    for (double d = 1e-5; d < 3e-3; d *= 1.05) {
        const double speed = terminal_velocity(d, l, 1.2);
        EXPECT_GT(speed, before) << d;
        before = speed;
    }
}

// Gas of a bubble: p d^3 is constant.
TEST(SmallBubble, ShrinksWithThePressure) {
    EXPECT_TRUE(close(diameter_at(8e5, 1e-3, 1e5), 0.5e-3, 1e-12));
    EXPECT_TRUE(close(8e5 * std::pow(diameter_at(8e5, 1e-3, 1e5), 3.0), 1e5 * 1e-9, 1e-12));
}

// 63 % in the time that unstirred bubbles all need; two halves of a time are the whole.
TEST(SmallBubble, RisesOutOfAStirredCavityExponentially) {
    EXPECT_TRUE(close(share_risen(1e-3, 0.04, 40.0), 1.0 - std::exp(-1.0), 1e-12));
    const double half = share_risen(1e-3, 0.04, 10.0);
    EXPECT_TRUE(close(share_risen(1e-3, 0.04, 20.0), 1.0 - (1.0 - half) * (1.0 - half), 1e-12));
    EXPECT_TRUE(close(share_risen(1e-6, 0.04, 1e-3), 2.5e-8, 1e-6));
}

TEST(SmallBubbleProperty, IsDimensionallyHomogeneous) {
    test::Sampler s(7u);
    for (int k = 0; k < 200; ++k) {
        const double t = s(1e-2, 1e2), l = t * t, m = s(1e-3, 1e3); // gravity is a constant of the law
        const double rho = s(500.0, 2e3), nu = s(1e-6, 1e-4), d = s(1e-5, 3e-3);
        const Liquid a = test::make_liquid(rho, nu, 0.03),
                     b = test::make_liquid(rho * m / (l * l * l), nu * l * l / t, 1.0);
        EXPECT_TRUE(close(terminal_velocity(d * l, b, 0.0), terminal_velocity(d, a, 0.0) * l / t, 1e-9)) << k;
    }
}

} // namespace
} // namespace clearstroke
