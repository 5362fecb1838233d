// Old fluid left in a line under laminar flow.
#include "models/laminar_streams.hpp"

#include "tests/models/support.hpp"

namespace clearstroke {
namespace {

constexpr double volume = 17e-6;

// Before the fastest stream (twice the mean) has arrived nothing new leaves: 1 - N is left.
TEST(LaminarStreams, NothingNewLeavesBeforeHalfAVolume) {
    LaminarStreams s(volume, 0.0);
    EXPECT_NEAR(s.move(0.45 * volume, 1.0), 0.0, 1e-12);
    EXPECT_NEAR(s.mean(), 0.45, 1e-12);
    EXPECT_EQ(s.leaving(true), 0.0);
}

TEST(LaminarStreams, DoNotDependOnTheNumberOfSteps) {
    LaminarStreams once(volume, 0.0), often(volume, 0.0);
    double left_once = once.move(2.0 * volume, 1.0) * 2.0, left_often = 0.0;
    for (int i = 0; i < 200; ++i) left_often += often.move(0.01 * volume, 1.0) * 0.01;
    EXPECT_NEAR(often.mean(), once.mean(), 1e-9);
    EXPECT_NEAR(left_often, left_once, 1e-9);
}

// Through every length at which one of the streams is just replaced.
TEST(LaminarStreams, HoldNoMoreThanTheyCan) {
    for (double volumes = 0.3; volumes < 100.0; volumes *= 1.01) {
        LaminarStreams s(volume, 0.0);
        const double out = volumes * s.move(volumes * volume, 1.0);
        ASSERT_LE(s.mean(), 1.0 + 1e-12) << volumes << " volumes";
        ASSERT_NEAR(s.mean() + out, volumes, 1e-9 * volumes) << volumes << " volumes";
    }
}

TEST(LaminarStreams, WhatEntersIsThereOrHasLeft) {
    LaminarStreams s(volume, 0.2);
    double in = 0.2, out = 0.0;
    test::Sampler sample(3u);
    for (int i = 0; i < 100; ++i) {
        const double flow = sample(0.01, 0.5) * (i % 4 == 3 ? -1.0 : 1.0), inflow = sample.uniform();
        out += std::abs(flow) * s.move(flow * volume, inflow);
        in += std::abs(flow) * inflow;
        if (i % 10 == 0) s.remix();
        ASSERT_NEAR(s.mean() + out, in, 1e-9) << "move " << i;
    }
}

TEST(LaminarStreams, BackFlowUndoesWhatHasNotLeft) {
    LaminarStreams s(volume, 0.0);
    s.move(0.4 * volume, 1.0);
    EXPECT_NEAR(s.move(-0.4 * volume, 0.0), 1.0, 1e-9); // all the new fluid comes back, and it alone
    EXPECT_NEAR(s.mean(), 0.0, 1e-9);
}

TEST(LaminarStreams, RemixingEvensOutTheSection) {
    LaminarStreams mixed(volume, 0.0), plain(volume, 0.0);
    for (int i = 0; i < 400; ++i) {
        mixed.move(0.005 * volume, 1.0);
        mixed.remix();
    }
    plain.move(2.0 * volume, 1.0);
    EXPECT_LT(1.0 - mixed.mean(), 0.5 * (1.0 - plain.mean())); // towards plug flow, which leaves none
    const double before = plain.mean();
    plain.remix();
    EXPECT_NEAR(plain.mean(), before, 1e-12);
}

} // namespace
} // namespace clearstroke
