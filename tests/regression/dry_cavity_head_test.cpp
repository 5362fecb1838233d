// The head inside a cavity is that of the liquid in it: it was counted over the whole bore, dry or not, so that gas went round in a
// ring of dry parts for ever.
#include <gtest/gtest.h>

#include "models/gas.hpp"
#include "sim/run.hpp"
#include "tests/sim/small_circuits.hpp"

namespace clearstroke::testing {
namespace {

/// A dry caliper that liquid reaches from below, at rest: its gas has the pressure that hydrostatics give at its interface.
/// Exact; the half height of the bore that was counted before makes 270 Pa.
TEST(DryCavityHead, CountsFromTheInterfaceDown) {
    Network n = wheel_behind_a_loop();
    n.lines[0].heights = {};
    n.volumes[1].ports[0].place = {pi, 0.5, 0.95}; // inlet at the bottom
    Contents dry = full(n);
    dry.volume_gas[1] = n.volumes[1].content;
    Simulation sim(n);
    State s = sim.start(dry);
    ASSERT_TRUE(sim.advance(s, 600.0).usable());
    const VolumeState& v = s.volumes[1];
    const CavityProfile profile(n.volumes[1].cavity);
    const double interface = profile.interface_height(gas_volume(v.gas, v.pressure));
    ASSERT_LT(interface, -0.4 * n.volumes[1].cavity.bore_radius); // mostly dry still
    const Liquid liquid = liquid_at(n.conditions.fluid, n.conditions.temperature);
    const double surface = n.reservoirs[0].floor_height + s.reservoirs[0].liquid[0] / n.reservoirs[0].area;
    const double expected = n.conditions.ambient_pressure +
                            liquid.density * standard_gravity * (surface - n.volumes[1].height - interface);
    EXPECT_NEAR(v.pressure, expected, 5.0);
}

} // namespace
} // namespace clearstroke::testing
