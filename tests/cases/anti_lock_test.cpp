// The shut part of an anti-lock unit, as shipped: a bleed leaves it, the unit's own routine does not.
#include "tests/cases/shop.hpp"

namespace clearstroke::testing {
namespace {

// Every wheel bled with the valves shut: the 1.2 mL are there, between the part and what its valves shut off with it. Held open, strokes at one
// front screw wash the part.
TEST(AntiLockShutPart, KeepsItsAirThroughABleedAndGivesItWithItsValvesOpen) {
    Shop shop("anti_lock_shut_part");
    const double held = shop.air_in("unit, shut part");
    EXPECT_NEAR(held, 1.2e-6, 1e-15);
    for (std::size_t s = 0; s < shop.c.network.screws.size(); ++s) {
        shop.here = {s};
        shop.strokes({{0}}, 6);
    }
    EXPECT_NEAR(shop.air_in("unit, shut part"), held, 1e-12);
    shop.job.act({HoldValve{shop.line("passage in"), true}, HoldValve{shop.line("passage out"), true}});
    shop.here = shop.screw("LF");
    shop.strokes({{0}}, 8);
    EXPECT_LT(shop.air_in("unit, shut part"), 0.02e-6);
}

} // namespace
} // namespace clearstroke::testing
