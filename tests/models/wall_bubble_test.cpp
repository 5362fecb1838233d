#include "models/wall_bubble.hpp"

#include "tests/models/support.hpp"

namespace clearstroke {
namespace {

using test::close;

// At the stress of (W-3) drag and grip are equal, each written down by itself.
TEST(WallBubble, ComesOffWhereDragEqualsGrip) {
    for (const double d : {0.1e-3, 0.3e-3, 1e-3}) {
        const double tau = detaching_stress(d, 0.07, 0.035), radius = 0.5 * d;
        const double stokes_in_shear = 6.0 * pi * radius * (tau * radius); // mu (tau/mu) a at the centre
        EXPECT_TRUE(close(1.7009 * stokes_in_shear, 24.0 / (pi * pi * pi) * 0.035 * 0.07 * d, 1e-12));
    }
}

TEST(WallBubble, LeavesByItselfWhereLiftEqualsGrip) {
    const Liquid l = test::reference_liquid(20.0);
    const double d = largest_clinging(0.07, l);
    EXPECT_TRUE(close(pi / 6.0 * d * d * d * l.density * standard_gravity,
                      24.0 / (pi * pi * pi) * l.surface_tension * 0.07 * d, 1e-12));
    EXPECT_TRUE(close(d, 0.59e-3, 0.01));
}

// Stress times wetted area is pressure drop times section: 12 mu q L / (b w^3) for a plane channel.
TEST(WallBubble, StressBalancesTheDropOfAPlaneChannel) {
    const double mu = 0.02, q = 5e-6, b = 54e-3, w = 2e-3, length = 0.03;
    const double drop = 12.0 * mu * q * length / (b * w * w * w);
    EXPECT_TRUE(close(wall_stress(q, b, w, mu) * 2.0 * b * length, drop * b * w, 1e-12));
    EXPECT_EQ(wall_stress(-q, b, w, mu), wall_stress(q, w, b, mu));
}

TEST(WallBubbleProperty, IsDimensionallyHomogeneous) {
    test::Sampler s(11u);
    for (int k = 0; k < 200; ++k) {
        const double l = s(1e-2, 1e2), m = s(1e-3, 1e3), t = s(1e-2, 1e2), stress = m / (l * t * t);
        const double d = s(1e-5, 1e-3), sigma = s(0.02, 0.07), grip = s(0.02, 0.25);
        EXPECT_TRUE(close(detaching_stress(d * l, grip, sigma * m / (t * t)),
                          detaching_stress(d, grip, sigma) * stress, 1e-12));
        const double q = s(1e-7, 1e-4), b = s(1e-3, 0.1), w = s(1e-3, 0.1), mu = s(1e-3, 1.0);
        EXPECT_TRUE(close(wall_stress(q * l * l * l / t, b * l, w * l, mu * m / (l * t)),
                          wall_stress(q, b, w, mu) * stress, 1e-12));
    }
}

} // namespace
} // namespace clearstroke
