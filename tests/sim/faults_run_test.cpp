// Faults that the bleeding run feels.
#include <gtest/gtest.h>

#include "tests/sim/small_circuits.hpp"

namespace clearstroke {
namespace {

using namespace testing;

constexpr double per_bar = 1e-11; // 1 mL/s/bar [m^3/(s Pa)]

/// Strokes with every screw shut.
State worked(const Network& n, int strokes, Operator person = {}) {
    Simulation sim(n);
    State s = sim.start(full(n));
    for (int i = 0; i < strokes; ++i) {
        EXPECT_TRUE(sim.act(s, Press{}, person).usable());
        EXPECT_TRUE(sim.act(s, Release{}, person).usable());
    }
    EXPECT_LE(sim.balance(s).liquid, 1e-12);
    EXPECT_LE(sim.balance(s).gas, 1e-12);
    return s;
}

// A weep of k at gauge e for the time t loses k e t.
TEST(FaultInARun, AWeepLosesFluidInProportionToPressureAndTime) {
    Network n = one_wheel();
    n.volumes[1].leak = 0.001 * per_bar;
    Simulation sim(n);
    State s = sim.start(full(n));
    const Operator person;
    ASSERT_TRUE(sim.act(s, Press{{}, {}, {}, 1.0}, person).usable());
    const double before = s.ledger.liquid_out, e = sim.pressures(s)[1] - 101325.0;
    ASSERT_TRUE(sim.act(s, Press{{}, {}, {}, 30.0}, person).usable());
    EXPECT_NEAR((s.ledger.liquid_out - before) / (n.volumes[1].leak * e * 30.0), 1.0, 0.05);
    EXPECT_EQ(s.bottle, 0.0);
}

TEST(FaultInARun, ACupBypassSinksThePedalAndLosesNothing) {
    Network n = one_wheel();
    n.actuators[0].pistons[0].bypass = 0.005 * per_bar;
    Simulation sim(n);
    State s = sim.start(full(n));
    const Operator person;
    ASSERT_TRUE(sim.act(s, Press{{}, {}, {}, 2.0}, person).usable());
    const double x = s.actuators[0].x, e = sim.pressures(s)[0] - 101325.0;
    ASSERT_TRUE(sim.act(s, Press{{}, {}, {}, 20.0}, person).usable());
    // The rod sinks at k e / A: what goes past the cup.
    EXPECT_NEAR((s.actuators[0].x - x) /
                    (n.actuators[0].pistons[0].bypass * e * 20.0 / n.actuators[0].pistons[0].area),
                1.0, 0.1);
    EXPECT_EQ(s.ledger.liquid_out, 0.0);
}

TEST(FaultInARun, AJointThatDrawsAirDoesSoOnlyBelowAmbient) {
    Network n = one_wheel();
    n.volumes[1].air_entry = 50.0 * per_bar;
    Operator quick;
    quick.release_speed = 2.0;
    EXPECT_GT(worked(n, 3, quick).ledger.leaked_in, 1e-9);
    n.volumes[1].height = n.reservoirs[0].floor_height - 12.0; // no suction reaches below ambient there
    n.lines[0].to_height = n.volumes[1].height;
    EXPECT_EQ(worked(n, 3, quick).ledger.leaked_in, 0.0);
}

TEST(FaultInARun, ABlockedPortKeepsWhatTheCupLetIn) {
    Network n = one_wheel();
    n.volumes[1].walls.compliance = 1e-12;
    Network blocked = n;
    blocked.actuators[0].pistons[0].port_blocked = true;
    const State open = worked(n, 4), kept = worked(blocked, 4);
    EXPECT_GT(kept.volumes[1].pressure, open.volumes[1].pressure + 0.1e5);
}

} // namespace
} // namespace clearstroke
