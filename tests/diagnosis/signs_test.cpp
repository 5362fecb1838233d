// Contested signs: what a pedal does under each cause, as the page docs/diagnosis.md tells it.
#include <gtest/gtest.h>

#include "tests/diagnosis/pedals.hpp"

namespace clearstroke::testing {
namespace {

constexpr double foot = 200.0; // [N]

std::vector<double> strokes(PedalModel model, int count, double gap) {
    PedalState s = used_before(model);
    std::vector<double> out;
    for (int i = 0; i < count; ++i) {
        const PedalReading r = press(model, s, foot, {slow_gas, 0.25});
        out.push_back(r.travel);
        let_go(model, s, r, 0.4, gap);
    }
    return out;
}

PedalModel with(const Scenario& s, Cause cause, const std::string& place, double amount) {
    FullModel full = full_model(s.factory, {0}, usual_values(s.factory));
    for (const Suspect& suspect : suspects_of(full.network, full.model))
        if (suspect.cause == cause && suspect.place == place) afflict(full.model, suspect, amount);
    return full.model;
}

// "Pumping up proves air" and "proves slack": both do it, and only when the next stroke comes before the
// fluid is home.
TEST(Signs, PumpingUpNeedsStrokesFasterThanTheFluidComesHome) {
    const Scenario warm = scenario("rear_drums"),
                   cold = scenario("rear_drums", {"conditions.temperature=-10 degC"});
    const auto gain = [](const PedalModel& m, double gap) {
        const auto t = strokes(m, 2, gap);
        return t[0] - t[1];
    };
    for (const Scenario* s : {&warm, &cold}) {
        const PedalModel air = with(*s, Cause::air, "LR wheel cylinder", 2e-6),
                         slack = with(*s, Cause::slack, "LR wheel cylinder", 2e-6),
                         seal = with(*s, Cause::roll_back, "LF caliper", 2e-6);
        for (const PedalModel* m : {&air, &slack, &seal}) {
            EXPECT_GT(gain(*m, 0.0), 2e-3);
            EXPECT_LT(gain(*m, 60.0), 0.3 * gain(*m, 0.0));
        }
    }
    // Shoe springs of 3 to 6 bar bring their fluid home in a third of a second when warm, not when cold.
    const double warm_gain = gain(with(warm, Cause::slack, "LR wheel cylinder", 2e-6), 0.3),
                 cold_gain = gain(with(cold, Cause::slack, "LR wheel cylinder", 2e-6), 0.3);
    EXPECT_LT(warm_gain, 0.5 * cold_gain);
}

// Firm, then soft after driving or standing: pistons knocked back come out once and stay; air and slack come
// back.
TEST(Signs, OnlyKnockBackIsCuredByOneStroke) {
    const Scenario s = scenario("rear_drums");
    const auto knocked = strokes(with(s, Cause::knock_back, "LF caliper", 2e-6), 2, 300.0),
               air = strokes(with(s, Cause::air, "LF caliper", 2e-6), 2, 300.0),
               slack = strokes(with(s, Cause::slack, "LR wheel cylinder", 2e-6), 2, 300.0);
    EXPECT_GT(knocked[0] - knocked[1], 10e-3);
    EXPECT_NEAR(air[0], air[1], 1e-3);
    EXPECT_NEAR(slack[0], slack[1], 1e-3);
}

// "A slowly sinking pedal": a joint that loses fluid or a cup; air does not.
TEST(Signs, OnlyLossSinks) {
    const Scenario s = scenario("rear_drums");
    const auto sink = [&](Cause cause, const std::string& place, double amount) {
        const PedalModel m = with(s, cause, place, amount);
        PedalState state = used_before(m);
        const double before = hold(m, state, foot, 2.0).travel;
        return hold(m, state, foot, 60.0).travel - before;
    };
    EXPECT_GT(sink(Cause::bypass, "primary chamber", 1e-14), 2e-3);
    EXPECT_GT(sink(Cause::leak, "the circuit of the primary chamber", 1e-14), 2e-3);
    EXPECT_LT(sink(Cause::air, "LF caliper", 5e-6), 1e-6);
    EXPECT_LT(sink(Cause::hose, "LF hose", 10.0), 1e-6);
}

// Soft and clear: air swallows volume at low force, a hose goes on swelling at high force, slack is all taken
// up before the force rises.
TEST(Signs, ShapeOfTheCurveTellsAirFromHoseFromSlack) {
    const Scenario s = scenario("rear_drums");
    const PedalModel sound = usual_model(s);
    const auto extra = [&](const PedalModel& m, double force) {
        PedalState a = used_before(m), b = used_before(sound);
        return press(m, a, force).travel - press(sound, b, force).travel;
    };
    const auto late_share = [&](Cause cause, const std::string& place, double amount) {
        const PedalModel m = with(s, cause, place, amount);
        return (extra(m, 400.0) - extra(m, 120.0)) / extra(m, 400.0);
    };
    const double air = late_share(Cause::air, "LF caliper", 2e-6),
                 hose = late_share(Cause::hose, "LF hose", 8.0),
                 slack = late_share(Cause::slack, "LR wheel cylinder", 2e-6);
    EXPECT_LT(slack, 0.02);
    EXPECT_LT(air, 0.15);
    EXPECT_GT(hose, 0.3);
}

} // namespace
} // namespace clearstroke::testing
