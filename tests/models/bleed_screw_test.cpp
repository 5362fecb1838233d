#include "models/bleed_screw.hpp"

#include "models/gas.hpp"
#include "tests/models/support.hpp"

namespace clearstroke {
namespace {

using test::close;

constexpr double turns[] = {0.125, 0.25, 0.5, 0.75, 1.0};

// Flow area in mm^2 at 1/8, 1/4, 1/2, 3/4 and 1 turn [derived by an independent evaluation].
TEST(BleedScrew, HasTheKnownAreas) {
    struct Row {
        const char* thread;
        double area[5];
    };
    for (const Row& r :
         {Row{"M6", {0.508, 0.863, 1.207, 1.339, 1.383}}, Row{"M7", {0.620, 1.002, 1.311, 1.412, 1.455}},
          Row{"M8", {0.947, 1.582, 2.158, 2.365, 2.456}}, Row{"M10", {0.906, 1.569, 2.247, 2.514, 2.637}},
          Row{"1/4-28", {0.551, 0.922, 1.260, 1.380, 1.434}},
          Row{"3/8-24", {0.952, 1.630, 2.291, 2.542, 2.655}}}) {
        SCOPED_TRACE(r.thread);
        const BleedScrew* screw = known_bleed_screw(r.thread);
        ASSERT_NE(screw, nullptr);
        for (int i = 0; i < 5; ++i)
            EXPECT_NEAR(bleed_screw_area(*screw, turns[i]) * 1e6, r.area[i], 6e-4) << turns[i];
    }
}

TEST(BleedScrew, OpensMonotonicallyAndIsNearlyOpenAtHalfATurn) {
    ASSERT_EQ(known_bleed_screws().size(), 8u);
    for (const KnownBleedScrew& known : known_bleed_screws()) {
        SCOPED_TRACE(known.thread);
        EXPECT_EQ(known_bleed_screw(known.thread), &known.screw);
        double before = 0.0;
        for (double n = 0.0; n <= 6.0; n += 0.01) {
            const double area = bleed_screw_area(known.screw, n);
            EXPECT_GE(area, before);
            before = area;
        }
        const double one = bleed_screw_area(known.screw, 1.0);
        EXPECT_GE(bleed_screw_area(known.screw, 0.5), 0.8 * one);
        EXPECT_LT(before / bleed_screw_area(known.screw, 1.0), 1.06);
        EXPECT_LT(one / bleed_screw_area(known.screw, 0.75), 1.06);
    }
    EXPECT_EQ(known_bleed_screw("M5"), nullptr);
}

TEST(BleedScrew, IsShutAtZeroTurnsAndConeGovernsFirst) {
    const BleedScrew& m8 = *known_bleed_screw("M8");
    EXPECT_EQ(bleed_screw_area(m8, 0.0), 0.0);
    const double lift = 1e-4 * m8.pitch, cone = pi * lift * std::sin(m8.cone_half_angle) * m8.seat_bore;
    EXPECT_TRUE(close(bleed_screw_area(m8, 1e-4), cone));
}

TEST(BleedScrew, WideOpenIsLimitedBySeatAndDrillings) {
    BleedScrew s = *known_bleed_screw("M8");
    const auto in_series = [](double a, double b, double c) {
        return 1.0 / std::sqrt(1 / (a * a) + 1 / (b * b) + 1 / (c * c));
    };
    const auto circle = [](double d) { return 0.25 * pi * d * d; };
    EXPECT_TRUE(
        close(bleed_screw_area(s, 10.0), in_series(circle(3e-3), circle(2e-3), circle(2.5e-3)), 1e-12));
    s.cross_holes = 2;
    EXPECT_TRUE(
        close(bleed_screw_area(s, 10.0), in_series(circle(3e-3), 2.0 * circle(2e-3), circle(2.5e-3)), 1e-12));
}

// Sizes in mm and torque in N m [common practice]; the areas above check the others.
TEST(BleedScrew, HasTheSizesOfTheTrade) {
    struct Row {
        const char* thread;
        double diameter, pitch, seat, cross, axial, torque;
    };
    const Row rows[] = {{"M6", 6, 1, 2.0, 1.5, 2.0, 7},
                        {"M7", 7, 1, 2.5, 1.5, 2.0, 9},
                        {"M8", 8, 1.25, 3.0, 2.0, 2.5, 11},
                        {"M10", 10, 1, 3.5, 2.0, 3.0, 15},
                        {"1/4-28", 6.35, 0.9071, 2.4, 1.5, 2.0, 5.6},
                        {"5/16-24", 7.9375, 1.0583, 3.0, 2.0, 2.5, 8},
                        {"3/8-24", 9.525, 1.0583, 3.5, 2.0, 3.0, 11.3},
                        {"7/16-20", 11.1125, 1.27, 4.0, 2.5, 3.0, 19.3}};
    for (std::size_t i = 0; i < std::size(rows); ++i) {
        const KnownBleedScrew& known = known_bleed_screws()[i];
        const Row& r = rows[i];
        EXPECT_EQ(known.thread, r.thread);
        EXPECT_TRUE(close(known.screw.thread.diameter * 1e3, r.diameter, 1e-9));
        EXPECT_TRUE(close(known.screw.thread.length * 1e3, r.diameter, 1e-9));
        EXPECT_TRUE(close(known.screw.thread.clearance, 15e-6, 1e-9));
        EXPECT_EQ(known.screw.thread.eccentricity, 0.0);
        EXPECT_TRUE(close(known.screw.pitch * 1e3, r.pitch, 1e-4));
        EXPECT_TRUE(close(known.screw.seat_bore * 1e3, r.seat, 1e-9));
        EXPECT_TRUE(close(known.screw.cross_hole * 1e3, r.cross, 1e-9));
        EXPECT_TRUE(close(known.screw.axial_bore * 1e3, r.axial, 1e-9));
        EXPECT_EQ(known.torque_max, r.torque);
    }
}

// The thread of an opened screw under 80 kPa of vacuum draws 1 to 20 mL/s of air over the band of clearances.
TEST(BleedScrew, ThreadLeaksAirInTheExpectedBand) {
    AnnularGap thread = known_bleed_screw("M8")->thread;
    for (double clearance : {10e-6, thread.clearance, 25e-6}) {
        thread.clearance = clearance;
        const double flow = 8e4 * annular_gap_conductance(thread, air_viscosity(293.15));
        EXPECT_GT(flow, 1e-6);
        EXPECT_LT(flow, 20e-6);
    }
}

} // namespace
} // namespace clearstroke
