// Accounts of geometry: where the screw, the pocket and the reservoir stand.
#include "tests/cases/support.hpp"

namespace clearstroke::testing {
namespace {

/// The caliper with its screw at the bottom of the bore, as one fitted on the wrong side.
Network upside_down() {
    Network n = one_wheel();
    n.volumes[1].ports[1].place.clock = half_turn;
    n.volumes[1].ports[0].place.clock = 0.5 * half_turn;
    return n;
}

// Account C01: calipers on the wrong sides keep their air through any number of strokes; held the other way up they give it.
TEST(AccountC01, StrokesLeaveThePocketAndTurningThePartReleasesIt) {
    const Network n = upside_down();
    Job job(n, air_in(n, 1, 4e-6));
    job.bleed(10);
    const double floor = job.air_of(1);
    EXPECT_GT(floor, 3.5e-6);
    job.bleed(50);
    EXPECT_NEAR(job.air_of(1), floor, 0.02 * floor);
    job.act({TurnPart{VolumeId{1}, half_turn}}).bleed(10);
    EXPECT_LT(job.air(), 0.05 * floor);
}
TEST(AccountC01, ControlWithoutAPocketTurningGainsNothing) {
    Job job(upside_down());
    job.bleed(5).act({TurnPart{VolumeId{1}, half_turn}}).bleed(5);
    EXPECT_LT(job.air(), 1e-9);
}

// Account C17: the air that stays falls to nothing at the angle where the screw is the highest point.
TEST(AccountC17, AirThatStaysFallsWithTheRollOfTheCaliper) {
    const Network n = upside_down();
    Simulation sim(n);
    State s = sim.start(full(n));
    double last = 1e9;
    for (const double turned : {0.0, 0.25, 0.5, 0.75, 1.0}) {
        s.volume_roll[1] = turned * half_turn;
        const double stays = sim.beyond_reach(s).geometric[1];
        EXPECT_LT(stays, last);
        last = stays;
    }
    EXPECT_LT(last, 0.02 * n.volumes[1].content);
}

// Account C47: a clutch slave with its screw in the lower of two holes; exchanged, it gives its air.
TEST(AccountC47, ScrewInTheLowerHoleKeepsTheBoreAboveIt) {
    Network low = one_wheel(), high = one_wheel();
    low.volumes[1].ports[1].place.clock = half_turn;
    Job wrong(low, air_in(low, 1, 3e-6)), right(high, air_in(high, 1, 3e-6));
    EXPECT_GT(wrong.bleed(12).air(), 2.5e-6);
    EXPECT_LT(right.bleed(12).air(), 0.1e-6);
}

// Account C03: a caliper held above the reservoir draws air in at its open screw; below it, it does not.
TEST(AccountC03, AnOpenScrewAboveTheReservoirDrawsAir) {
    const Network n = one_wheel();
    const auto drawn = [&](double lift) {
        Job job(n);
        job.act({LiftPart{VolumeId{1}, lift}, OpenScrew{}, Wait{60.0}, CloseScrew{}});
        return job.air();
    };
    EXPECT_GT(drawn(1.2), 0.1e-6);
    EXPECT_LT(drawn(0.0), 1e-9);
}

// Account C25: gas held at the walls of an overhauled caliper is freed by a tap; a pocket below which the screw sits is not.
TEST(AccountC25, ATapHelpsAgainstGasAtTheWallsOnly) {
    const Network n = one_wheel(), wrong = upside_down();
    Contents held = air_in(n, 1, 1e-6), pocket = air_in(wrong, 1, 1e-6);
    held.volume_held = {0.0, 0.7e-6};
    Job untapped(n, held), tapped(n, held), below(wrong, pocket), below_tapped(wrong, pocket);
    EXPECT_GT(untapped.bleed(8).air(), 0.65e-6);
    EXPECT_LT(tapped.act({Tap{}}).bleed(8).air(), 0.1e-6);
    EXPECT_EQ(below.bleed(8).air(), below_tapped.act({Tap{}}).bleed(8).air());
}

} // namespace
} // namespace clearstroke::testing
