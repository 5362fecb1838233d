// Gas that is no pocket: small bubbles in volumes and lines, gas that flow frees from walls, air out of solution.
#include <gtest/gtest.h>

#include "models/gas.hpp"
#include "models/small_bubble.hpp"
#include "models/solution.hpp"
#include "models/wall_bubble.hpp"
#include "tests/sim/small_circuits.hpp"

namespace clearstroke {
namespace {

using namespace testing;

constexpr std::size_t in_cylinder = 0, in_caliper = 1;

Network bubbly(double diameter) {
    Network n = one_wheel();
    n.conditions.bubbles.diameter = diameter;
    return n;
}

Contents dispersed(const Network& n, double share) {
    Contents c = full(n);
    c.dispersed = share;
    return c;
}

/// So much free air in one volume, all of it in small bubbles.
State with_bubbles_in(std::size_t volume, double gas, const Simulation& sim, const Network& n) {
    Contents c = full(n);
    c.volume_gas[volume] = gas;
    State s = sim.start(c);
    s.volumes[volume].dispersed = s.volumes[volume].gas;
    return s;
}

void expect_balanced(const Simulation& sim, const State& s) {
    EXPECT_LE(sim.balance(s).liquid, 1e-12);
    EXPECT_LE(sim.balance(s).gas, 1e-12);
}

Liquid fluid_of(const Network& n) { return liquid_at(n.conditions.fluid, n.conditions.temperature); }

// A share phi of bubbles gives like a pocket of phi V: same amounts, same pressure under the same rod.
TEST(SmallBubbles, GiveLikeAPocketOfTheSameGas) {
    Network n = bubbly(0.1e-3);
    n.actuators[0].pistons[0].port_blocked = true; // nothing leaves by it
    Contents pocket = full(n);
    const double share = 0.02;
    for (std::size_t v = 0; v < 2; ++v) pocket.volume_gas[v] = share * n.volumes[v].content;
    pocket.line_gas[0] = {{0.5, 0.5 + share}};
    Simulation sim(n);
    State bubbles = sim.start(dispersed(n, share)), gas = sim.start(pocket);
    EXPECT_NEAR(sim.air(bubbles).total, sim.air(gas).total, 1e-6 * sim.air(gas).total);
    Operator person;
    for (State* s : {&bubbles, &gas}) ASSERT_TRUE(sim.act(*s, Press{{}, 1.0, 200.0, 20.0}, person).usable());
    EXPECT_NEAR(bubbles.actuators[0].x / gas.actuators[0].x, 1.0, 2e-3);
    EXPECT_NEAR(bubbles.volumes[1].pressure / gas.volumes[1].pressure, 1.0, 1e-3);
    expect_balanced(sim, bubbles);
}

// At rest the bubbles of a cavity go to its pocket as exp(-U t / H), whatever the steps; the gas stays the same.
TEST(SmallBubbles, RiseToThePocketInTheirTime) {
    for (const double diameter : {0.1e-3, 0.3e-3}) {
        const Network n = bubbly(diameter);
        Simulation sim(n);
        State s = sim.start(dispersed(n, 0.01));
        ASSERT_TRUE(sim.advance(s, 2.0).usable()); // pressures settle
        const double before = s.volumes[in_caliper].dispersed, gas = s.volumes[in_caliper].gas;
        ASSERT_TRUE(sim.advance(s, 15.0).usable());
        const double d = diameter_at(s.volumes[in_caliper].pressure, diameter, standard_atmosphere);
        const double speed = terminal_velocity(d, fluid_of(n), 1.2), height = 0.5 * pi * 27e-3;
        EXPECT_NEAR(s.volumes[in_caliper].dispersed / before, std::exp(-speed * 15.0 / height), 2e-3);
        EXPECT_NEAR(s.volumes[in_caliper].gas, gas, 2e-3 * gas);
        expect_balanced(sim, s);
    }
}

/// Share of its bubbles that a caliper keeps when about twice its content has been washed through by 0.5 bar at the reservoir,
/// over what is expected; with a pocket above its low screw, or without.
double kept(double bubble_step, double pocket) {
    Network n = bubbly(1e-6); // do not rise
    n.volumes[in_caliper].ports[1].place.clock = pi;
    n.reservoirs[0].capacity = 2e-3;
    n.reservoirs[0].initial = 1.5e-3;
    Settings settings;
    settings.bubble_step = bubble_step;
    Simulation sim(n, settings);
    State s = with_bubbles_in(in_caliper, 1e-8 + pocket, sim, n); // too little to change the flow
    s.volumes[in_caliper].dispersed = 1e-8;
    Operator person;
    EXPECT_TRUE(sim.act(s, ReservoirPressure{0.5e5}, person).usable());
    EXPECT_TRUE(sim.act(s, OpenScrew{ScrewId{0}, {}}, person).usable());
    EXPECT_TRUE(sim.advance(s, 12.0).usable());
    EXPECT_NEAR(s.bottle, 2.0 * n.volumes[in_caliper].content, 0.3 * n.volumes[in_caliper].content);
    expect_balanced(sim, s);
    return s.volumes[in_caliper].dispersed / 1e-8 / std::exp(-s.bottle / s.volumes[in_caliper].liquid);
}

// They leave a stirred cavity with the liquid, as exp(-V / content). The error is that of the steps, first order.
TEST(SmallBubbles, AreWashedOutOfAStirredCavity) {
    EXPECT_NEAR(kept(Settings{}.bubble_step, 0.0), 1.0, 0.02);
    for (const double step : {0.06, Settings{}.bubble_step, 0.015})
        EXPECT_NEAR(kept(step, 2e-6), 1.0 - 1.1 * step, 0.1 * step) << step;
}

// Out of one volume into the next they stay bubbles; a plug becomes pocket.
TEST(SmallBubbles, StayBubblesFromVolumeToVolume) {
    Network n = bubbly(0.05e-3);
    n.volumes[in_caliper].ports[1].place.clock = pi; // the screw below
    Simulation sim(n);
    Procedure plan;
    plan.method = two_people_closed_before_release();
    State s = with_bubbles_in(in_cylinder, 0.1e-6, sim, n);
    ASSERT_TRUE(sim.visit(s, {ScrewId{0}, 4}, plan).status.usable());
    expect_balanced(sim, s);
    EXPECT_GT(s.volumes[in_caliper].dispersed, 0.2 * s.volumes[in_caliper].gas);
    EXPECT_GT(s.volumes[in_caliper].gas, 1e-9);
    Contents c = full(n);
    c.line_gas[0] = {{0.9, 0.92}};
    State plug = sim.start(c);
    ASSERT_TRUE(sim.act(plug, OpenScrew{ScrewId{0}, {}}, plan.person).usable());
    ASSERT_TRUE(sim.act(plug, Press{{}, 0.3}, plan.person).usable());
    EXPECT_GT(plug.volumes[in_caliper].gas, 0.2e-6);
    EXPECT_LT(plug.volumes[in_caliper].dispersed, 0.02 * plug.volumes[in_caliper].gas);
}

// Poured fluid brings its bubbles into the reservoir; they are gone from it in their time, or drawn in meanwhile.
TEST(SmallBubbles, OfPouredFluidRiseOutOfTheReservoirUnlessDrawn) {
    Network n = bubbly(0.3e-3);
    n.conditions.bubbles.poured = 0.05;
    Simulation sim(n);
    State s = sim.start(full(n)), stood = s;
    const double poured = s.reservoirs[0].dispersed;
    EXPECT_NEAR(poured, 220e-6 * 0.05 / 0.95, 1e-12);
    ASSERT_TRUE(sim.advance(stood, 10.0).usable());
    const double speed = terminal_velocity(0.3e-3, fluid_of(n), 1.2), level = 220e-6 / 4e-3;
    EXPECT_NEAR(stood.reservoirs[0].dispersed / poured, std::exp(-speed * 10.0 / level), 2e-3);
    Procedure plan;
    plan.method = two_people_closed_before_release();
    plan.person.move_time = 1.0;
    ASSERT_TRUE(sim.visit(s, {ScrewId{0}, 4}, plan).status.usable());
    EXPECT_GT(s.ledger.leaked_in, 1e-9);
    EXPECT_LT(s.ledger.leaked_in, 0.05 / 0.95 * s.ledger.drawn * 1.1);
    expect_balanced(sim, s);
    ASSERT_TRUE(sim.advance(stood, 120.0).usable());
    ASSERT_TRUE(sim.visit(stood, {ScrewId{0}, 4}, plan).status.usable());
    EXPECT_LT(stood.ledger.leaked_in, 0.05 * s.ledger.leaked_in);
}

// Gas at walls comes off where the flow's stress passes that of the law, and not just below.
TEST(GasAtWalls, IsFreedByFlowBeyondTheStressOfItsGrip) {
    const auto left = [](double of_what_is_needed) {
        Network n = bubbly(0.3e-3);
        n.volumes[in_caliper].gap_width = 2e-3;
        Contents c = full(n);
        c.volume_gas[in_caliper] = 0.1e-6;
        c.volume_held = {0.0, 0.1e-6};
        Procedure plan;
        plan.method = two_people_closed_before_release();
        double peak = 0.0; // of what flows into the caliper, with gas that stays
        Simulation first(n);
        State s = first.start(c);
        for (const StrokeRecord& r : first.visit(s, {ScrewId{0}, 1}, plan).strokes) peak = r.peak_flow;
        const double stress = wall_stress(peak, 54e-3, 2e-3, fluid_of(n).dynamic_viscosity);
        const double d = 0.3e-3;
        n.conditions.bubbles.grip =
            stress / of_what_is_needed / detaching_stress(d, 1.0, fluid_of(n).surface_tension);
        Simulation sim(n);
        s = sim.start(c);
        EXPECT_TRUE(sim.visit(s, {ScrewId{0}, 1}, plan).status.usable());
        expect_balanced(sim, s);
        return s.volumes[in_caliper].held;
    };
    EXPECT_GT(left(0.8), 0.09e-6);
    EXPECT_EQ(left(1.6), 0.0);
}

/// What one caliper, cut off and under suction by its own pipe, gives up in this time.
State under_suction(double bubble_step, double seconds, Network n) {
    n.reservoirs[0].floor_height = n.volumes[in_caliper].height - 2.5; // 2.5 m below
    n.volumes[in_cylinder].height = n.reservoirs[0].floor_height - 0.05;
    n.lines[0].lumps = 2;
    Settings settings;
    settings.bubble_step = bubble_step;
    Simulation sim(n, settings);
    State s = sim.start(full(n));
    EXPECT_TRUE(sim.advance(s, seconds).usable());
    expect_balanced(sim, s);
    return s;
}

// Above its reservoir a caliper stands below ambient pressure: by it gives up S (p_a - p) L / p_0, and no more.
TEST(OutOfSolution, GivesUpWhatTheSuctionSetsFree) {
    Network n = one_wheel();
    n.conditions.bubbles.out_of_solution = 30.0;
    const State s = under_suction(0.03, 60.0, n), finer = under_suction(0.01, 60.0, n);
    const VolumeState& v = s.volumes[in_caliper];
    const double suction = n.conditions.ambient_pressure - v.pressure;
    EXPECT_GT(suction, 15e3);
    EXPECT_NEAR(v.given_up / (oversaturation(0.05, v.pressure, standard_atmosphere) * v.liquid),
                1.0 - std::exp(-2.0), 0.05);
    EXPECT_NEAR(finer.volumes[in_caliper].gas / v.gas, 1.0, 0.02);
    EXPECT_GT(s.ledger.out_of_solution, 0.9 * v.given_up);
    EXPECT_EQ(s.ledger.out_of_solution, s.ledger.gas_in);
    n.conditions.bubbles.out_of_solution = 0.0;
    EXPECT_EQ(under_suction(0.03, 60.0, n).volumes[in_caliper].gas, 0.0);
}

TEST(OutOfSolution, NothingComesOutAboveAmbientPressure) {
    Network n = one_wheel();
    n.conditions.bubbles.out_of_solution = 3.0;
    Simulation sim(n);
    State s = sim.start(full(n));
    ASSERT_TRUE(sim.act(s, Press{{}, 1.0, 200.0, 60.0}, Operator{}).usable());
    EXPECT_EQ(s.ledger.out_of_solution, 0.0);
}

TEST(SmallBubbles, GiveTheSameBitsTwice) {
    const auto run = [] {
        Network n = bubbly(0.2e-3);
        n.conditions.bubbles = {0.2e-3, 0.03, 0.07, 30.0};
        Simulation sim(n);
        State s = sim.start(dispersed(n, 0.03));
        Procedure plan;
        plan.method = pump_and_hold();
        EXPECT_TRUE(sim.visit(s, {ScrewId{0}, 5}, plan).status.usable());
        expect_balanced(sim, s);
        return s;
    };
    const State a = run(), b = run();
    for (std::size_t v = 0; v < 2; ++v) {
        EXPECT_EQ(a.volumes[v].gas, b.volumes[v].gas);
        EXPECT_EQ(a.volumes[v].dispersed, b.volumes[v].dispersed);
    }
    EXPECT_EQ(a.ledger.gas_out, b.ledger.gas_out);
    EXPECT_EQ(a.t, b.t);
}

TEST(SmallBubbles, AreRefusedWithoutADiameterOrAsMoreThanASwarm) {
    Network n = one_wheel();
    EXPECT_THROW(Simulation(n).start(dispersed(n, 0.01)), std::invalid_argument);
    n.conditions.bubbles.diameter = 0.3e-3;
    EXPECT_THROW(Simulation(n).start(dispersed(n, densest_swarm)), std::invalid_argument);
    n.conditions.bubbles.poured = -0.1;
    EXPECT_THROW(Simulation(n).start(full(n)), std::invalid_argument);
}

} // namespace
} // namespace clearstroke
