// A push ends when its force is reached, not with the step in which it was: the time a press takes, less its hold, is that of
// steps a hundred times finer.
#include <gtest/gtest.h>

#include "sim/run.hpp"
#include "tests/sim/small_circuits.hpp"

namespace clearstroke::testing {
namespace {

/// Time to the end of a push at this force at the pad [s].
double time_of_push(const Network& n, double force, double tolerance) {
    Settings settings;
    settings.tolerance = tolerance;
    Simulation sim(n, settings);
    Contents air = full(n);
    air.volume_gas[1] = 2e-6;
    State s = sim.start(air);
    Operator person;
    person.force_limit = force;
    EXPECT_TRUE(sim.act(s, Press{}, person).usable());
    return s.t - person.hold;
}

TEST(PushEnd, IsNoticedWithinMillisecondsAtAnyForce) {
    const Network n = one_wheel();
    for (const double force : {60.0, 80.0, 100.0, 130.0, 160.0, 200.0, 240.0, 290.0, 350.0})
        EXPECT_NEAR(time_of_push(n, force, 1e-3), time_of_push(n, force, 1e-5), 1.5e-3)
            << force; // up to 17 ms late before
}

} // namespace
} // namespace clearstroke::testing
