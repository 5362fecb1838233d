// Accounts of methods: what the person does with pedal, screw, hose and unions.
#include "tests/cases/support.hpp"

namespace clearstroke::testing {
namespace {

// Account C18: screw left open, hose end under fluid: nothing comes back but fluid; in air each stroke brings air. Closing before the
// release sends more fluid out per stroke.
TEST(AccountC18, TheOpenScrewNeedsItsHoseEndUnderFluid) {
    const auto bled = [](const Method& method, bool submerged) {
        Network n = one_wheel();
        n.catch_hose.submerged = submerged;
        Job job(n);
        job.plan.method = method;
        job.bleed(8);
        return job;
    };
    const Job open = bled(one_person_hose_in_bottle(), true),
              in_air = bled(one_person_hose_in_bottle(), false),
              closed = bled(two_people_closed_before_release(), true);
    EXPECT_LT(open.last.fluid_discarded, closed.last.fluid_discarded);
    EXPECT_GT(in_air.state.ledger.gas_in, open.state.ledger.gas_in + 1e-6);
}

/// Two wheels behind a tee, the second with this much air, its branch capped or not.
Job two_wheels_with(double other_air, bool capped) {
    const Network n = two_wheels();
    Job job(n, air_in(n, 2, other_air));
    job.plan.person.hold = 0.2;
    if (capped) job.act({Cap{LineId{2}, true}});
    return job;
}

// Account C04: with the unfinished branch capped each stroke sends out what that branch would have taken, whether the screw is open
// during the push or is opened under a held foot. An air-free branch matters little.
TEST(AccountC04, CappingABranchWithAirInItRaisesWhatAStrokeSendsOut) {
    const auto sent = [&](double air, bool capped, const Method& method) {
        Job job = two_wheels_with(air, capped);
        job.plan.method = method;
        return job.bleed(2).last.strokes.back().liquid_out;
    };
    const auto gain = [&](double air, const Method& method) {
        return sent(air, true, method) - sent(air, false, method);
    };
    const Method open_first = two_people_closed_before_release(), under_the_foot = pump_and_hold(0);
    EXPECT_GT(gain(4e-6, open_first), 0.02e-6);
    EXPECT_LT(std::abs(gain(0.0, open_first)), 0.05 * sent(0.0, false, open_first));
    EXPECT_GT(gain(4e-6, under_the_foot), 0.02e-6);
}

// The same account: what a stroke gains by the cap is what the branch holds more of at the moment when the screw is shut.
TEST(AccountC04, TheGainIsWhatTheOtherBranchHoldsWhenTheScrewIsShut) {
    const auto in_branch = [](const State& s) {
        double liquid = s.volumes[2].liquid;
        for (const Cell& cell : s.lines[2]) liquid += cell.liquid;
        return liquid;
    };
    const auto third_stroke = [&](double air, bool capped) {
        Job job = two_wheels_with(air, capped);
        std::pair<double, double> sent_and_held;
        for (int i = 0; i < 3; ++i) {
            job.act({OpenScrew{}});
            const double held = in_branch(job.state), out = job.state.ledger.liquid_out;
            job.act({Press{}, CloseScrew{}});
            sent_and_held = {job.state.ledger.liquid_out - out, in_branch(job.state) - held};
            job.act({Release{}});
        }
        return sent_and_held;
    };
    for (const double air : {2e-6, 4e-6, 12e-6}) {
        const auto [open, held] = third_stroke(air, false);
        const auto [capped, none] = third_stroke(air, true);
        EXPECT_NEAR(capped - open, held, 0.05 * held) << air;
        EXPECT_GT(held, 0.1e-6) << air;
        EXPECT_NEAR(none, 0.0, 1e-12) << air;
    }
}

// The same account: from dry the cap saves strokes, at an air-free branch none.
TEST(AccountC04, CappingSavesStrokesOfADryBranchWhileTheOtherIsDryToo) {
    const auto strokes = [](double other, const Method& method, bool capped) {
        const Network n = two_wheels();
        Contents c = air_in(n, 2, other);
        c.volume_gas[1] = 20e-6;
        c.line_gas[1] = {{0.0, 1.0}};
        if (other > 0.0) c.line_gas[2] = {{0.0, 1.0}};
        Job job(n, c);
        job.plan.method = method;
        if (capped) job.act({Cap{LineId{2}, true}});
        job.last = job.sim.visit(job.state, {ScrewId{0}}, job.plan);
        return static_cast<int>(job.last.strokes.size());
    };
    for (const Method& method :
         {two_people_closed_before_release(), pump_and_hold(0), one_person_hose_in_bottle()}) {
        EXPECT_GE(strokes(6e-6, method, false) - strokes(6e-6, method, true), 1) << method.name;
        EXPECT_EQ(strokes(0.0, method, false), strokes(0.0, method, true)) << method.name;
    }
}

// Account C54: bubbles of a joint that draws air do not decline with the strokes; those of a pocket do.
TEST(AccountC54, DrawnAirDoesNotDeclineAsAPocketDoes) {
    Network leaky = one_wheel();
    leaky.volumes[1].air_entry = 2e-10;
    const auto share_of_late = [](Job job) {
        job.plan.person.release_speed = 0.6;
        job.plan.person.hold = 0.3;
        job.bleed(24);
        double early = 0.0, late = 0.0;
        for (const StrokeRecord& r : job.last.strokes) (r.number <= 12 ? early : late) += r.gas_seen;
        return late / (early + late);
    };
    const Network sound = one_wheel();
    EXPECT_LT(share_of_late(Job(sound, air_in(sound, 1, 4e-6))), 0.05);
    EXPECT_GT(share_of_late(Job(leaky)), 0.3);
}

// Account C58: a foot drives the fluid faster through the same line and screw than a pressure source of 1 bar. Found: a quick stroke
// of half a second does; a careful one of 60 mm/s at the pad does not.
TEST(AccountC58, AQuickFootIsFasterThanOneBarAtTheReservoirAndACarefulOneIsNot) {
    Job quick(one_wheel()), careful(one_wheel()), tank(one_wheel());
    tank.plan.method = reservoir_pressure(1e5, 5.0);
    quick.plan.person.push_speed = 0.24;
    const double by_tank = tank.bleed(3).last.strokes.back().peak_flow;
    EXPECT_GT(quick.bleed(3).last.strokes.back().peak_flow, 1.5 * by_tank);
    EXPECT_LT(careful.bleed(3).last.strokes.back().peak_flow, by_tank);
}

// Account C62: in a night's hold no gas leaves, since the port is shut; 1 mL at 5 bar gauge is 0.17 mL meanwhile (Boyle). The gas is
// measured by what the same caliper holds less of liquid than one without air, at the same force.
TEST(AccountC62, AHeldLeverRemovesNothingBeforeItIsLetGo) {
    const Network n = one_wheel();
    Job with_air(n, air_in(n, 1, 1e-6)), without(n);
    constexpr double lever = 73.0; // about 5 bar [N]
    for (Job* job : {&with_air, &without}) job->act({Press{{}, {}, lever, 60.0}});
    EXPECT_NEAR(with_air.gauge(1), 5.0 * bar, 1.0 * bar);
    const double squeezed = without.state.volumes[1].liquid - with_air.state.volumes[1].liquid;
    EXPECT_NEAR(squeezed / 1e-6, ambient / with_air.state.volumes[1].pressure, 0.01);
    with_air.act({Wait{8.0 * 3600.0}});
    EXPECT_EQ(with_air.state.ledger.gas_out, 0.0);
    EXPECT_NEAR(with_air.air_of(1), 1e-6, 1e-12);
}

// Pump, hold and open at 100 bar in a liquid-full circuit with a hard force limit.
TEST(Violent, OpeningAtAHundredBarRunsCleanly) {
    Job job(one_wheel());
    job.plan.person.force_limit = 1100.0;
    job.plan.method = pump_and_hold();
    job.act({Press{}});
    EXPECT_GT(job.gauge(0), 100.0 * bar);
    job.act({Release{}}).bleed(3);
    EXPECT_GT(job.last.strokes.back().peak_flow, 20e-6);
    EXPECT_LT(job.air(), 1e-9);
}

} // namespace
} // namespace clearstroke::testing
