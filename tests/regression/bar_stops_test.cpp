// Twin cylinders of unequal stroke: the rod ends its way where one piston stands at its stop and the bar at the end of its
// travel; it went on and pressed the shorter piston past its stop.
#include <gtest/gtest.h>

#include "sim/run.hpp"
#include "tests/sim/small_circuits.hpp"

namespace clearstroke::testing {
namespace {

TEST(BarStops, EndTheRodsWay) {
    constexpr double shorter = 12e-3, longer = 24e-3, bar = 5e-3, share = 0.4;
    Network n = one_wheel();
    n.volumes.push_back(chamber("second chamber", 22.2e-3, 40e-3, 0.75));
    Actuator& a = n.actuators[0];
    a.coupling = Coupling::balance_bar;
    a.bar_share = share;
    a.bar_travel = bar;
    a.pistons = {piston({0}, 22.2e-3, shorter, 80.0), piston({2}, 22.2e-3, longer, 80.0)};
    for (const std::size_t v : {0U, 2U}) n.volumes[v].walls.compliance = 1e-10; // which stops none of them
    Simulation sim(n);
    State s = sim.start(full(n));
    Operator person;
    person.stroke_share = 1.0;
    person.force_limit = 2000.0;
    ASSERT_TRUE(sim.act(s, Press{}, person).usable());
    const double x = shorter + (1.0 - share) * bar; // (M-1) with the first at its stop and u at its end
    EXPECT_NEAR(s.actuators[0].x, x, 2e-9);
    EXPECT_NEAR(std::abs(s.actuators[0].u), bar, 1e-8);
    EXPECT_LE(s.actuators[0].x + (1.0 - share) * s.actuators[0].u, shorter + 2e-9);
}

} // namespace
} // namespace clearstroke::testing
