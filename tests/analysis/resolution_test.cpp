#include <gtest/gtest.h>

#include <cmath>

#include "analysis/comparison.hpp"
#include "analysis/resolution.hpp"
#include "tests/analysis/two_wheels.hpp"

namespace clearstroke {
namespace {

// Exact: results r + C h^p at h, h/2, h/4.
TEST(ObservedOrder, OfAnExactPowerIsThatPower) {
    for (const double p : {1.0, 2.0, 3.5}) {
        const auto result = [&](double h) { return 7.0 + 0.3 * std::pow(h, p); };
        EXPECT_NEAR(*observed_order(result(1.0), result(0.5), result(0.25)), p, 1e-12);
    }
    EXPECT_FALSE(observed_order(2.0, 1.0, 1.0));
}

TEST(TieWidth, CountsTieByTheLargerOfCountAndStrokesToTarget) {
    const Resolution r{0.4, 2e-8, 0.0, 30.0, 5e-6};
    EXPECT_EQ(tie_width(r, Cost::strokes).cost, 0.4);
    EXPECT_EQ(tie_width(r, Cost::time).cost, 30.0);
    EXPECT_EQ(tie_width(r, Cost::fluid).cost, 5e-6);
    EXPECT_EQ(tie_width(r, Cost::fluid).excess, 2e-8);
    EXPECT_EQ(larger(r, {0.1, 3e-8, 1.0, 0.0, 0.0}).strokes, 1.0);
    EXPECT_EQ(larger(r, {0.1, 3e-8, 1.0, 0.0, 0.0}).to_target, 0.4);
}

TEST(Resolution, FixedStrokesRepeatTheRunTheyCameFrom) {
    const Case c = small::two_wheels(2e-6, 1e-6);
    const PlanRun run = run_plan(c, c.procedure.visits);
    const PlanRun again = run_plan(c, with_fixed_strokes(c.procedure.visits, run));
    EXPECT_EQ(again.air_end.total, run.air_end.total);
}

// Strokes to target within 1 % under halved tolerance and doubled lumps, from the defaults.
TEST(Resolution, OfASmallCircuitIsWithinOnePercent) {
    const Case c = small::two_wheels(2e-6, 1e-6);
    const PlanRun run = run_plan(c, c.procedure.visits);
    const BeyondAll beyond = beyond_all(c.network, std::span(&run, 1));
    const PlanResult result = judge(c, run, beyond);
    ASSERT_TRUE(result.to_target);
    EXPECT_LE(measure_resolution(c, c.procedure.visits, run, beyond).to_target, 0.01 * *result.to_target);
}

} // namespace
} // namespace clearstroke
