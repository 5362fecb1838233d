#include "models/cavity.hpp"

#include <algorithm>

#include "tests/models/support.hpp"

namespace clearstroke {
namespace {

using test::close;

constexpr double degree = pi / 180.0;

// Independent of the closed form: slices along the axis, each integrated by strips in the polar angle of the
// chord.
double volume_by_slices(const Cavity& c, double height) {
    constexpr int slices = 1500, strips = 300;
    double sum = 0.0;
    for (int i = 0; i < slices; ++i) {
        const double s = ((i + 0.5) / slices - 0.5) * c.depth;
        const double y = (height - s * std::sin(c.axis_tilt)) / std::cos(c.axis_tilt);
        const double edge = std::acos(std::clamp(y / c.bore_radius, -1.0, 1.0));
        for (int j = 0; j < strips; ++j) {
            const double sine = std::sin((j + 0.5) / strips * edge);
            sum += 2.0 * c.bore_radius * c.bore_radius * sine * sine * edge / strips;
        }
    }
    return sum * c.depth / slices;
}

TEST(Cavity, SegmentHasTheKnownArea) {
    // 54 mm bore, port 4 mm below the crown; a 10 mm deep gap keeps 0.7662 mL
    EXPECT_TRUE(close(segment_area(27e-3, 23e-3), 76.618e-6));
    EXPECT_TRUE(close(gas_volume_above({27e-3, 10e-3, 0.0}, 23e-3), 0.7662e-6));
    EXPECT_TRUE(close(segment_area(2.0, 0.0), 2.0 * pi, 1e-14));
    EXPECT_EQ(segment_area(2.0, 2.0), 0.0);
    EXPECT_EQ(segment_area(2.0, 3.0), 0.0);
    EXPECT_TRUE(close(segment_area(2.0, -2.0), 4.0 * pi, 1e-14));
    // R^2 acos(1 - s/R) - (R - s) sqrt(2 R s - s^2)
    EXPECT_TRUE(close(segment_area(1.0, 0.5), pi / 3.0 - std::sqrt(3.0) / 4.0, 1e-14));
}

TEST(Cavity, TiltedVolumesAgreeWithSlices) {
    for (double tilt : {-80.0, -30.0, -5.0, 0.5, 12.0, 45.0, 75.0, 89.0}) {
        for (double depth : {3e-3, 20e-3, 60e-3}) {
            const Cavity c{27e-3, depth, tilt * degree};
            const double half =
                c.bore_radius * std::cos(c.axis_tilt) + 0.5 * depth * std::abs(std::sin(c.axis_tilt));
            const double whole = pi * c.bore_radius * c.bore_radius * depth;
            for (double share : {-0.95, -0.5, -0.1, 0.0, 0.3, 0.7, 0.95}) {
                EXPECT_NEAR(gas_volume_above(c, share * half), volume_by_slices(c, share * half),
                            2e-6 * whole)
                    << tilt << " degrees, depth " << depth << ", share " << share;
            }
        }
    }
}

TEST(Cavity, StandingUprightIsADisc) {
    for (double tilt : {-90.0, 90.0}) {
        const Cavity c{20e-3, 30e-3, tilt * degree};
        const double area = pi * 4e-4;
        for (double h : {-15e-3, -4e-3, 0.0, 9e-3, 15e-3})
            EXPECT_NEAR(gas_volume_above(c, h), area * (15e-3 - h), 1e-15);
        EXPECT_NEAR(gas_volume_above(c, 16e-3), 0.0, 1e-18);
    }
}

TEST(Cavity, VolumesAboveAndBelowMakeTheWhole) {
    test::Sampler s(9u);
    for (int k = 0; k < 200; ++k) {
        const Cavity c{s(2e-3, 4e-2), s(1e-3, 8e-2), (s.uniform() - 0.5) * pi};
        const double whole = pi * c.bore_radius * c.bore_radius * c.depth, h = s.uniform() * c.bore_radius;
        EXPECT_NEAR(gas_volume_above(c, h) + gas_volume_above(c, -h), whole, 1e-12 * whole);
        const Cavity mirrored{c.bore_radius, c.depth, -c.axis_tilt};
        EXPECT_NEAR(gas_volume_above(c, h), gas_volume_above(mirrored, h), 1e-12 * whole);
    }
}

TEST(Cavity, AlmostLevelIsLevel) {
    for (double h : {-20e-3, 0.0, 5e-3, 26e-3}) {
        const double level = gas_volume_above({27e-3, 20e-3, 0.0}, h);
        EXPECT_TRUE(close(gas_volume_above({27e-3, 20e-3, 1e-7}, h), level, 1e-5));
        EXPECT_TRUE(close(gas_volume_above({27e-3, 20e-3, 1e-4}, h), level, 1e-5));
    }
}

TEST(Cavity, KnowsWhereItsOpeningsAre) {
    const Cavity level{27e-3, 20e-3, 0.0}, tilted{27e-3, 20e-3, 30.0 * degree};
    EXPECT_TRUE(close(opening_height(level, {0.0, 0.5}), 27e-3, 1e-14));
    EXPECT_NEAR(opening_height(level, {90.0 * degree, 0.5}), 0.0, 1e-15);
    EXPECT_TRUE(close(opening_height(level, {180.0 * degree, 0.1, 0.5}), -13.5e-3, 1e-14));
    // open end up by 30 degrees: its rim lies half of 20 mm * sin 30 above the middle
    EXPECT_TRUE(close(opening_height(tilted, {90.0 * degree, 1.0}), 5e-3, 1e-12));
    EXPECT_TRUE(close(opening_height(tilted, {0.0, 0.0}), 27e-3 * std::cos(30.0 * degree) - 5e-3, 1e-12));
}

TEST(Cavity, TurningBringsAnOpeningToTheTop) {
    for (double clock : {-170.0, -90.0, 0.0, 35.0, 90.0, 180.0, 300.0, 400.0}) {
        const OpeningPlace place{clock * degree, 0.5};
        const double roll = roll_to_top(place);
        EXPECT_GT(roll, -pi);
        EXPECT_LE(roll, pi);
        EXPECT_TRUE(close(opening_height({27e-3, 20e-3, 0.0}, place, roll), 27e-3, 1e-12));
    }
    EXPECT_NEAR(roll_to_top({90.0 * degree, 0.5}), -90.0 * degree,
                1e-15); // three o'clock: turn back a quarter
}

// A level cylinder stands pi R / 2 high on average, an upright one its depth; averaged over all directions a convex body
// casts a quarter of its surface (Cauchy).
TEST(Cavity, KnowsItsMeanHeight) {
    EXPECT_TRUE(close(mean_height({27e-3, 10e-3, 0.0}), 0.5 * pi * 27e-3, 1e-12));
    EXPECT_TRUE(close(mean_height({27e-3, 10e-3, 0.5 * pi}), 10e-3, 1e-12));
    EXPECT_EQ(mean_height({27e-3, 10e-3, 0.3}), mean_height({27e-3, 10e-3, -0.3}));
    constexpr double r = 11e-3, d = 40e-3, volume = pi * r * r * d;
    constexpr int steps = 2000;
    double shadow = 0.0;
    for (int i = 0; i < steps; ++i)
        shadow += volume / mean_height({r, d, std::asin((i + 0.5) / steps)}) / steps;
    EXPECT_TRUE(close(shadow, 0.25 * (2.0 * pi * r * d + 2.0 * pi * r * r), 1e-4));
}

TEST(CavityProfile, InvertsTheVolume) {
    for (double tilt : {-90.0, -40.0, -3.0, 0.0, 1e-3, 15.0, 60.0}) {
        for (double depth : {2e-3, 20e-3, 80e-3}) {
            const Cavity c{20e-3, depth, tilt * degree};
            const CavityProfile profile(c);
            const double size = profile.top() - profile.bottom();
            double before = profile.top();
            for (double share = 1e-6; share < 1.0; share = share < 0.01 ? 1.3 * share : share + 0.003) {
                const double h = profile.interface_height(share * profile.volume());
                EXPECT_LE(h, before);
                const double back =
                    gas_volume_above(c, h); // error in height: volume error over the free surface
                const double slope = (gas_volume_above(c, h - 1e-5 * size) - back) / (1e-5 * size);
                ASSERT_GT(slope, 0.0);
                EXPECT_NEAR((back - share * profile.volume()) / slope, 0.0, 2e-4 * size)
                    << tilt << ' ' << depth << ' ' << share;
                before = h;
            }
        }
    }
}

TEST(CavityProfile, IsExactAtItsEndsAndClamped) {
    const CavityProfile profile({27e-3, 20e-3, 20.0 * degree});
    EXPECT_EQ(profile.interface_height(0.0), profile.top());
    EXPECT_EQ(profile.interface_height(-1e-9), profile.top());
    EXPECT_EQ(profile.interface_height(profile.volume()), profile.bottom());
    EXPECT_EQ(profile.interface_height(1.0), profile.bottom());
    EXPECT_TRUE(
        close(profile.top(), 27e-3 * std::cos(20.0 * degree) + 10e-3 * std::sin(20.0 * degree), 1e-12));
    EXPECT_TRUE(close(profile.bottom(), -profile.top(), 1e-14));
    EXPECT_TRUE(close(profile.volume(), pi * 27e-3 * 27e-3 * 20e-3, 1e-14));
    EXPECT_EQ(profile.trapped_volume(profile.top()), 0.0);
    EXPECT_TRUE(
        close(profile.trapped_volume(5e-3), gas_volume_above({27e-3, 20e-3, 20.0 * degree}, 5e-3), 1e-14));
}

} // namespace
} // namespace clearstroke
