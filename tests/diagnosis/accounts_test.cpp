// Reported cases, retold: what the pedal did, and whether the diagnosis says what was found. Amounts are
// ours; the accounts give none. An account is evidence of what people meet, not a measurement.
#include <cmath>

#include <gtest/gtest.h>

#include "tests/diagnosis/pedals.hpp"

namespace clearstroke::testing {
namespace {

constexpr double foot = 200.0; // [N]

double sink(const PedalModel& model, double force, double seconds) {
    PedalState s = used_before(model);
    const double before = hold(model, s, force, 2.0).travel;
    return hold(model, s, force, seconds).travel - before;
}

// A small saloon after a change of very old fluid: the pedal went to the floor and sank under a light steady
// load; a new cylinder cured it.
TEST(Accounts, SinkingAfterAFluidChangeIsTheCup) {
    const Scenario s = scenario("front_rear_split");
    const Bench bench(s, false);
    PedalModel faulty = usual_model(s);
    afflict(faulty, bench.suspect(Cause::bypass), 2e-14);
    EXPECT_GT(sink(faulty, 60.0, 30.0), 1e-3) << "sinks under a light load, by what a ruler shows";
    EXPECT_GT(sink(faulty, 120.0, 30.0), 1.5 * sink(faulty, 60.0, 30.0)) << "faster under more";
    PedalModel air = usual_model(s);
    afflict(air, bench.suspect(Cause::air, "LF caliper"), 4e-6);
    EXPECT_LT(sink(air, 120.0, 30.0), 1e-6) << "air gives travel at once and then holds";
    PedalModel both = faulty;
    afflict(both, bench.suspect(Cause::air, "LF caliper"), 4e-6);
    // The air's longer travel loads the return springs more, which takes some pressure from the leak.
    EXPECT_NEAR(sink(both, foot, 30.0) / sink(faulty, foot, 30.0), 1.0, 0.05) << "bleeding leaves the rate";
    const Diagnosis d = bench.diagnose(faulty, {Bubbles::none, false});
    EXPECT_TRUE(bench.first_set_holds(d, Cause::bypass));
    EXPECT_GT(bench.probability(d, Cause::bypass), 0.9);
    EXPECT_GT(d.danger_probability, 0.9);
}

// An older import after a pad change: pumps up but does not stay up; a stuck piston of a fixed pair, so that the other one flexes the disc
// (C36): quick strokes pump it up. Clamps in turn find the corner. The sound car beside it is the one that the diagnosis knows.
TEST(Accounts, PumpsUpButDoesNotStayUpIsFoundByClamps) {
    const Scenario s = scenario("stuck_piston", {"faults.stuck.\"RF caliper inner\"=0",
                                                 "volumes.\"RF caliper outer\".take_up_volume=0 mL"});
    const Bench bench(s, true);
    PedalModel faulty = usual_model(scenario("stuck_piston"));
    const Push quick{quick_gas, 0.25};
    PedalState state = used_before(faulty);
    PedalModel worked = faulty;
    const PedalReading first = press(worked, state, foot, quick);
    let_go(worked, state, first, 0.4, 0.2);
    const PedalReading second = press(worked, state, foot, quick);
    let_go(worked, state, second, 0.4, 120.0);
    const double later = press(worked, state, foot, quick).travel;
    EXPECT_LT(second.travel, first.travel - 4e-3) << "pumps up, by more than a ruler's error";
    EXPECT_NEAR(later, first.travel, 1e-3) << "does not stay up";
    const Diagnosis d = bench.diagnose(faulty, {Bubbles::none, false});
    const Suspect& told = bench.bank.suspects[d.sets.front().suspects.front()];
    EXPECT_EQ(told.place, "RF caliper") << told.name();
    EXPECT_TRUE(bench.first_set_holds(d, Cause::roll_back));
}

// A 1950s saloon with four drums whose front brakes never stopped giving bubbles: the cylinder was full of
// sludge. Bubbles that do not decline speak for a joint that draws air, bubbles that decline for a pocket.
TEST(Accounts, EndlessBubblesSpeakForAJointThatDrawsAir) {
    const Scenario s = scenario("rear_drums");
    const Bench bench(s, false);
    PedalModel faulty = usual_model(s);
    afflict(faulty, bench.suspect(Cause::air_entry, "LF caliper"), 3e-6);
    const Diagnosis endless = bench.diagnose(faulty, {Bubbles::did_not_decline, false}),
                    declined = bench.diagnose(faulty, {Bubbles::declined, false});
    EXPECT_GT(bench.probability(endless, Cause::air_entry), 0.8);
    EXPECT_GT(endless.danger_probability, 0.8);
    EXPECT_GT(bench.probability(declined, Cause::air), bench.probability(declined, Cause::air_entry));
}

/// Quick strokes without a pause until the rear circuit stands above the shoes' springs.
int strokes_to_firm(PedalModel model, double gap) {
    PedalState s = used_before(model);
    for (int n = 1; n <= 20; ++n) {
        const PedalReading r = press(model, s, foot, {quick_gas, 0.25});
        if (!r.at_stop && s.circuits[1].pressure > 10e5) return n;
        let_go(model, s, r, 0.4, gap);
    }
    return 21;
}

// A 4x4 with renewed rear shoes: very soft, hard after 5 or 6 pumps, the hand brake does nothing, no fluid
// lost. Slack of five strokes: 5 (16 - 1.5) mm of stroke over 387.9 mm^2 is 28 mL, over four pistons of 285
// mm^2 24.7 mm.
TEST(Accounts, HardAfterFiveOrSixPumpsIsSlackWhereTheShoesComeBackSlowly) {
    const std::vector<std::string> slack{"drums.rear.slack=24.7 mm"};
    auto weak = slack;
    weak.insert(weak.end(), {"drums.rear.spring_from=0.3 bar", "drums.rear.spring_to=0.8 bar"});
    const int n = strokes_to_firm(usual_model(scenario("rear_drums", weak)), 0.0);
    EXPECT_GE(n, 5);
    EXPECT_LE(n, 6);
    // With springs of 3 to 6 bar the shoes push the fluid home within the release: half a second apart, 20
    // strokes do not do it.
    EXPECT_GT(strokes_to_firm(usual_model(scenario("rear_drums", slack)), 0.5), 20);
}

// The same sign in the usual range: the hand brake shortens the pedal, and the diagnosis says slack, not air.
TEST(Accounts, SlackIsToldFromAirByTheHandBrake) {
    const Scenario s = scenario("rear_drums");
    const Bench bench(s, false);
    PedalModel faulty = usual_model(s);
    afflict(faulty, bench.suspect(Cause::slack, "LR wheel cylinder"), 4e-6);
    const Diagnosis d = bench.diagnose(faulty, {Bubbles::none, false});
    EXPECT_GT(bench.probability(d, Cause::slack), 0.8);
    EXPECT_LT(d.air_probability, 0.1);
}

} // namespace
} // namespace clearstroke::testing
