// Junctions hold nothing and give back what a dead branch took.
#include <gtest/gtest.h>

#include "tests/sim/small_circuits.hpp"

namespace clearstroke {
namespace {

using namespace testing;

/// Feed, a tee, and two equal branches to two equal calipers.
Network with_tee() {
    Network n = one_wheel();
    n.junctions = {{"tee", 0.30, 0.0, 0.0}};
    n.volumes.push_back(caliper("second", 54e-3, 10e-3, 0.30));
    n.lines = {pipe("feed", 1.5, 3.3e-3, PortRef{{0}, 1}, JunctionId{0})};
    n.lines.push_back(pipe("a", 0.8, 3.3e-3, JunctionId{0}, PortRef{{1}, 0}));
    n.lines.push_back(pipe("b", 0.8, 3.3e-3, JunctionId{0}, PortRef{{2}, 0}));
    n.screws = {screw("left", {1}), screw("right", {2})};
    return n;
}

double gas_in(const std::vector<Cell>& cells) {
    double sum = 0.0;
    for (const Cell& c : cells) sum += c.gas;
    return sum;
}

/// A blank stub at the tee with gas at its closed end breathes while the line beside it is pressed.
TEST(Tee, BreathingDeadBranchGivesBackWhatItTook) {
    Network n = with_tee();
    n.lines.push_back(pipe("stub", 0.3, 3.3e-3, JunctionId{0}, Blank{}));
    n.lines.back().from_height = n.lines.back().to_height = 0.30;
    Contents c = full(n);
    c.line_gas[3] = {{0.5, 1.0}};
    Simulation sim(n);
    State s = sim.start(c);
    Operator person;
    person.hold = 3.0;
    person.dwell = 30.0;
    ASSERT_TRUE(sim.advance(s, 30.0).usable());
    const double gas = gas_in(s.lines[3]);
    double liquid = 0.0;
    for (const Cell& cell : s.lines[3]) liquid += cell.liquid;
    double squeezed = 0.0;
    for (int i = 0; i < 3; ++i) {
        ASSERT_TRUE(sim.act(s, Press{ActuatorId{0}}, person).usable());
        squeezed = 0.0;
        for (const Cell& cell : s.lines[3]) squeezed += cell.liquid;
        ASSERT_TRUE(sim.act(s, Release{ActuatorId{0}}, person).usable());
    }
    double after = 0.0;
    for (const Cell& cell : s.lines[3]) after += cell.liquid;
    EXPECT_GT(squeezed, 1.3 * liquid);           // it took liquid under pressure
    EXPECT_NEAR(gas_in(s.lines[3]), gas, 1e-12); // keeps its gas
    EXPECT_NEAR(after / liquid, 1.0, 2e-3);      // and gives the liquid back
}

} // namespace
} // namespace clearstroke
