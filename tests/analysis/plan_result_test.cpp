#include <gtest/gtest.h>

#include "analysis/plan_result.hpp"

namespace clearstroke {
namespace {

TEST(LastCrossing, IsLinearWithinTheStroke) {
    EXPECT_DOUBLE_EQ(*last_crossing(std::vector{4.0, 3.0, 1.0, 0.5}, 2.0), 1.5);
    EXPECT_DOUBLE_EQ(*last_crossing(std::vector{4.0, 3.0, 1.0}, 1.0), 2.0);
}

TEST(LastCrossing, CountsTheLastTimeNotTheFirst) {
    EXPECT_DOUBLE_EQ(*last_crossing(std::vector{4.0, 0.5, 3.0, 1.0}, 2.0), 2.5);
}

TEST(LastCrossing, NoneWhenItEndsAboveAndZeroWhenNeverAbove) {
    EXPECT_FALSE(last_crossing(std::vector{4.0, 1.0, 2.5}, 2.0));
    EXPECT_EQ(*last_crossing(std::vector{1.0, 0.5}, 2.0), 0.0);
    EXPECT_EQ(*last_crossing(std::vector<double>{}, 2.0), 0.0);
}

StrokeRecord stroke(int number, bool bubble, double liquid) {
    StrokeRecord s;
    s.number = number;
    s.bubble_seen = bubble;
    s.liquid_out = liquid;
    return s;
}

TEST(VisitOutcome, TellsStrokesThatCarriedAirFromThoseThatConfirmed) {
    VisitRecord record;
    record.strokes = {stroke(1, false, 2e-6), stroke(2, true, 3e-6), stroke(3, false, 6e-6),
                      stroke(4, false, 8e-6)};
    record.status.why = RunEnd::seen_clear;
    const VisitOutcome visit = outcome_of(record, {});
    EXPECT_EQ(visit.strokes, 4);
    EXPECT_EQ(visit.carried, 2);
    EXPECT_TRUE(visit.ended_clear);
    EXPECT_DOUBLE_EQ(visit.clear_stroke, 7e-6); // of the strokes after the last bubble
}

TEST(VisitOutcome, CountedStrokesEndClearOnlyWithEnoughClearOnes) {
    VisitRecord record;
    record.strokes = {stroke(1, true, 1e-6), stroke(2, false, 1e-6)};
    record.status.why = RunEnd::done;
    EXPECT_FALSE(outcome_of(record, {}).ended_clear);
    record.strokes.push_back(stroke(3, false, 1e-6));
    EXPECT_TRUE(outcome_of(record, {}).ended_clear);
}

// Two single-volume circuits; what each run left, and what its openings can't move.
Network two_cups() {
    Network net;
    for (const char* name : {"left", "right"}) {
        Volume v;
        v.name = v.place = name;
        v.content = 1e-5;
        net.volumes.push_back(v);
    }
    return net;
}

PlanRun run_that_left(std::vector<double> gas, std::vector<double> beyond) {
    PlanRun run;
    run.air_end.of_volume = gas;
    run.air_end.of_circuit = gas;
    run.air_end.total = gas[0] + gas[1];
    run.air_start = run.air_end;
    run.beyond = std::move(beyond);
    run.fresh_of_volume = {1.0, 1.0};
    return run;
}

TEST(BeyondAll, IsTheLeastThatAnyRunLeavesAndNoMoreThanThePocket) {
    const Network net = two_cups();
    const std::vector<PlanRun> runs = {run_that_left({3e-6, 0.5e-6}, {1e-6, 2e-6}),
                                       run_that_left({2e-6, 0.4e-6}, {1.2e-6, 2e-6})};
    const BeyondAll beyond = beyond_all(net, runs);
    EXPECT_DOUBLE_EQ(beyond.of_volume[0], 1e-6);   // the pocket bounds it
    EXPECT_DOUBLE_EQ(beyond.of_volume[1], 0.4e-6); // less was there
    EXPECT_DOUBLE_EQ(beyond.total, 1.4e-6);
}

TEST(BeyondAll, LeavesOutRunsThatFailed) {
    const Network net = two_cups();
    std::vector<PlanRun> runs = {run_that_left({3e-6, 3e-6}, {2e-6, 2e-6}),
                                 run_that_left({0.0, 0.0}, {0.0, 0.0})};
    runs[1].status.why = RunEnd::step_too_small;
    EXPECT_DOUBLE_EQ(beyond_all(net, runs).total, 4e-6);
}

TEST(Judge, TargetIsPerCircuitAboveWhatIsBeyondReach) {
    Case c;
    c.network = two_cups();
    const std::vector<PlanRun> runs = {run_that_left({1.05e-6, 1.05e-6}, {1e-6, 1e-6}),
                                       run_that_left({1e-6, 1.2e-6}, {1e-6, 1e-6})};
    const BeyondAll beyond = beyond_all(c.network, runs);
    const PlanResult good = judge(c, runs[0], beyond), bad = judge(c, runs[1], beyond);
    EXPECT_TRUE(good.target_met);
    EXPECT_FALSE(bad.target_met);
    EXPECT_FALSE(bad.to_target);
    EXPECT_NEAR(bad.excess, 2e-7, 1e-18);
    EXPECT_NEAR(bad.excess_by_circuit[1], 2e-7, 1e-18);
    ASSERT_EQ(bad.air_by_place.size(), 2u);
    EXPECT_EQ(bad.air_by_place[0].place, "right");
}

// 3 mL in the right cup at first; the last stroke of each of two visits takes `last` mL.
PlanResult judged_after(double last) {
    Case c;
    c.network = two_cups();
    PlanRun run = run_that_left({0.0, 3e-6 - 4.0 * last}, {0.0, 0.0});
    run.air_start.of_circuit = {0.0, 3e-6};
    run.air_start.total = 3e-6;
    for (int v = 0; v < 2; ++v) {
        VisitRecord record;
        for (const int taken : {1, 2}) {
            record.strokes.push_back(stroke(taken, false, 1e-6));
            record.strokes.back().air_by_circuit = {0.0, 3e-6 - (2 * v + taken) * last};
        }
        run.visits.push_back(std::make_shared<DoneVisit>(DoneVisit{record, run.air_end, {}}));
    }
    return judge(c, run, beyond_all(c.network, std::vector{run}));
}

TEST(Judge, AirThatTheLastStrokesHardlyMovedStandsStill) {
    EXPECT_NEAR(judged_after(2e-8).last_moved, 4e-8, 1e-18);
    EXPECT_FALSE(stands_still(judged_after(2e-8))); // 2.92 mL left: in 73 rounds
    EXPECT_TRUE(stands_still(judged_after(1e-8)));  // 2.96 mL left: in 148
    EXPECT_TRUE(stands_still(judged_after(0.0)));
}

TEST(Judge, AFailedRunSaysWhereItFailed) {
    Case c;
    c.network = two_cups();
    PlanRun run = run_that_left({1e-6, 0.0}, {0.0, 0.0});
    run.status = {RunEnd::step_too_small, 1.0, "LF hose", "the step fell below its limit"};
    const PlanResult r = judge(c, run, beyond_all(c.network, std::span(&run, 1)));
    EXPECT_TRUE(r.failed);
    EXPECT_FALSE(r.target_met);
    EXPECT_EQ(r.stopped_because, "could not be computed: the step fell below its limit (LF hose)");
}

TEST(PedalReserve, IsWhatIsLeftAtTheFirstForce) {
    Network net;
    net.actuators.emplace_back();
    const PedalTravel pedal{ActuatorId{0}, {222.0, 500.0}, {0.035, 0.05}, {0.03, 0.04}, {0, 0}};
    EXPECT_FALSE(pedal_reserve(net, pedal));
    net.actuators[0].pad_travel = 0.140;
    EXPECT_DOUBLE_EQ(*pedal_reserve(net, pedal), 0.75);
}

} // namespace
} // namespace clearstroke
