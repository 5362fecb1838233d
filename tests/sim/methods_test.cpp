// Ready-made methods and the acts they are made of, on one wheel.
#include <gtest/gtest.h>

#include "tests/sim/small_circuits.hpp"

namespace clearstroke {
namespace {

using namespace testing;

constexpr double bar = 1e5;

struct Bled {
    State state;
    VisitRecord record;
    AirInside air;
};

Bled bled(const Network& n, const Contents& c, const Method& method, int strokes, Operator person = {}) {
    Simulation sim(n);
    Bled out{sim.start(c), {}, {}};
    Procedure p;
    p.method = method;
    p.person = person;
    out.record = sim.visit(out.state, {ScrewId{0}, strokes}, p);
    EXPECT_TRUE(out.record.status.usable()) << method.name << ": " << out.record.status.detail;
    EXPECT_LE(sim.balance(out.state).liquid, 1e-12) << method.name;
    EXPECT_LE(sim.balance(out.state).gas, 1e-12) << method.name;
    out.air = sim.air(out.state);
    return out;
}

Contents with_air(const Network& n, double in_cylinder, double in_caliper) {
    Contents c = full(n);
    c.volume_gas[0] = in_cylinder;
    c.volume_gas[1] = in_caliper;
    return c;
}

TEST(Methods, EachIsFoundRunsAndConserves) {
    const Network n = one_wheel();
    ASSERT_GE(method_names().size(), 13u);
    for (const std::string& name : method_names()) {
        SCOPED_TRACE(name);
        const auto method = find_method(name);
        ASSERT_TRUE(method);
        bled(n, with_air(n, 0.5e-6, 1e-6), *method, 2);
    }
    EXPECT_FALSE(find_method("thinking hard"));
}

TEST(Methods, PressureAndVacuumMoveFluidAsTheirHeadSays) {
    const Network n = one_wheel();
    const double gravity_out = bled(n, full(n), gravity(10.0), 3).record.fluid_discarded,
                 pressure_out = bled(n, full(n), reservoir_pressure(bar, 10.0), 3).record.fluid_discarded,
                 vacuum_out =
                     bled(n, full(n), vacuum_at_the_screw(0.5 * bar, 10.0), 3).record.fluid_discarded;
    // 0.5 m of DOT 4 are 0.05 bar: twenty times less than 1 bar; the compensating port bends the ratio.
    EXPECT_GT(pressure_out, 8.0 * gravity_out);
    EXPECT_NEAR(vacuum_out / pressure_out, 0.5, 0.15);
}

TEST(Methods, VacuumShowsBubblesThatWereNeverInTheCircuit) {
    Network n = one_wheel();
    n.screws[0].thread_clearance = 10e-6;
    const Bled leaky = bled(n, full(n), vacuum_at_the_screw(0.6 * bar, 10.0), 3);
    EXPECT_TRUE(leaky.record.strokes.back().bubble_seen);
    EXPECT_LT(leaky.air.total, 1e-8);
    EXPECT_GT(leaky.state.ledger.leaked_to_hose, 1e-6);
    EXPECT_EQ(leaky.state.ledger.leaked_in, leaky.state.ledger.leaked_to_hose);
    n.screws[0].thread_clearance = 0.0;
    const Bled sealed = bled(n, full(n), vacuum_at_the_screw(0.6 * bar, 10.0), 3);
    EXPECT_FALSE(sealed.record.strokes.back().bubble_seen);
}

TEST(Methods, ALooseHoseShowsBubblesUnderVacuumOnly) {
    Network n = one_wheel();
    n.catch_hose.fit_clearance = 20e-6;
    EXPECT_TRUE(bled(n, full(n), vacuum_at_the_screw(0.6 * bar, 10.0), 3).record.strokes.back().bubble_seen);
    EXPECT_FALSE(bled(n, full(n), reservoir_pressure(bar, 10.0), 3).record.strokes.back().bubble_seen);
}

TEST(Methods, InjectionSendsLineAirUpToTheReservoir) {
    Network n = one_wheel();
    n.actuators[0].pistons[0].port.radius = 1e-3;
    Contents c = full(n);
    c.line_gas[0] = {{0.4, 0.5}};
    const Bled b = bled(n, c, injection_at_the_screw(2.0 * bar, 10.0), 6);
    EXPECT_LT(b.air.of_line[0], 0.05 * 1.71e-6); // of the gas that stood in the pipe
    EXPECT_LT(b.state.bottle, 0.0);              // it gave
}

TEST(Methods, ALongHoldMovesNothingWhileTheFootIsDown) {
    const Network n = one_wheel();
    Simulation sim(n);
    State s = sim.start(with_air(n, 1e-6, 1e-6));
    const Operator person;
    ASSERT_TRUE(sim.act(s, Press{{}, {}, {}, 1.0}, person).usable());
    const double out = s.ledger.gas_out;
    ASSERT_TRUE(sim.act(s, Wait{3600.0}, person).usable());
    EXPECT_EQ(s.ledger.gas_out, out);
}

// The port lies 1.2 mm down a stroke of 30 mm. With the gas of the bore at the port, strokes that stop short of the cut-off
// press it up; one past it presses it down the line.
TEST(Methods, SmallStrokesAtThePortLetGasOutOfTheBore) {
    Network n = one_wheel();
    const Contents c = with_air(n, 3e-6, 0.0);
    Operator person;
    person.dwell = 1.0;
    const Bled small = bled(n, c, small_strokes(0.035), 20, person);
    EXPECT_LT(small.air.total, 0.5 * 3e-6);
    EXPECT_EQ(small.record.fluid_discarded, 0.0);
}

TEST(Methods, AOneWayHoseTakesNothingBackWithItsEndInAir) {
    Network n = one_wheel();
    n.catch_hose.submerged = false;
    const Contents c = full(n);
    const double hose = pi * 0.25 * 5e-3 * 5e-3 * 0.4; // arrives full of air
    EXPECT_NEAR(bled(n, c, one_way_hose(), 4).state.ledger.gas_in, hose, 1e-9);
    EXPECT_GT(bled(n, c, one_person_hose_in_bottle(), 4).state.ledger.gas_in, hose + 2e-6);
    EXPECT_LT(bled(n, c, one_way_hose(), 4).air.total, 1e-8);
}

TEST(Methods, PumpAndHoldOpensUnderStoredPressure) {
    Network n = one_wheel();
    n.volumes[1].walls.compliance = 1e-12; // what stores it
    const double pumped = bled(n, full(n), pump_and_hold(), 2).record.strokes.back().peak_flow,
                 plain =
                     bled(n, full(n), two_people_closed_before_release(), 2).record.strokes.back().peak_flow;
    EXPECT_GT(pumped, 1.5 * plain);
}

TEST(Acts, PushingAPistonHomeSendsItsFluidToTheReservoir) {
    Network n = one_wheel();
    Actuator home;
    home.name = "piston";
    Piston p;
    p.chamber = {1};
    p.area = 2.29e-3;
    p.stroke = 5e-3;
    p.blind = true;
    home.pistons = {p};
    n.actuators.push_back(home);
    Simulation sim(n);
    State s = sim.start(full(n));
    Operator hand;
    hand.push_speed = 2e-3;
    hand.force_limit = 2000.0;
    ASSERT_TRUE(sim.act(s, PushHome{ActuatorId{1}}, hand).usable());
    ASSERT_TRUE(sim.act(s, Wait{20.0}, hand).usable());
    EXPECT_NEAR(-s.ledger.drawn, 2.29e-3 * 5e-3, 0.01e-6);
    EXPECT_LE(sim.balance(s).liquid, 1e-12);
}

TEST(Acts, LiftingAPartAboveTheReservoirTurnsItsHeadNegative) {
    const Network n = one_wheel();
    Simulation sim(n);
    State s = sim.start(full(n));
    const Operator person;
    EXPECT_GT(sim.pressures(s)[1], 101325.0);
    ASSERT_TRUE(sim.act(s, LiftPart{VolumeId{1}, 0.8}, person).usable());
    ASSERT_TRUE(sim.act(s, Wait{20.0}, person).usable());
    EXPECT_LT(sim.pressures(s)[1], 101325.0);
}

TEST(Acts, ATapFreesTheGasAtTheWalls) {
    const Network n = one_wheel();
    Contents c = with_air(n, 0.0, 1e-6);
    c.volume_held = {0.0, 0.6e-6};
    const double untapped = bled(n, c, two_people_closed_before_release(), 6).air.total;
    Simulation sim(n);
    State s = sim.start(c);
    Procedure p;
    p.method = two_people_closed_before_release();
    ASSERT_TRUE(sim.visit(s, {ScrewId{0}, 6, {Tap{}}}, p).status.usable());
    EXPECT_GT(untapped, 0.59e-6);
    EXPECT_LT(sim.air(s).total, 0.05e-6);
}

TEST(Acts, ACylinderInTheLinePassesWhatThePedalSendsWhileItsPortIsOpen) {
    Network n = one_wheel();
    n.volumes.push_back(chamber("hand chamber", 19e-3, 40e-3, 0.5));
    Volume inlet = chamber("hand inlet", 8e-3, 10e-3, 0.53);
    n.volumes.push_back(inlet);
    n.lines[0].to = PortRef{{3}, 1};
    n.lines.push_back(pipe("after", 1.0, 3.3e-3, PortRef{{2}, 1}, PortRef{{1}, 0}));
    Actuator hand = n.actuators[0];
    hand.name = "hand lever";
    hand.pistons[0].chamber = {2};
    hand.pistons[0].inlet = PortRef{{3}, 0};
    hand.pistons[0].area = pi * 0.25 * 19e-3 * 19e-3;
    n.actuators.push_back(hand);
    const Bled b = bled(n, full(n), two_people_closed_before_release(), 3);
    EXPECT_GT(b.record.fluid_discarded, 15e-6);
    EXPECT_EQ(find_circuits(n).count, 1);
    Simulation sim(n);
    const Operator person;
    const auto drained = [&](bool pressed) {
        State s = sim.start(full(n));
        if (pressed) {
            EXPECT_TRUE(sim.act(s, Press{ActuatorId{1}}, person).usable());
        }
        EXPECT_TRUE(sim.act(s, OpenScrew{ScrewId{0}, {}}, person).usable());
        EXPECT_TRUE(sim.act(s, Wait{60.0}, person).usable());
        return s.ledger.drawn;
    };
    EXPECT_LT(drained(true),
              0.3 * drained(false)); // pressed, its port is shut; the head alone just lifts its cup
}

} // namespace
} // namespace clearstroke
