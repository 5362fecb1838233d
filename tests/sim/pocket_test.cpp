// A screw whose port lies below the top of the caliper: the air that this procedure can't move.
#include <gtest/gtest.h>

#include "models/drawdown.hpp"
#include "models/gas.hpp"
#include "tests/sim/small_circuits.hpp"

namespace clearstroke {
namespace {

using namespace testing;

constexpr double radius = 27e-3, gap = 10e-3, low = 5e-3;

/// Top of the screw's opening `low` below the crown of the caliper.
Network port_below_pocket() {
    Network n = one_wheel();
    const double hole = 3e-3;
    n.volumes[1].ports[1] = {
        "screw", {0.35, 0.5, (radius - low - 0.5 * hole) / (radius * std::cos(0.35))}, hole};
    return n;
}

Procedure two_people() {
    Procedure p;
    p.method = two_people_closed_before_release();
    p.person.hold = 0.5;
    p.person.dwell = 0.5;
    return p;
}

State bled(Simulation& sim, const Network& n, int strokes, double air = 6e-6) {
    Contents c = full(n);
    c.volume_gas[1] = air;
    State s = sim.start(c);
    EXPECT_TRUE(sim.visit(s, {ScrewId{0}, strokes, {}}, two_people()).status.usable());
    return s;
}

TEST(Pocket, GeometryOfTheSegmentIsReported) {
    const Network n = port_below_pocket();
    Simulation sim(n);
    // Segment of 5 mm below the crown of a 54 mm circle, by hand: A = R^2 acos(y/R) - y sqrt(R^2 - y^2).
    const double y = radius - low,
                 segment = radius * radius * std::acos(y / radius) - y * std::sqrt(radius * radius - y * y);
    const State s = sim.start(full(n));
    EXPECT_NEAR(sim.beyond_reach(s).geometric[1] / (segment * gap), 1.0, 5e-3);
}

// What can't be moved is what stands above the reach of the screw's opening at the strongest flow, at the pressure of
// that instant; the strokes come to it from above and then move nothing.
TEST(Pocket, FiftyMoreStrokesHardlyMoveWhatTheProcedureCannot) {
    const Network n = port_below_pocket();
    for (const Method& method : {two_people_closed_before_release(), one_person_hose_in_bottle()}) {
        Simulation sim(n);
        Procedure p = two_people();
        p.method = method;
        Contents c = full(n);
        c.volume_gas[1] = 6e-6;
        State s = sim.start(c);
        ASSERT_TRUE(sim.visit(s, {ScrewId{0}, 10, {}}, p).status.usable());
        const double left = s.volumes[1].gas, kept = sim.beyond_reach(s).this_procedure[1];
        EXPECT_GE(left, kept) << method.name;
        EXPECT_LT(left, 1.05 * kept) << method.name;
        EXPECT_LT(kept, 0.8 * sim.beyond_reach(s).geometric[1])
            << method.name << ": the flow draws the surface down";
        ASSERT_TRUE(sim.visit(s, {ScrewId{0}, 50, {}}, p).status.usable());
        EXPECT_GT(s.volumes[1].gas, 0.98 * left) << method.name;
        EXPECT_GE(s.volumes[1].gas, 0.99 * kept) << method.name;
    }
}

TEST(Pocket, TurningThePartUntilThePortIsOnTopRemovesIt) {
    const Network n = port_below_pocket();
    Simulation sim(n);
    State s = bled(sim, n, 20);
    const double before = s.volumes[1].gas;
    const Visit turned{ScrewId{0}, 20, {TurnPart{VolumeId{1}, roll_to_top(n.volumes[1].ports[1].place)}}};
    // On top, the hole still sits as far inwards of the wall; what is above it there the flow draws down to 7 of 197 uL (a hole at the rim
    // leaves nothing, below, as does that of scenarios/port_below_pocket.toml, tests/cases/rig_test.cpp).
    EXPECT_TRUE(sim.visit(s, turned, two_people()).status.usable());
    EXPECT_LT(s.volumes[1].gas, 0.05 * before);
}

TEST(Pocket, PortAtTheRimTurnedToTheTopLeavesNothing) {
    Network n = one_wheel();
    n.volumes[1].ports[1] = {"screw", {0.6, 0.5, (radius - 1.5e-3) / radius}, 3e-3};
    Simulation sim(n);
    State s = bled(sim, n, 20);
    EXPECT_GT(s.volumes[1].gas, 5e-8);
    const Visit turned{ScrewId{0}, 20, {TurnPart{VolumeId{1}, roll_to_top(n.volumes[1].ports[1].place)}}};
    EXPECT_TRUE(sim.visit(s, turned, two_people()).status.usable());
    EXPECT_LT(s.volumes[1].gas, 2e-9);
}

} // namespace
} // namespace clearstroke
