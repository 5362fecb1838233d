// Air in the cylinder: what waiting, short strokes, long strokes and the vehicle's attitude do to it.
#include <gtest/gtest.h>

#include "tests/sim/small_circuits.hpp"

namespace clearstroke {
namespace {

using namespace testing;

/// The usual car: closed end of the bore forward, compensating port just ahead of the cup at rest.
Network closed_end_forward() {
    Network n = one_wheel();
    n.volumes[0].axis_heading = -0.5 * pi;
    n.volumes[0].ports[0].place = {0.0, 0.90, 1.0};
    n.volumes[0].ports[1].place = {0.5 * pi, 0.10, 0.9}; // outlet in the side
    return n;
}

Contents with_air(const Network& n, double air) {
    Contents c = full(n);
    c.volume_gas[0] = air;
    return c;
}

void stroke(Simulation& sim, State& s, double share, int count, double speed = 0.2) {
    Operator person;
    person.stroke_share = share;
    person.push_speed = speed;
    person.hold = 0.2;
    person.dwell = 1.0;
    for (int i = 0; i < count; ++i) {
        ASSERT_TRUE(sim.act(s, Press{ActuatorId{0}}, person).usable());
        ASSERT_TRUE(sim.act(s, Release{ActuatorId{0}}, person).usable());
    }
}

TEST(Cylinder, AnHoursWaitRemovesNoAirThroughASmallPort) {
    const Network n = closed_end_forward();
    Simulation sim(n);
    State s = sim.start(with_air(n, 1e-6));
    ASSERT_TRUE(sim.advance(s, 5.0).usable());
    const double before = sim.air(s).total;
    ASSERT_TRUE(sim.advance(s, 3600.0).usable());
    EXPECT_NEAR(sim.air(s).total, before, 1e-12);
    EXPECT_GT(s.volumes[0].gas, 0.98e-6);
}

TEST(Cylinder, StrokesShorterThanTheCutOffSendAirToTheReservoir) {
    const Network n = closed_end_forward();
    Simulation sim(n);
    State s = sim.start(with_air(n, 1e-6));
    stroke(sim, s, 0.9 * 1.2e-3 / 30e-3, 5);
    EXPECT_LT(sim.air(s).total, 0.7e-6);
    EXPECT_GT(s.ledger.gas_out, 0.3e-6);
    EXPECT_EQ(sim.air(s).of_line[0], 0.0);
}

TEST(Cylinder, LongStrokesPushAirDownTheLine) {
    Network n = closed_end_forward();
    n.volumes[0].ports[1].place.clock = 0.0; // outlet on top
    Simulation sim(n);
    State s = sim.start(with_air(n, 3e-6));
    ASSERT_TRUE(sim.act(s, OpenScrew{ScrewId{0}, {}}, Operator{}).usable());
    Operator person;
    ASSERT_TRUE(sim.act(s, Press{ActuatorId{0}}, person).usable());
    const AirInside air = sim.air(s);
    EXPECT_GT(air.of_line[0] + air.of_volume[1] + s.ledger.gas_out, 1e-6);
}

TEST(Cylinder, NoseUpKeepsAPocketThatNoseDownReleases) {
    std::array<double, 2> left{};
    for (const bool down : {false, true}) {
        Network n = closed_end_forward();
        n.conditions.pitch = (down ? -1.0 : 1.0) * 0.3;
        Simulation sim(n);
        State s = sim.start(with_air(n, 0.2e-6));
        stroke(sim, s, 0.9 * 1.2e-3 / 30e-3, 30, 0.03); // gently: a fast stroke draws the pocket down
        left[down] = s.volumes[0].gas;
    }
    EXPECT_GT(left[0], 0.19e-6);
    EXPECT_LT(left[1], 0.05e-6);
}

} // namespace
} // namespace clearstroke
