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

// Account C04: with the unfinished branch capped each stroke sends out what that branch would have taken, whether the screw is open
// during the push or is opened under a held foot. An air-free branch matters little.
TEST(AccountC04, CappingABranchWithAirInItRaisesWhatAStrokeSendsOut) {
    const Network n = two_wheels();
    const auto sent = [&](double air, bool capped, const Method& method) {
        Job job(n, air_in(n, 2, air));
        job.plan.person.hold = 0.2;
        if (capped) job.act({Cap{LineId{2}, true}});
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

// Account C19: a dry cylinder with its outlet shut compresses the same gas for ever; opened, it purges in a few strokes.
TEST(AccountC19, ADryCylinderIsPrimedAtItsOutletNotByPumping) {
    Network n = one_wheel();
    n.screws.push_back(screw("outlet", {0}));
    n.screws.back().at = PortRef{{0}, 1};
    n.volumes[0].ports[1].place = {0.0, 0.1, 0.95};
    const double air = 0.9 * n.volumes[0].content;
    Job pumped(n, air_in(n, 0, air)), primed(n, air_in(n, 0, air));
    pumped.act({Cap{LineId{0}, true}});
    for (int i = 0; i < 8; ++i) pumped.act({Press{}, Release{}});
    primed.plan.method = prime_in_place();
    primed.bleed(8, 1);
    EXPECT_LT(primed.air(), 0.1 * air);
    EXPECT_GT(pumped.air(), 3.0 * primed.air());
}

// Account C20: beyond a block nothing flows, before it everything does.
TEST(AccountC20, OpeningDownstreamOfABlockGivesNothing) {
    Network n = one_wheel();
    n.screws.push_back(screw("banjo", {0}));
    n.screws.back().at = PortRef{{0}, 1};
    Network blocked = n;
    blocked.lines[0].valve.emplace().kind = ValveKind::shut;
    EXPECT_GT(Job(blocked).bleed(3, 1).last.fluid_discarded, 10e-6);
    EXPECT_LT(Job(blocked).bleed(3, 0).last.fluid_discarded, 0.1e-6);
    EXPECT_GT(Job(n).bleed(3, 0).last.fluid_discarded, 10e-6);
}

// Account C32: an open line drains the reservoir while the pedal is at rest; held past its port the loss stops.
TEST(AccountC32, AProppedPedalStopsTheDraining) {
    const auto lost = [](bool propped) {
        Network n = one_wheel();
        n.actuators[0].pistons[0].cup.cracking = 10e3; // above the head of 0.5 m
        Job job(n);
        if (propped) job.act({Press{{}, 0.2, {}, 0.0}});
        job.act({HoseOff{}, OpenScrew{}, Wait{300.0}});
        return job.state.ledger.drawn;
    };
    EXPECT_GT(lost(false), 20e-6);
    EXPECT_LT(lost(true), 2e-6);
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

// Account C61: short strokes around the port let gas of the bore out. Found: in a level bore with the port on top full ones do so too,
// since what they press down the line comes back before the next.
TEST(AccountC61, StrokesShortOfThePortEmptyTheBoreAndSoDoFullOnesOfALevelBore) {
    const Network n = one_wheel();
    Job small(n, air_in(n, 0, 3e-6)), long_ones(n, air_in(n, 0, 3e-6));
    for (int i = 0; i < 12; ++i) {
        small.act({Press{{}, 0.035, {}, 0.0}, Release{{}, {}, 1.0}});
        long_ones.act({Press{{}, {}, {}, 0.0}, Release{{}, {}, 1.0}});
    }
    EXPECT_LT(small.air(), 0.02 * 3e-6);
    EXPECT_LT(long_ones.air(), 0.02 * 3e-6);
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
