#include <gtest/gtest.h>

#include "analysis/comparison.hpp"
#include "analysis/pedal_test.hpp"
#include "tests/analysis/two_wheels.hpp"

namespace clearstroke {
namespace {

TEST(PlanRun, ConservesBothPhasesAndTakesAirOut) {
    const Case c = small::two_wheels(2e-6, 1e-6);
    const PlanRun run = run_plan(c, c.procedure.visits);
    ASSERT_TRUE(run.status.usable()) << run.status.detail;
    EXPECT_LE(run.balance.liquid, 1e-12);
    EXPECT_LE(run.balance.gas, 1e-12);
    EXPECT_NEAR(run.air_start.total, 3e-6, 1e-12);
    EXPECT_LT(run.air_end.total, 0.5 * run.air_start.total);
}

TEST(PlanRun, SumsAreThoseOfItsVisits) {
    const Case c = small::two_wheels(2e-6, 1e-6);
    const PlanRun run = run_plan(c, c.procedure.visits);
    const PlanResult result = judge_alone(c, run);
    int strokes = 0;
    double drawn = 0.0;
    for (const auto& visit : run.visits) {
        strokes += static_cast<int>(visit->record.strokes.size());
        drawn += visit->record.fluid_drawn;
    }
    EXPECT_EQ(result.strokes, strokes);
    EXPECT_EQ(result.carried + result.confirmed, strokes);
    EXPECT_DOUBLE_EQ(result.drawn, drawn);
    ASSERT_TRUE(result.to_target);
    EXPECT_LE(*result.to_target, strokes);
    EXPECT_EQ(result.renewed.size(), 2u);
}

TEST(PlanRun, PreparationCountsAsTime) {
    Case c = small::two_wheels(1e-6, 0.0);
    const double plain = judge_alone(c, run_plan(c, c.procedure.visits)).duration;
    c.procedure.prepare = {Wait{30.0}};
    EXPECT_NEAR(judge_alone(c, run_plan(c, c.procedure.visits)).duration, plain + 30.0, 2.0);
}

TEST(PlanRun, AirMakesThePedalLonger) {
    const Case c = small::two_wheels(2e-6, 1e-6);
    const PlanRun none = run_plan(c, {}); // nothing bled
    ASSERT_EQ(none.pedals.size(), 1u);
    for (std::size_t i = 0; i < none.pedals[0].forces.size(); ++i)
        EXPECT_GT(none.pedals[0].travel[i], none.pedals[0].without_air[i]);
}

// Two wheels whose seals roll: half of 0.4 mL at 1 MPa, and they slide when the pressure turns by 1 MPa.
Case with_seals(double far_air, double near_air) {
    Case c = small::two_wheels(far_air, near_air);
    for (const std::size_t caliper : {1u, 2u}) {
        ElasticLaw& walls = c.network.volumes[caliper].walls;
        walls.settling_volume = 0.4e-6;
        walls.settling_pressure = 1e6;
        walls.play = 0.5e6;
    }
    return c;
}

TEST(PlanRun, ThePedalIsTheStrokeThatRepeatsAfterAHardOne) {
    const Case c = with_seals(2e-6, 1e-6);
    const PedalTravel travel = run_plan(c, c.procedure.visits).pedals.at(0);
    const Simulation sim(c.network, {});
    PedalModel model = make_pedal_model(sim, bled_state(c).after, ActuatorId{0});
    for (std::size_t i = 0; i < travel.forces.size(); ++i) {
        PedalState s = at_rest(model);
        const double first = press(model, s, travel.forces[i]).travel;
        s = at_rest(model);
        let_go(model, s, press(model, s, 2000.0), 0.1, 300.0);
        EXPECT_NEAR(travel.travel[i], press(model, s, travel.forces[i]).travel, 2e-5) << travel.forces[i];
        EXPECT_GT(first, travel.travel[i] + 2e-4) << travel.forces[i];
    }
}

TEST(Comparison, TellsDifferencesAgainstTheFirst) {
    const Case little = small::two_wheels(0.5e-6, 0.0), much = small::two_wheels(4e-6, 2e-6);
    const auto compared = compare_cases({{"little", little}, {"much", much}}, 2);
    ASSERT_EQ(compared.size(), 2u);
    EXPECT_EQ(compared[0].label, "little");
    EXPECT_GT(compared[1].result.carried, compared[0].result.carried);
    EXPECT_EQ(comparison_sentence(compared).rfind("Against little: much takes", 0), 0u)
        << comparison_sentence(compared);
}

TEST(PedalTest, ComesBackTowardsTheLayoutWithoutAir) {
    const Case c = small::two_wheels(2e-6, 1e-6);
    const PedalCases cases = bled_state(c);
    ASSERT_TRUE(cases.status.usable());
    const PedalTest test = test_pedal(c, cases, ActuatorId{0}, {222.0}, find_acceptance_rule("570.5"));
    EXPECT_GT(test.before.slow[0][0], test.after.slow[0][0]);
    EXPECT_GE(test.after.slow[0][0], test.without_air.slow[0][0]);
    EXPECT_EQ(test.after.quick.size(), 3u);
    EXPECT_EQ(test.hold_force, 556.0);
}

TEST(PedalTest, TheSplitAddsUpToTheTravelAtEveryForce) {
    const Case c = small::two_wheels(2e-6, 1e-6);
    const PedalTest test = test_pedal(c, bled_state(c), ActuatorId{0}, {50.0, 222.0, 500.0}, nullptr);
    for (std::size_t i = 0; i < test.forces.size(); ++i) {
        double sum = 0.0;
        for (const ShareByForce& share : test.split_by_force) sum += share.travel[i];
        EXPECT_NEAR(sum, test.after.slow[0][i], 1e-6) << test.forces[i] << " N";
    }
}

} // namespace
} // namespace clearstroke
