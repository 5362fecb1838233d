// Accounts of parts in a row: a splitter, a unit and a caliper, each with its screw; a cylinder in the line.
#include <array>
#include <cmath>

#include "tests/cases/support.hpp"

namespace clearstroke::testing {
namespace {

/// Splitter with a screw, a unit with a screw, a caliper with a screw, one after the other.
Network chain() {
    Network n = one_wheel();
    n.junctions = {{"splitter", 0.6, 0.0, 0.0}};
    n.volumes.push_back(caliper("unit", 14e-3, 10e-3, 0.5));
    n.lines = {pipe("upper hose", 0.6, 3.3e-3, PortRef{{0}, 1}, JunctionId{0}),
               pipe("middle hose", 0.4, 3.3e-3, JunctionId{0}, PortRef{{2}, 0}),
               pipe("lower hose", 0.4, 3.3e-3, add_port(n, 2, "out", half_turn), PortRef{{1}, 0})};
    n.screws = {screw("splitter", {1}), screw("unit", {2}), screw("caliper", {1})};
    n.screws[0].at = JunctionId{0};
    return n;
}

// Account C15: on a chain of screws the upstream one first saves strokes when the air stands upstream and is more than the first
// strokes anywhere bring out. Found: two of nine strokes with a hose full; none where a fifth of it is gas, or where the air is in the
// caliper.
TEST(AccountC15, UpstreamFirstSavesTwoStrokesOfAHoseFullOfAirAndNoneOtherwise) {
    const Network n = chain();
    const auto upstream = [&](double begin, double end) {
        Contents c = full(n);
        c.line_gas[0] = {{begin, end}};
        return c;
    };
    const auto saved = [&](const Contents& c) {
        const Effort downstream_first = bleed_in_order(n, c, {2, 1, 0}),
                     upstream_first = bleed_in_order(n, c, {0, 1, 2});
        return Effort{downstream_first.strokes - upstream_first.strokes,
                      (downstream_first.fluid - upstream_first.fluid) / upstream_first.fluid};
    };
    for (const Contents& much : {upstream(0.1, 0.9), upstream(0.0, 1.0)}) {
        EXPECT_GE(saved(much).strokes, 1);
        EXPECT_GT(saved(much).fluid, 0.15);
    }
    for (const Contents& little : {upstream(0.1, 0.3), air_in(n, 1, 2e-6), full(n)}) {
        EXPECT_EQ(saved(little).strokes, 0);
        EXPECT_NEAR(saved(little).fluid, 0.0, 0.05);
    }
}

// The same account: which of two legs of equal content, one short and one long, comes first makes a difference near 0.
TEST(AccountC15, TheShorterOfTwoEqualLegsFirstSavesNothing) {
    Network n = two_wheels();
    n.lines[2].length = 2.0 * n.lines[1].length;
    n.lines[2].bore = n.lines[1].bore / std::sqrt(2.0);
    Contents c = full(n);
    c.volume_gas[1] = c.volume_gas[2] = 2e-6;
    const Effort short_first = bleed_in_order(n, c, {0, 1}), long_first = bleed_in_order(n, c, {1, 0});
    EXPECT_EQ(short_first.strokes, long_first.strokes);
    EXPECT_NEAR(short_first.fluid, long_first.fluid, 0.02 * long_first.fluid);
}

/// A hand-brake cylinder 2 between the pedal's pipe, which ends in its inlet 3, and the caliper.
Network with_hand_cylinder(double tilt) {
    Network n = one_wheel();
    n.volumes.push_back(chamber("hand chamber", 19e-3, 40e-3, 0.5));
    n.volumes.push_back(chamber("hand inlet", 8e-3, 10e-3, 0.53));
    n.volumes[2].cavity.axis_tilt = tilt;
    n.lines[0].to = PortRef{{3}, 1};
    n.lines.push_back(pipe("after", 1.0, 3.3e-3, PortRef{{2}, 1}, PortRef{{1}, 0}));
    Actuator hand = n.actuators[0];
    hand.name = "hand lever";
    hand.pistons[0] = piston({2}, 19e-3, 30e-3, 80.0);
    hand.pistons[0].inlet = PortRef{{3}, 0};
    n.actuators.push_back(hand);
    return n;
}

// Account C46: what stays in a hand-brake cylinder in the line hangs on its tilt.
TEST(AccountC46, TheTiltOfACylinderInTheLineDecidesWhatStaysInIt) {
    const auto stays = [](double tilt) {
        const Network n = with_hand_cylinder(tilt);
        Job job(n, air_in(n, 2, 4e-6));
        return job.bleed(12).air();
    };
    const double outlet_up = stays(-0.3), level = stays(0.0), outlet_down = stays(0.3);
    EXPECT_LT(outlet_up, 0.3e-6);
    EXPECT_GT(outlet_down, outlet_up + 0.5e-6);
    EXPECT_GE(outlet_down, level);
}

// The same account: with the rear screw open the lever shares with the pedal's side while its inlet port is open; past it nothing goes
// back, however far it is pulled, and what runs by gravity falls to what its cup lets by. The pedal's strokes pass all the same.
TEST(AccountC46, TheLeverSharesWithThePedalsSideWhileItsPortIsOpen) {
    const Network n = with_hand_cylinder(0.0);
    const auto pulled = [&](double share) {
        Job job(n);
        job.act({OpenScrew{}});
        const double drawn = job.state.ledger.drawn, out = job.state.ledger.liquid_out;
        job.act({Press{ActuatorId{1}, share, {}, 0.0}});
        const double back = drawn - job.state.ledger.drawn, sent = job.state.ledger.liquid_out - out;
        const double swept = job.state.actuators[1].x * n.actuators[1].pistons[0].area;
        EXPECT_NEAR(sent + back, swept, 2e-3 * swept) << share;
        const double resting = job.state.ledger.liquid_out;
        job.act({Wait{5.0}});
        const double by_gravity = job.state.ledger.liquid_out - resting, before = job.state.ledger.liquid_out;
        job.act({Press{ActuatorId{0}, 0.5, {}, 0.0}});
        return std::array{back, by_gravity, job.state.ledger.liquid_out - before};
    };
    const auto open = pulled(0.03), shut = pulled(0.05), far = pulled(0.8);
    EXPECT_GT(open[0], 0.03e-6);
    EXPECT_NEAR(far[0], shut[0], 1e-10);
    EXPECT_LT(shut[1], 0.15 * open[1]);
    EXPECT_NEAR(shut[2], open[2], 1e-3 * open[2]);
}

// The same account: an added metre of hose is felt by its compliance times the pressure, 0.67 mL at 22.4 bar for 0.03 mL/bar.
TEST(AccountC46, EachMetreOfAddedHoseTakesItsComplianceTimesThePressure) {
    constexpr double per_metre = 3e-13; // [m^3/Pa]
    const auto taken = [&](double metres) {
        Network n = with_hand_cylinder(0.0);
        n.lines[1].walls.compliance += per_metre * metres;
        Job job(n);
        job.act({Press{{}, 1.0, 240.0, 5.0}});
        const double into_lines =
            job.state.actuators[0].x * n.actuators[0].pistons[0].area + job.state.ledger.drawn;
        return std::pair{into_lines, job.gauge(1)};
    };
    const double without = taken(0.0).first;
    for (const double metres : {1.0, 2.0}) {
        const auto [with, pressure] = taken(metres);
        EXPECT_NEAR(with - without, per_metre * metres * pressure, 0.01 * (with - without)) << metres;
    }
}

} // namespace
} // namespace clearstroke::testing
