// What stands in a line: when a slug arrives, what a loop with gas holds back, what the step changes.
#include <gtest/gtest.h>

#include <array>
#include <optional>

#include "models/long_bubble.hpp"
#include "tests/sim/small_circuits.hpp"

namespace clearstroke {
namespace {

using namespace testing;

/// Gravity flow: large compensating port, screw wide open, level pipe so that heads stay as they are.
Network by_gravity(int lumps) {
    Network n = one_wheel();
    n.actuators[0].pistons[0].port = {2e-3, 1e-3, 0.62};
    n.lines[0].lumps = lumps;
    return n;
}

/// Flow out of the reservoir between two instants [m^3/s], the screw open.
double gravity_flow(Simulation& sim, State& s, double settle, double watch) {
    EXPECT_TRUE(sim.act(s, OpenScrew{ScrewId{0}, 1.5}, Operator{}).usable());
    EXPECT_TRUE(sim.advance(s, settle).usable());
    const double before = s.ledger.drawn;
    EXPECT_TRUE(sim.advance(s, watch).usable());
    return (s.ledger.drawn - before) / watch;
}

TEST(LineContents, SlugArrivesAfterTheSweptVolumeThatRunAheadSays) {
    const Network n = by_gravity(25);
    Contents c = full(n);
    c.line_gas[0] = {{0.40, 0.42}}; // 2 % of 17 mL
    Simulation sim(n);
    State s = sim.start(c);
    ASSERT_TRUE(sim.act(s, OpenScrew{ScrewId{0}, 1.5}, Operator{}).usable());
    const double area = pi * 0.25 * 3.3e-3 * 3.3e-3, distance = 0.58 * 2.0;
    const double begin = s.ledger.drawn, t0 = s.t;
    while (s.volumes[1].gas < 1e-9 && s.t < t0 + 200.0) ASSERT_TRUE(sim.advance(s, 0.05).usable());
    const double swept = s.ledger.drawn - begin, speed = swept / (s.t - t0) / area;
    const Liquid l = liquid_at(n.conditions.fluid, n.conditions.temperature);
    const double c0 = run_ahead(l.dynamic_viscosity * speed / l.surface_tension);
    EXPECT_GT(c0, 1.05);
    EXPECT_NEAR(swept * c0 / (distance * area), 1.0, 0.02)
        << "C0 " << c0 << " speed " << speed << " swept " << swept;
}

/// With a reservoir as it is at the start of a job.
Network with_loop() {
    Network n = wheel_behind_a_loop();
    n.reservoirs[0].initial = 220e-6;
    return n;
}

TEST(LineContents, LoopWithGasHoldsBackItsCounterHead) {
    const Network n = with_loop();
    const double low = n.volumes[1].height;          // inlet of the caliper is at its middle
    const double extent = 0.25 / 0.5 * (0.85 - low); // of the gas, along the fall
    const double weight = liquid_at(n.conditions.fluid, n.conditions.temperature).density * standard_gravity;
    const double held = held_back_by_gas(n, 0.5, 0.75);
    EXPECT_NEAR(held / (weight * extent), 1.0, 0.02) << held << " Pa against " << weight * extent;
}

TEST(LineContents, LoopWithGasSlowsGravityFlow) {
    const Network n = with_loop();
    Contents gas = full(n);
    gas.line_gas[0] = {{0.5, 0.70}};
    Simulation sim(n);
    State without = sim.start(full(n)), with = sim.start(gas);
    const double free_flow = gravity_flow(sim, without, 0.5, 0.5),
                 held_flow = gravity_flow(sim, with, 0.5, 0.5);
    const double drive = 0.80 + 220e-6 / 4e-3 - (0.30 + 27e-3 * 0.95); // surface to screw
    const double counter = 0.20 / 0.5 * (0.85 - 0.30);
    // Head falls by the counter-head, resistance by the length that gas fills.
    EXPECT_NEAR(held_flow / free_flow, (1.0 - counter / drive) / 0.80, 0.05)
        << held_flow << " against " << free_flow;
}

TEST(LineContents, LoopFullOfGasStopsGravityFlow) {
    Network n = with_loop();
    n.volumes[1].height = n.lines[0].to_height = 0.40;
    n.reservoirs[0].floor_height = 0.75; // surface 0.805 m, below the top of the loop
    Contents gas = full(n);
    gas.line_gas[0] = {{0.45, 1.0}};
    Simulation sim(n);
    State s = sim.start(gas);
    EXPECT_LT(gravity_flow(sim, s, 5.0, 5.0), 1e-9);
}

struct Delivered {
    std::array<int, 3> plugs{}; ///< by ParcelKind
    double gas{}, liquid{};
};

/// Plugs of every kind in a line: parcels of one kind on both sides of a cell's border are one plug.
std::array<int, 3> plugs_of(const std::vector<Cell>& line) {
    std::array<int, 3> count{};
    std::optional<ParcelKind> before;
    for (const Cell& cell : line)
        for (const Parcel& p : cell.train.parcels()) {
            const ParcelKind kind = kind_of(p);
            if (kind != before) ++count[static_cast<std::size_t>(kind)];
            before = kind;
        }
    return count;
}

/// A part of a stroke through a pipe with three gas plugs, in fluid with this share of small bubbles.
Delivered deliver(double tolerance, double froth) {
    Network n = one_wheel();
    n.conditions.bubbles.diameter = froth > 0.0 ? 0.2e-3 : 0.0;
    Contents c = full(n);
    c.line_gas[0] = {{0.2, 0.25}, {0.5, 0.6}, {0.8, 0.82}};
    c.dispersed = froth;
    Settings settings;
    settings.tolerance = tolerance;
    Simulation sim(n, settings);
    State s = sim.start(c);
    Operator slow;
    slow.stroke_share = 0.3;
    EXPECT_TRUE(sim.act(s, OpenScrew{ScrewId{0}, {}}, slow).usable());
    EXPECT_TRUE(sim.act(s, Press{ActuatorId{0}}, slow).usable());
    return {plugs_of(s.lines[0]), s.ledger.gas_out + s.volumes[1].gas, s.ledger.liquid_out};
}

TEST(LineContents, HalvingTheToleranceChangesNeitherPlugsNorDelivery) {
    for (const double froth : {0.0, 0.01}) {
        const double usual_tolerance = Settings{}.tolerance;
        const Delivered usual = deliver(usual_tolerance, froth), half = deliver(0.5 * usual_tolerance, froth);
        EXPECT_EQ(usual.plugs, half.plugs) << froth;
        const auto kind = static_cast<std::size_t>(froth > 0.0 ? ParcelKind::bubbly : ParcelKind::liquid);
        EXPECT_GE(usual.plugs[kind], 2);
        EXPECT_GE(usual.plugs[static_cast<std::size_t>(ParcelKind::gas)], 2);
        EXPECT_NEAR(usual.gas / half.gas, 1.0, 1e-3) << froth;
        EXPECT_NEAR(usual.liquid / half.liquid, 1.0, 1e-3) << froth;
    }
}

} // namespace
} // namespace clearstroke
