#include "models/valve.hpp"

#include <cmath>

#include <gtest/gtest.h>

namespace clearstroke {
namespace {

constexpr double bar = 1e5;

Valve of_kind(ValveKind kind) {
    Valve v;
    v.kind = kind;
    v.cracking = 0.1 * bar;
    v.residual = 0.7 * bar;
    v.hold_off = 6.0 * bar;
    v.knee = 40.0 * bar;
    v.slope = 0.4;
    return v;
}

TEST(Valve, OneWayAndResidualHoldBackWhatTheySay) {
    EXPECT_EQ(forward_threshold(of_kind(ValveKind::one_way), 5.0 * bar, 0.0).value, 0.1 * bar);
    EXPECT_TRUE(std::isinf(back_threshold(of_kind(ValveKind::one_way))));
    EXPECT_EQ(back_threshold(of_kind(ValveKind::residual)), 0.7 * bar);
    EXPECT_EQ(back_threshold(of_kind(ValveKind::proportioning)), 0.0);
    EXPECT_TRUE(std::isinf(forward_threshold(of_kind(ValveKind::shut), 100.0 * bar, 0.0).value));
    EXPECT_TRUE(std::isinf(back_threshold(of_kind(ValveKind::shut))));
    EXPECT_EQ(forward_threshold(of_kind(ValveKind::restriction), 100.0 * bar, 0.0).value, 0.0);
}

// At rest above the knee the outlet stands at p_k + s (e_in - p_k): 100 bar in, knee 40, slope 0.4 give 64.
TEST(Valve, ProportioningReducesAboveItsKneeOnly) {
    const Valve v = of_kind(ValveKind::proportioning);
    EXPECT_EQ(forward_threshold(v, 39.0 * bar, 0.0).value, 0.0);
    EXPECT_NEAR(100.0 * bar - forward_threshold(v, 100.0 * bar, 0.0).value, 64.0 * bar, 1e-6);
}

TEST(Valve, MeteringNeedsItsHoldOffAtTheInletUntilTheOutletHasCaughtUp) {
    Valve v = of_kind(ValveKind::metering);
    for (const double out : {0.0, 2.0, 5.0}) // passes when e_in exceeds the hold-off, whatever the outlet
        EXPECT_DOUBLE_EQ(out * bar + forward_threshold(v, 3.0 * bar, out * bar).value, 6.0 * bar);
    EXPECT_EQ(forward_threshold(v, 8.0 * bar, 7.0 * bar).value, 0.0);
    v.bypass = 0.5 * bar;
    EXPECT_EQ(forward_threshold(v, 0.4 * bar, 0.0).value, 0.0);
    EXPECT_EQ(forward_threshold(v, 0.6 * bar, 0.0).value, 6.0 * bar);
}

TEST(Valve, SlopesOfTheThresholdsAgreeWithDifferences) {
    for (const ValveKind kind : {ValveKind::metering, ValveKind::proportioning, ValveKind::one_way}) {
        const Valve v = of_kind(kind);
        const double in = 60.0 * bar, out = 3.0 * bar, step = 10.0;
        const ValveThreshold c = forward_threshold(v, in, out);
        EXPECT_NEAR(c.by_in, (forward_threshold(v, in + step, out).value - c.value) / step, 1e-9);
        EXPECT_NEAR(c.by_out, (forward_threshold(v, in, out + step).value - c.value) / step, 1e-9);
    }
}

TEST(Valve, LoadMovesTheKneeBetweenEmptyAndLaden) {
    EXPECT_DOUBLE_EQ(load_sensing_knee(30e5, 90e5, 0.5), 60e5);
    EXPECT_DOUBLE_EQ(load_sensing_knee(30e5, 90e5, 2.0), 90e5);
}

} // namespace
} // namespace clearstroke
