// Structures of a circuit that come back, with ports, screws and gas in lines, are those that a new simulation makes.
#include <gtest/gtest.h>

#include "sim/state_difference.hpp"
#include "tests/sim/small_circuits.hpp"

namespace clearstroke {
namespace {

using namespace testing;

/// Strokes with the screw open by each of these turns, then the same again, every act also in a simulation of its own.
void expect_as_new(const Network& n, const Contents& contents, int openings) {
    Simulation used(n);
    State s = used.start(contents);
    const auto act = [&](const Act& a) {
        State alone = s;
        Simulation fresh(n);
        ASSERT_TRUE(fresh.act(alone, a, Operator{}, ScrewId{0}).usable());
        ASSERT_TRUE(used.act(s, a, Operator{}, ScrewId{0}).usable());
        ASSERT_EQ(difference(s, alone), StateDifference{}) << s.t;
        ASSERT_EQ(s.t, alone.t);
    };
    for (int round = 0; round < 2; ++round)
        for (int i = 0; i < openings; ++i) {
            act(OpenScrew{{}, 0.5 + 0.01 * i});
            act(Press{{}, {}, {}, 0.2});
            act(Release{{}, {}, 0.2});
            act(CloseScrew{});
        }
}

/// As one_wheel, with a ring of two pipes on the way.
Network wheel_behind_a_ring() {
    Network n = one_wheel();
    n.junctions = {{"upper", 0.6, 0.0, 0.0}, {"lower", 0.5, 0.0, 0.0}};
    n.lines = {pipe("inlet", 0.6, 3.3e-3, PortRef{{0}, 1}, JunctionId{0}),
               pipe("left", 0.8, 3.3e-3, JunctionId{0}, JunctionId{1}),
               pipe("right", 0.7, 3.3e-3, JunctionId{0}, JunctionId{1}),
               pipe("outlet", 0.6, 3.3e-3, JunctionId{1}, PortRef{{1}, 0})};
    return n;
}

TEST(Structures, ThatComeBackAreAsNew) {
    const Network n = one_wheel();
    Contents gas = full(n);
    gas.volume_gas[1] = 1e-6;
    gas.line_gas[0] = {{0.3, 0.4}, {0.6, 0.65}};
    expect_as_new(n, gas, 3);
}

TEST(Structures, ThatComeBackAfterMoreThanAreKeptAreAsNew) {
    const Network n = one_wheel();
    expect_as_new(n, full(n), 20);
}

TEST(Structures, WithARingThatComeBackAreAsNew) {
    const Network n = wheel_behind_a_ring();
    Contents gas = full(n);
    gas.line_gas[1] = {{0.3, 0.6}};
    expect_as_new(n, gas, 3);
}

} // namespace
} // namespace clearstroke
