// A pedal held for hours at its force limit does not move, and time does not pass in steps of what it could have moved.
#include <gtest/gtest.h>

#include "sim/run.hpp"
#include "tests/sim/small_circuits.hpp"

namespace clearstroke::testing {
namespace {

TEST(LongHold, TakesFewSteps) {
    const Network n = one_wheel();
    Simulation sim(n);
    State s = sim.start(full(n));
    Operator person;
    person.hold = 8.0 * 3600.0;
    ASSERT_TRUE(sim.act(s, Press{}, person).usable());
    EXPECT_GT(s.t, person.hold);
    EXPECT_LT(sim.work().steps, 1000); // of at most 2 s each before
}

} // namespace
} // namespace clearstroke::testing
