// Two cylinders on one circuit, as shipped: dual controls, a small cylinder that a caliper drives. What each moves.
#include "tests/cases/shop.hpp"

namespace clearstroke::testing {
namespace {

// Strokes of the driver's pedal alone leave all air in the instructor's cylinder and branch, whatever their number; the instructor's own send
// it out: 1.5 mL in the bore and 6.3 mL in 0.9 m of 3.34 mm pipe (0.8 of it).
TEST(DualControls, AirOfTheOtherBranchLeavesOnlyWithItsOwnPedal) {
    Shop shop("dual_controls");
    const double pipe = 0.8 * 0.9 * pi * 0.25 * 3.34e-3 * 3.34e-3;
    EXPECT_NEAR(shop.air_in_line("instructor branch"), pipe, 1e-9);
    shop.job.act({HoldValve{shop.line("driver branch"), true}});
    shop.strokes({shop.actuator("driver pedal")}, 12);
    EXPECT_NEAR(shop.air_in_line("instructor branch") + shop.air_in("instructor cylinder"), pipe + 1.5e-6,
                1e-10);
    shop.job.act(
        {HoldValve{shop.line("driver branch"), false}, HoldValve{shop.line("instructor branch"), true}});
    shop.strokes({shop.actuator("instructor pedal")}, 25);
    EXPECT_LT(shop.air_in_line("instructor branch"), 1e-10);
    EXPECT_LT(shop.air_in("instructor cylinder"), 0.1e-6);
    EXPECT_LT(shop.job.air(), 0.15e-6);
}

// Two cylinders joined without a valve that shuts do not brake: what one pedal pushes goes home through the other's open port. With the two-way
// valve over to the driver's side the same foot brings pressure.
TEST(DualControls, WithoutTheTwoWayValveTheFluidGoesHomeThroughTheOtherPort) {
    const std::vector<std::string> full{"condition=full"},
        teed{"condition=full", "pipes.\"driver branch\".valve=restriction",
             "pipes.\"instructor branch\".valve=restriction"};
    const auto pressed = [](const std::vector<std::string>& changes) {
        Shop shop("dual_controls", changes);
        shop.job.act({HoldValve{shop.line("driver branch"), true}});
        const std::vector<double> before = levels(shop.job.state);
        shop.job.act({Press{shop.actuator("driver pedal"), 0.8, 250.0, 20.0}});
        const std::vector<double> after = levels(shop.job.state);
        return std::pair(shop.job.gauge(shop.volume("left caliper")), after[1] - before[1]);
    };
    const auto [braked, none_home] = pressed(full);
    const auto [slack, home] = pressed(teed);
    const double stroke = 0.8 * 26e-3, area = pi * 0.25 * 15.875e-3 * 15.875e-3;
    EXPECT_GT(braked, 20.0 * bar);
    EXPECT_NEAR(none_home, 0.0, 1e-12);
    EXPECT_LT(slack, 0.5 * bar);
    EXPECT_NEAR(home, (stroke - 1.5e-3) * area, 0.05 * stroke * area);
}

// The rear pedal alone sends away what of the air stands within reach of the small cylinder's outlet; pushed home by the caliper at
// every stroke the bore gives most of the rest.
TEST(CaliperDrivenCylinder, PushedByItsCaliperItGivesWhatThePedalLeaves) {
    const auto left = [](bool pushed) {
        Shop shop("caliper_driven_cylinder");
        std::vector<ActuatorId> pedals{shop.actuator("rear pedal")};
        if (pushed) pedals.push_back(shop.actuator("caliper push"));
        shop.here = shop.screw("R");
        shop.strokes(pedals, 25);
        return shop.air_in("small cylinder");
    };
    const double by_pedal = left(false), with_push = left(true);
    EXPECT_GT(by_pedal, 0.25e-6);
    EXPECT_LT(with_push, 0.5 * by_pedal);
}

// With the caliper pushed the small cylinder's port is shut: it brakes the rear wheel and leaves the rear pedal's pipe without pressure.
TEST(CaliperDrivenCylinder, BrakesTheRearWheelByItself) {
    Shop shop("caliper_driven_cylinder", {"condition=full"});
    shop.job.act({Press{shop.actuator("caliper push"), 1.0, 120.0, 10.0}});
    EXPECT_GT(shop.job.gauge(shop.volume("R caliper")), 3.0 * bar);
    EXPECT_LT(shop.job.gauge(shop.volume("rear cylinder")), 0.2 * bar);
}

} // namespace
} // namespace clearstroke::testing
