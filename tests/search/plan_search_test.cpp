// The best plan against the best order, and against trying every plan of a small circuit.
#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <algorithm>
#include <map>

#include "analysis/plan_beam.hpp"
#include "analysis/plan_search.hpp"
#include "tests/analysis/two_wheels.hpp"
#include "tests/search/four_wheels.hpp"

namespace clearstroke::testing {
namespace {

struct Compared {
    CaseFactory factory;
    OrdersReport report;
    BestPlan plan;
};

Compared compared(CaseFactory factory, Cost cost = Cost::strokes, int threads = 0, std::size_t width = 4) {
    OrdersRequest request;
    request.cost = cost;
    request.threads = threads;
    Compared c{std::move(factory), {}, {}};
    c.report = compare_orders(c.factory, request);
    PlanRequest ask;
    ask.threads = threads;
    ask.width = width;
    c.plan = find_best_plan(c.factory, c.report, ask);
    return c;
}

void expect_sound(const Compared& c, Cost cost) {
    const BestPlan& plan = c.plan;
    const Case& usual = c.report.usual;
    EXPECT_TRUE(plan.same_bits);
    EXPECT_LE(cost_of(plan.result, cost), cost_of(plan.order, cost) + plan.tie); // the best order is a plan
    const bool gain =
        plan.verdict == BestPlan::Verdict::gain || plan.verdict == BestPlan::Verdict::gain_not_firm;
    EXPECT_EQ(plan.result.target_met, plan.order.target_met || gain);
    std::map<std::size_t, int> made;
    std::map<std::size_t, bool> counted;
    for (const Visit& v : plan.visits) {
        ++made[v.screw.index];
        counted[v.screw.index] = v.strokes.has_value();
    }
    EXPECT_EQ(made.size(), visited_screws(usual.procedure).size());
    for (const auto& [screw, visits] : made) {
        EXPECT_LE(visits, 2);
        EXPECT_FALSE(counted[screw]) << "the last visit to a screw ends on what is seen";
    }
    EXPECT_TRUE(plan.result.visits.back().ended_clear);
    // An ordinary run of the plan.
    const PlanRun run = run_plan(usual, plan.visits);
    int strokes = 0;
    for (const auto& visit : run.visits) strokes += static_cast<int>(visit->record.strokes.size());
    EXPECT_EQ(strokes, plan.result.strokes);
    EXPECT_EQ(run.air_end.total, plan.result.air_left);
}

TEST(BestPlan, OfTwoWheelsBehindATeeIsNoWorseThanTheBestOrder) {
    for (const Cost cost : {Cost::strokes, Cost::time, Cost::fluid})
        expect_sound(compared(small::two_wheels_factory(), cost), cost);
}

class Shipped : public ::testing::TestWithParam<const char*> {};

TEST_P(Shipped, PlanIsNoWorseThanTheBestOrder) {
    expect_sound(compared(factory_of(GetParam(), "little air")), Cost::strokes);
}

INSTANTIATE_TEST_SUITE_P(Small, Shipped, ::testing::Values("motorcycle", "hydraulic_clutch"));

TEST(BestPlan, OfOneScrewIsItsOneVisit) {
    const Compared c = compared(factory_of("hydraulic_clutch", "little air"));
    EXPECT_EQ(c.plan.verdict, BestPlan::Verdict::no_gain);
    ASSERT_EQ(c.plan.visits.size(), 1u);
}

// Every plan of at most two visits a screw, run from its start; counts less than the rule would take.
struct EveryPlan {
    const Case& c;
    BeyondAll beyond;
    double least = 1e9; // strokes of the cheapest that ends clear and reaches the target
    int plans = 0;

    void extend(const std::vector<Visit>& visits) {
        for (const Visit& file : c.procedure.visits) {
            const auto made = std::ranges::count(visits, file.screw, &Visit::screw);
            if (made == 2 || (!visits.empty() && visits.back().screw == file.screw)) continue;
            std::vector<Visit> next = visits;
            next.push_back(file);
            const PlanRun run = run_plan(c, next);
            judge_end(next, run);
            extend(next);
            const int until_clear = static_cast<int>(run.visits.back()->record.strokes.size());
            for (int k = 1; k < until_clear && made == 0; ++k) { // none is stopped at the limit here
                next.back().strokes = k;
                extend(next);
            }
        }
    }

    void judge_end(const std::vector<Visit>& visits, const PlanRun& run) {
        std::map<ScrewId, bool> clear;
        for (std::size_t i = 0; i < visits.size(); ++i)
            clear[visits[i].screw] = run.visits[i]->record.status.why == RunEnd::seen_clear;
        const PlanResult result = judge(c, run, beyond);
        if (clear.size() < c.procedure.visits.size() || !result.target_met ||
            !std::ranges::all_of(clear, [](const auto& s) { return s.second; }))
            return;
        ++plans;
        least = std::min(least, static_cast<double>(result.strokes));
    }
};

TEST(PlanBeam, WithRoomFindsTheBestOfEveryPlan) {
    const Case c = small::two_wheels(2e-6, 1e-6);
    EveryPlan every{c, beyond_all(c.network, {})};
    every.extend({});
    ASSERT_GT(every.plans, 2); // more than the two orders
    const Beam beam =
        search_plans(c, every.beyond, {c.procedure.visits, 2, 1000, Cost::strokes, {}, 0.0, 0.0});
    ASSERT_FALSE(beam.complete.empty());
    EXPECT_EQ(beam.complete.front().spent, every.least);
    for (std::size_t i = 0; i < beam.complete.size(); i += 10) { // what the search saw, run as a plan
        const AirInside end = run_plan(c, beam.complete[i].visits).air_end;
        EXPECT_EQ(end.of_volume, beam.complete[i].air.of_volume);
        EXPECT_EQ(end.of_line, beam.complete[i].air.of_line);
    }
}

// The screw that is open keeps the circuit near ambient pressure, so air elsewhere swallows next to nothing;
// a return fills the hose anew and asks for two clear strokes. So two wheels behind a tee are not worth a
// return.
TEST(BestPlan, BehindATeeAReturnDoesNotPay) {
    const Compared c = compared(small::two_wheels_factory());
    EXPECT_TRUE(c.plan.order.target_met);
    EXPECT_EQ(c.plan.verdict, BestPlan::Verdict::no_gain) << c.plan.sentence;
    EXPECT_THAT(c.plan.sentence, ::testing::StartsWith("No gain"));
}

// Behind a far tee a wheel that is bled to the end leaves air in the stretch it shares with the other, which
// then trickles for many strokes. A few strokes at one, some at the other, then both to the end keep it
// moving.
TEST(BestPlan, BehindAFarTeeAReturnPays) {
    const Scenario scenario = read_scenario("scenarios/rear_tee_far.toml");
    const Case c = scenario.factory.make(usual_values(scenario.factory));
    const auto visit = [&](const char* name, std::optional<int> strokes) {
        const auto at = std::ranges::find(c.network.screws, name, &Screw::name);
        return Visit{ScrewId{static_cast<std::size_t>(at - c.network.screws.begin())}, strokes};
    };
    const std::vector<Visit> plan{visit("RR", 1),  visit("LR", 2),  visit("RR", {}),
                                  visit("LR", {}), visit("RF", {}), visit("LF", {})};
    const std::vector<Visit> order{visit("LF", {}), visit("LR", {}), visit("RF", {}), visit("RR", {})};
    const PlanRun runs[] = {run_plan(c, plan), run_plan(c, order)};
    const BeyondAll beyond = beyond_all(c.network, runs);
    const PlanResult with_return = judge(c, runs[0], beyond), without = judge(c, runs[1], beyond);
    EXPECT_TRUE(with_return.target_met);
    EXPECT_LT(with_return.strokes + 5, without.strokes);
}

TEST(BestPlan, HasTheSameBitsForOneAndTwoThreads) {
    const Compared one = compared(small::two_wheels_factory(), Cost::time, 1),
                   two = compared(small::two_wheels_factory(), Cost::time, 2);
    EXPECT_EQ(one.plan.sentence, two.plan.sentence);
    EXPECT_EQ(one.plan.result.duration, two.plan.result.duration);
    EXPECT_EQ(one.plan.work.strokes, two.plan.work.strokes);
    EXPECT_EQ(one.plan.bound, two.plan.bound);
}

} // namespace
} // namespace clearstroke::testing
