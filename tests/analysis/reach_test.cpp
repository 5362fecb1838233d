#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <cmath>

#include "analysis/reach.hpp"
#include "models/constants.hpp"
#include "tests/analysis/two_wheels.hpp"

namespace clearstroke {
namespace {

// Caliper of 54 mm bore and 10 mm depth with its screw's middle on the wall at `clock`.
Case with_screw_at(double clock) {
    Case c = small::two_wheels(0.0, 0.0);
    for (Port& port : c.network.volumes[1].ports)
        if (port.name == "screw") port.place = {clock, 0.5, 1.0};
    return c;
}

// Exact: a level at height y in a lying cylinder leaves depth (R^2 acos(y/R) - y sqrt(R^2 - y^2)) above it.
double segment_volume(double radius, double y, double depth) {
    return depth * (radius * radius * std::acos(y / radius) - y * std::sqrt(radius * radius - y * y));
}

TEST(Reach, PocketAboveTheScrewIsTheSegmentAboveItsTop) {
    const Case c = with_screw_at(pi / 3.0); // 2 o'clock
    const ScrewReach reach = reach_of_screws(c.network)[0];
    const double top = 0.027 * std::cos(pi / 3.0) + 0.5 * 3e-3; // of the drilling of 3 mm
    EXPECT_TRUE(reach.has_pocket);
    EXPECT_NEAR(reach.level, segment_volume(0.027, top, 0.010), 1e-3 * reach.level);
}

TEST(Reach, TurningBringsTheScrewToTheTop) {
    const ScrewReach reach = reach_of_screws(with_screw_at(pi / 3.0).network)[0];
    EXPECT_NEAR(reach.turn, -pi / 3.0, 1e-12);
    EXPECT_LT(reach.turned, 0.05 * reach.level);
}

TEST(Reach, AdviceNamesPartAngleAndDirection) {
    const Case c = with_screw_at(5.0 * pi / 6.0); // 5 o'clock
    const auto advice = advice_for(c.network, {{"far caliper", 9e-6, 9e-6}});
    ASSERT_EQ(advice.size(), 1u);
    EXPECT_THAT(advice[0].sentence, ::testing::HasSubstr("turn far caliper by 150 degrees anticlockwise"));
    ASSERT_TRUE(advice[0].act);
    EXPECT_NEAR(std::get<TurnPart>(*advice[0].act).roll, -5.0 * pi / 6.0, 1e-12);
}

TEST(Reach, NoAdviceForAirNotWorthIt) {
    EXPECT_TRUE(advice_for(with_screw_at(0.0).network, {{"far caliper", 2e-8, 2e-8}}).empty());
}

TEST(Reach, WhatStoodStillIsAdvisedOnThoughItIsWithinReach) {
    PlanResult result;
    result.air_left = 2e-6;
    result.air_by_place = {{"cylinder", 2e-6, 0.0}};
    const Network net = with_screw_at(0.0).network;
    ASSERT_EQ(advice_for(net, result).size(), 1u);
    result.last_moved = 1e-7;
    EXPECT_TRUE(advice_for(net, result).empty());
    result.leaked_in = 3e-6;
    EXPECT_THAT(advice_for(net, result).at(0).sentence, ::testing::HasSubstr("find where it leaks in"));
    result.leaked_to_hose = result.leaked_in; // out with the flow of an open screw: nothing to mend
    EXPECT_TRUE(advice_for(net, result).empty());
}

TEST(Reach, APlaceWithoutAScrewNeedsItsUnionOpened) {
    const auto advice = advice_for(with_screw_at(0.0).network, {{"cylinder", 1e-6, 1e-6}});
    ASSERT_EQ(advice.size(), 1u);
    EXPECT_THAT(advice[0].sentence, ::testing::HasSubstr("no bleed screw there"));
    EXPECT_TRUE(std::holds_alternative<Cap>(*advice[0].act));
}

} // namespace
} // namespace clearstroke
