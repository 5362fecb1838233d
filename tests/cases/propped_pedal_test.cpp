// Account C32 on the shipped layout: a line that stands open for half an hour, the pedal propped past its port or at rest.
#include "tests/cases/shop.hpp"

namespace clearstroke::testing {
namespace {

/// Left in the reservoir and inside as air after the acts of preparation up to the end of the wait [m^3].
struct Drained {
    double lost{}, air{};
};
Drained drained(bool propped) {
    Shop shop("propped_pedal");
    const auto level = [&] { return levels(shop.job.state)[0]; };
    const double full = level();
    const std::vector<Act>& acts = shop.c.procedure.prepare;
    const auto waits =
        std::ranges::find_if(acts, [](const Act& a) { return std::holds_alternative<Wait>(a); });
    shop.job.act({acts.begin() + (propped ? 0 : 1), waits + 1});
    return {full - level(), shop.job.air()};
}

// The head from the reservoir to the open screw, half a metre or some 50 mbar, does not lift a cup that cracks at 0.1 bar: propped, the front
// chamber gets nothing. At rest the port is open: the reservoir runs out and the line takes in air.
TEST(ProppedPedal, KeepsTheReservoirWhileALineStandsOpen) {
    const Drained propped = drained(true), at_rest = drained(false);
    EXPECT_LT(propped.lost, 1e-6);
    EXPECT_LT(propped.air, 1e-9);
    EXPECT_GT(at_rest.lost, 100e-6);
    EXPECT_GT(at_rest.air, 10e-6);
}

} // namespace
} // namespace clearstroke::testing
