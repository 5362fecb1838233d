// Accounts of the cylinder: primed or dry, blocked, propped open or shut, worked by short strokes or from the slave.
#include "tests/cases/support.hpp"

namespace clearstroke::testing {
namespace {

/// A wheel whose cylinder has a screw at its outlet, on top of the bore.
Network with_outlet_screw() {
    Network n = one_wheel();
    n.screws.push_back(screw("outlet", {0}));
    n.screws.back().at = PortRef{{0}, 1};
    n.volumes[0].ports[1].place = {0.0, 0.1, 0.95};
    return n;
}

// Account C19: a dry cylinder with its outlet shut is said to compress the same gas for ever; opened there, it purges in a few strokes.
// Found: so it is with its compensating port shut, to the last bit. Through an open port each stroke gives away what it displaces before
// it is shut (0.46 mL at the most), and more by what the cup lets in while gas that has cooled is let go: eight strokes leave a third. The
// cylinder alone, without strokes, keeps its gas.
TEST(AccountC19, ADryCylinderIsPrimedAtItsOutletSlowerAtItsPortAndNotAtAllWithThePortShut) {
    const Network n = with_outlet_screw();
    const double air = 0.9 * n.volumes[0].content;
    const auto pumped = [&](int strokes, bool port_shut) {
        Network other = n;
        other.actuators[0].pistons[0].port_blocked = port_shut;
        Job job(other, air_in(other, 0, air));
        job.act({Cap{LineId{0}, true}, Wait{20.0}});
        for (int i = 0; i < strokes; ++i) job.act({Press{}, Release{}});
        return job.air() / air;
    };
    EXPECT_DOUBLE_EQ(pumped(8, true), 1.0);
    EXPECT_NEAR(pumped(8, false), 0.32, 0.02);
    EXPECT_GT(pumped(0, false), 0.999);
    Job primed(n, air_in(n, 0, air));
    primed.plan.method = prime_in_place();
    EXPECT_LT(primed.bleed(8, 1).air(), 1e-3 * air);
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

// The same account: a block at the cylinder leaves the pedal short and hard, a cylinder that was not primed long and soft.
TEST(AccountC20, ABlockAtTheCylinderIsShortAndHardAndAnUnprimedOneLongAndSoft) {
    const auto travel = [](const Network& n, double air, double force) {
        Job job(n, air_in(n, 0, air));
        return job.act({Press{{}, 1.0, force, 1.0}}).state.actuators[0].x;
    };
    const Network sound = one_wheel();
    Network blocked = sound;
    blocked.lines[0].valve.emplace().kind = ValveKind::shut;
    const double cut_off = sound.actuators[0].pistons[0].cut_off, air = 0.9 * sound.volumes[0].content;
    EXPECT_NEAR(travel(blocked, 0.0, 60.0), cut_off, 0.01 * cut_off);
    const auto softness = [&](const Network& n, double gas) {
        return travel(n, gas, 60.0) - travel(n, gas, 30.0);
    };
    EXPECT_LT(softness(blocked, 0.0), 0.2 * softness(sound, 0.0));
    EXPECT_GT(travel(sound, air, 60.0), 10.0 * travel(sound, 0.0, 60.0));
    EXPECT_GT(softness(sound, air), 10.0 * softness(sound, 0.0));
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

/// A wheel whose reservoir holds 20 mL above its outlet, and whose cup does not lift under the head.
Network about_to_drain(double drawdown) {
    Network n = one_wheel();
    n.reservoirs[0].initial = 40e-6;
    n.actuators[0].pistons[0].cup.cracking = 10e3;
    n.conditions.drawdown_scale = drawdown;
    return n;
}

// The same account: left to drain, air comes in when what stood above the reservoir's outlet has run out at the gravity flow; looked at
// every second. Drawdown at the outlet makes it sooner.
TEST(AccountC32, AirComesInWhenTheReservoirIsDownToItsOutlet) {
    const auto seconds_over_hand = [](double drawdown) {
        const Network n = about_to_drain(drawdown);
        Job job(n);
        job.act({HoseOff{}, OpenScrew{}, Wait{10.0}});
        const double above =
            job.state.reservoirs[0].liquid[0] - n.reservoirs[0].outlet_height * n.reservoirs[0].area;
        const double before = job.state.ledger.drawn, begin = job.state.t;
        job.act({Wait{10.0}});
        const double by_hand = above / ((job.state.ledger.drawn - before) / 10.0);
        while (job.state.ledger.leaked_in < 1e-9 && job.state.t < begin + 300.0) job.act({Wait{1.0}});
        return (job.state.t - begin) / by_hand;
    };
    EXPECT_NEAR(seconds_over_hand(0.0), 1.0, 0.1); // the flow falls with the level
    EXPECT_LT(seconds_over_hand(1.0), 0.9);
}

// The same account: five minutes on, air stands in the cylinder and the pipe; with the pedal propped none has come and nothing was lost.
TEST(AccountC32, ADrainedReservoirFillsTheCylinderWithAirAndAProppedOneDoesNot) {
    Job open(about_to_drain(1.0)), propped(about_to_drain(1.0));
    propped.act({Press{{}, 0.2, {}, 0.0}});
    for (Job* job : {&open, &propped}) {
        job->act({HoseOff{}, OpenScrew{}});
        for (int i = 0; i < 300; ++i) job->act({Wait{1.0}});
    }
    EXPECT_GT(open.air_of(0), 0.3e-6);
    EXPECT_GT(open.air(), 15e-6);
    EXPECT_LT(propped.air(), 1e-10); // a trace in the open screw
    EXPECT_LT(propped.state.ledger.drawn, 0.0);
}

// The same account: however long one waits at once, the reservoir is never taken below empty, and what is left in it, what was drawn and
// the air inside do not depend on how often one looks; with the outlet at its floor, to the last drop.
TEST(AccountC32, AReservoirIsDrainedToItsOutletHoweverLongOneWaits) {
    for (const double outlet : {0.0, 5e-3}) {
        Network n = about_to_drain(1.0);
        n.reservoirs[0].outlet_height = outlet;
        Job once(n), often(n);
        for (Job* job : {&once, &often}) job->act({HoseOff{}, OpenScrew{}});
        once.act({Wait{1200.0}});
        for (int i = 0; i < 1200; ++i) often.act({Wait{1.0}});
        EXPECT_GE(once.state.reservoirs[0].liquid[0], 0.0);
        EXPECT_LT(once.state.reservoirs[0].liquid[0], outlet * n.reservoirs[0].area + 2e-6);
        EXPECT_NEAR(once.state.reservoirs[0].liquid[0], often.state.reservoirs[0].liquid[0], 0.5e-6);
        EXPECT_NEAR(once.state.ledger.drawn, often.state.ledger.drawn, 0.5e-6);
        EXPECT_NEAR(once.air(), often.air(), 0.01 * often.air());
    }
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

// The same account: the slave worked by hand pumps gas up the pipe and out at the port if what it displaces is more than what lies
// between the gas and the cylinder; 0.4 times that, and the gas goes to and fro. A bubble outruns its liquid, so 0.7 times suffice.
TEST(AccountC61, ASlaveWorkedByHandExpelsTheGasThatItCanReach) {
    const double bore = 4.9e-3, content = 2.0 * pi * 0.25 * bore * bore, gas = 0.5e-6;
    Network n = with_bore(bore);
    const Actuator slave = blind_piston(1, 9e-3);
    n.actuators.push_back(slave);
    const auto left = [&](double times) { // what a cycle displaces over what lies before the gas
        const double before_gas = 0.4 * content;
        Job job(n, gas_in_line(n, 0.4, 0.4 + gas / content));
        job.plan.person = {.push_speed = 2e-3, .release_speed = 2e-3, .force_limit = 2000.0};
        const double share = times * before_gas / (slave.pistons[0].area * slave.pistons[0].stroke);
        for (int i = 0; i < 3; ++i)
            job.act({Press{ActuatorId{1}, share, {}, 0.5}, Release{ActuatorId{1}, {}, 10.0}});
        return job.air() / gas;
    };
    for (const double times : {0.25, 0.4}) EXPECT_NEAR(left(times), 1.0, 1e-9) << times;
    for (const double times : {0.7, 1.0, 1.2}) EXPECT_LT(left(times), 0.02) << times;
}

} // namespace
} // namespace clearstroke::testing
