// A plug among liquid: its run-ahead and rise on a straight line by hand, and how it comes to rest at a high spot.
#include "sim/plug_motion.hpp"

#include <gtest/gtest.h>

#include "models/long_bubble.hpp"
#include "tests/sim/line_cells.hpp"

namespace clearstroke {
namespace {

constexpr double rise = 0.05; // of a plug in a vertical line [m/s]

Liquid fluid() { return liquid_at(*find_fluid("DOT 4"), 293.15); }

/// A line in which bubbles rise.
LineLayout wide_line(const std::vector<double>& heights) {
    LineLayout line = line_through(heights);
    line.bore = std::sqrt(4.0 * line.area / pi);
    line.rise_speed = rise;
    return line;
}

struct Plug {
    LineLayout line;
    Liquid liquid = fluid();
    Cell cell;
    Plug(const LineLayout& l, double before, double gas) : line(l) {
        cell = cell_of(line, {{before, 0.0}, {0.0, gas}, {line.volume * 1e6 - before - gas, 0.0}});
    }
    [[nodiscard]] PlugMotion motion() const {
        return {cell, columns_of(cell, line, 1e4, 1e300), line, liquid, 1.0};
    }
};

TEST(PlugMotion, OnAStraightLineItKeepsItsSpeed) {
    const double s = 0.6;
    const Plug plug(wide_line({0.0, 0.06, 0.12, 0.18, 0.24}), 1.0, 0.3);
    const double by_itself =
        plug.line.area * rise * std::sqrt(s) * (1.0 + 0.8); // (B-7): sqrt(1 - s^2) is 0.8
    EXPECT_NEAR(plug.motion().speed(0.0), by_itself, 1e-9 * by_itself);
    EXPECT_NEAR(plug.motion().advance(0.0, 2.0), 2.0 * by_itself, 1e-9 * by_itself);
    const double flow = 2e-7,
                 ca = plug.liquid.dynamic_viscosity * flow / (plug.line.area * plug.liquid.surface_tension);
    const double ahead = (run_ahead(ca) - 1.0) * flow;
    EXPECT_NEAR(plug.motion().advance(flow, 2.0), 2.0 * (by_itself + ahead), 1e-9 * by_itself);
    EXPECT_NEAR(plug.motion().advance(-flow, 2.0), 2.0 * (by_itself - ahead), 1e-9 * by_itself);
}

TEST(PlugMotion, ALevelOrThinLineMovesNothingByItself) {
    EXPECT_EQ(Plug(wide_line({0.1, 0.1, 0.1}), 0.5, 0.3).motion().advance(0.0, 10.0), 0.0);
    LineLayout thin = wide_line({0.0, 0.1, 0.2});
    thin.rise_speed = 0.0;
    EXPECT_EQ(Plug(thin, 0.5, 0.3).motion().advance(0.0, 10.0), 0.0);
}

// A roof with a slope of s = 0.01 either side: with x its middle's distance from the ridge, |x| < half of it, a plug has the slope
// s x / half under it, and x(t) = (sqrt(x_0) - A U sqrt(s / half) t)^2 but for s^2.
TEST(PlugMotion, ComesToRestAtAHighSpotInTheTimeByHand) {
    const double s = 0.01;
    const Plug plug(wide_line({0.0, 0.1 * s, 0.2 * s, 0.1 * s, 0.0}), 1.2,
                    1.0); // its middle 0.3 before the ridge at 2
    const double x = 0.3e-6, half = 0.5e-6, k = plug.line.area * rise * std::sqrt(s / half);
    const double end = std::sqrt(x) / k;
    for (const double share : {0.3, 0.7}) {
        const double root = std::sqrt(x) * (1.0 - share);
        EXPECT_NEAR(plug.motion().advance(0.0, share * end), x - root * root, 0.02 * x) << share;
    }
    for (const double times : {1.2, 100.0, 1e5})
        EXPECT_NEAR(plug.motion().advance(0.0, times * end), x, 1e-6 * x) << times;
}

// With a flow that a slope of s' holds back, it rests where that is the slope under it, past the ridge, in one step as in many.
TEST(PlugMotion, RestsBehindAHighSpotWhereItsRiseHoldsAgainstTheFlow) {
    const double s = 0.3;
    const Plug plug(wide_line({0.0, 0.1 * s, 0.2 * s, 0.1 * s, 0.0}), 1.0, 1.0);
    const double held = 0.5 * s, flow = 0.98 * plug.line.area * rise * inclination_factor(held),
                 ca = plug.liquid.dynamic_viscosity * flow / (plug.line.area * plug.liquid.surface_tension);
    const double drift = run_ahead(ca) * flow;
    const double time = 100.0, moved = plug.motion().advance(flow, time) + flow * time;
    EXPECT_GT(moved, 0.5e-6);
    EXPECT_LT(moved, 1.0e-6);
    const double under = (moved - 0.5e-6) / 0.5e-6 * s;
    EXPECT_NEAR(plug.line.area * rise * inclination_factor(under), drift, 1e-6 * drift);
    // Opened further it goes over and on.
    EXPECT_GT(plug.motion().advance(3.0 * flow, 10.0) + 30.0 * flow, 1.5e-6);
}

// It moves in a time as in the two halves of it.
TEST(PlugMotion, IsTheSameInTwoSteps) {
    const LineLayout line = wide_line({0.0, 0.05, 0.1, 0.05, 0.0});
    const double flow = 1e-7, dt = 0.5;
    const double whole = Plug(line, 0.4, 0.3).motion().advance(flow, 2.0 * dt) + 2.0 * flow * dt;
    const double first = Plug(line, 0.4, 0.3).motion().advance(flow, dt) + flow * dt;
    const double second = Plug(line, 0.4 + first * 1e6, 0.3).motion().advance(flow, dt) + flow * dt;
    EXPECT_GT(whole, 0.5e-6);
    EXPECT_NEAR(first + second, whole, 0.01 * whole);
}

} // namespace
} // namespace clearstroke
