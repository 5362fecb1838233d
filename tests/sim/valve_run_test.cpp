// Valves in a line, on one wheel: what stands on both sides of them after a push, and what passes.
#include <gtest/gtest.h>

#include "tests/sim/small_circuits.hpp"

namespace clearstroke {
namespace {

using namespace testing;

constexpr double bar = 1e5, ambient = 101325.0;
constexpr double decompression = 5e-9; // of the caliper from its head to ambient pressure [m^3]

Network with_valve(Valve v) {
    Network n = one_wheel();
    n.lines[0].valve = v;
    return n;
}
Valve of_kind(ValveKind kind) {
    Valve v;
    v.kind = kind;
    return v;
}

/// Gauge pressures of cylinder and caliper [Pa], pressed or released again and settled.
struct Settled {
    double cylinder{}, caliper{};
};
Settled pressed(const Network& n, double force, bool released, bool held_open = false) {
    Simulation sim(n);
    State s = sim.start(full(n));
    Operator person;
    person.force_limit = force;
    person.hold = 5.0;
    person.dwell = 20.0;
    if (held_open) {
        EXPECT_TRUE(sim.act(s, HoldValve{LineId{0}}, person).usable());
    }
    EXPECT_TRUE(sim.act(s, Press{}, person).usable());
    if (released) {
        EXPECT_TRUE(sim.act(s, Release{}, person).usable());
    }
    EXPECT_LE(sim.balance(s).liquid, 1e-12);
    return {sim.pressures(s)[0] - ambient, sim.pressures(s)[1] - ambient};
}

TEST(ValveInALine, ResidualPressureStaysBehindItAfterTheRelease) {
    Valve v = of_kind(ValveKind::residual);
    v.residual = 0.7 * bar;
    // Held against the lowest pressure that the release gave the cylinder, a tenth of a bar below ambient.
    const double kept = pressed(with_valve(v), 250.0, true).caliper;
    EXPECT_GT(kept, 0.5 * bar);
    EXPECT_LT(kept, 0.75 * bar);
    EXPECT_LT(pressed(one_wheel(), 250.0, true).caliper, 0.1 * bar);
}

TEST(ValveInALine, OneWayKeepsThePressure) {
    const Settled p = pressed(with_valve(of_kind(ValveKind::one_way)), 250.0, true);
    EXPECT_GT(p.caliper, 10.0 * bar);
    EXPECT_LT(p.cylinder, 0.2 * bar);
}

TEST(ValveInALine, ProportioningReducesAboveTheKneeAndIsNotFeltBelow) {
    Valve v = of_kind(ValveKind::proportioning);
    v.knee = 10.0 * bar;
    v.slope = 0.4;
    const Settled p = pressed(with_valve(v), 500.0, false);
    ASSERT_GT(p.cylinder, 20.0 * bar);
    EXPECT_NEAR(p.caliper, 10.0 * bar + 0.4 * (p.cylinder - 10.0 * bar), 0.02 * p.caliper);
    const Settled open = pressed(with_valve(v), 500.0, false, true);
    EXPECT_NEAR(open.caliper, open.cylinder, 0.01 * open.cylinder);
    v.knee = 100.0 * bar;
    const Settled below = pressed(with_valve(v), 500.0, false);
    EXPECT_NEAR(below.caliper, below.cylinder, 0.01 * below.cylinder);
}

/// Liquid that leaves the screw within 20 s under pressure at the reservoir [m^3].
double outflow(const Network& n, double reservoir, bool held_open) {
    Simulation sim(n);
    State s = sim.start(full(n));
    const Operator person;
    if (held_open) {
        EXPECT_TRUE(sim.act(s, HoldValve{LineId{0}}, person).usable());
    }
    for (const Act& act :
         {Act{ReservoirPressure{reservoir}}, Act{OpenScrew{ScrewId{0}, {}}}, Act{Wait{20.0}}})
        EXPECT_TRUE(sim.act(s, act, person).usable());
    EXPECT_LE(sim.balance(s).liquid, 1e-12);
    return s.ledger.liquid_out;
}

TEST(ValveInALine, MeteringHoldsBackAPressureSourceBelowItsHoldOffUnlessHeldOpen) {
    Valve v = of_kind(ValveKind::metering);
    v.hold_off = 6.0 * bar;
    const double plain = outflow(one_wheel(), bar, false);
    EXPECT_GT(plain, 20e-6);
    EXPECT_LT(outflow(with_valve(v), bar, false), decompression);
    EXPECT_NEAR(outflow(with_valve(v), bar, true), plain, 0.1 * plain);
    EXPECT_GT(outflow(with_valve(v), 8.0 * bar, false), 20e-6);
}

TEST(ValveInALine, ShutPassesNothingUntilHeldOpen) {
    EXPECT_LT(outflow(with_valve(of_kind(ValveKind::shut)), bar, false), decompression);
    EXPECT_GT(outflow(with_valve(of_kind(ValveKind::shut)), bar, true), 20e-6);
}

TEST(ValveInALine, ANarrowHoleThrottles) {
    Valve v = of_kind(ValveKind::restriction);
    v.passage = {0.1e-3, 5e-3, 0.62};
    EXPECT_LT(outflow(with_valve(v), bar, false), 0.1 * outflow(one_wheel(), bar, false));
}

} // namespace
} // namespace clearstroke
