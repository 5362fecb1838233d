#include <gtest/gtest.h>

#include <algorithm>

#include "analysis/known_orders.hpp"

namespace clearstroke {
namespace {

// Four wheels; two circuits as a diagonal split has them.
std::vector<BleedPoint> diagonal() {
    return {{ScrewId{0}, "LF", "LF caliper", 1.4, 0},
            {ScrewId{1}, "RF", "RF caliper", 2.2, 1},
            {ScrewId{2}, "LR", "LR caliper", 3.9, 1},
            {ScrewId{3}, "RR", "RR caliper", 4.7, 0}};
}

std::vector<std::string> names(const std::vector<BleedPoint>& points, const KnownOrder& order) {
    std::vector<std::string> out;
    for (const ScrewId s : order.screws)
        out.push_back(std::ranges::find(points, s, &BleedPoint::screw)->name);
    return out;
}

using Names = std::vector<std::string>;

TEST(KnownOrders, ByLengthOfPipe) {
    const auto points = diagonal();
    const auto orders = known_orders(points);
    ASSERT_EQ(orders.size(), 3u);
    EXPECT_EQ(orders[0].name, "farthest first");
    EXPECT_EQ(names(points, orders[0]), (Names{"RR", "LR", "RF", "LF"}));
    EXPECT_EQ(names(points, orders[1]), (Names{"LF", "RF", "LR", "RR"}));
}

// Common practice for a diagonal split: finish one circuit before the other, RR, LF, LR, RF.
TEST(KnownOrders, CircuitByCircuitStartsWithTheFarthest) {
    const auto points = diagonal();
    EXPECT_EQ(names(points, known_orders(points)[2]), (Names{"RR", "LF", "LR", "RF"}));
}

TEST(KnownOrders, EqualLengthsGoByName) {
    auto points = diagonal();
    for (BleedPoint& p : points) p.length = 1.0;
    EXPECT_EQ(names(points, known_orders(points)[0]), (Names{"LF", "LR", "RF", "RR"}));
    EXPECT_EQ(names(points, known_orders(points)[1]), (Names{"LF", "LR", "RF", "RR"}));
}

TEST(KnownOrders, ScrewsOfAWheelStayTogetherAndHaveBothOrders) {
    const std::vector<BleedPoint> points = {{ScrewId{0}, "A inner", "A", 2.0, 0},
                                            {ScrewId{1}, "A outer", "A", 2.2, 0},
                                            {ScrewId{2}, "B inner", "B", 2.1, 0},
                                            {ScrewId{3}, "B outer", "B", 2.3, 0}};
    const auto orders = known_orders(points);
    ASSERT_EQ(orders.size(), 6u);
    EXPECT_EQ(names(points, orders[0]), (Names{"B outer", "B inner", "A outer", "A inner"}));
    EXPECT_EQ(names(points, orders[3]), (Names{"B inner", "B outer", "A inner", "A outer"}));
}

TEST(KnownOrders, OneOrderMayHaveSeveralNames) {
    auto points = diagonal();
    for (BleedPoint& p : points) p.circuit = p.length > 3.0 ? 0 : 1; // front and rear circuits
    const auto orders = known_orders(points);
    EXPECT_EQ(names_of(orders[0].screws, orders), (Names{"farthest first", "circuit by circuit"}));
    EXPECT_TRUE(names_of({ScrewId{3}, ScrewId{1}, ScrewId{2}, ScrewId{0}}, orders).empty());
}

TEST(KnownOrders, WhatNamesHaveInCommonIsSaidOnce) {
    const std::string tail = ", screws of a wheel the other way round";
    EXPECT_EQ(together({"farthest first" + tail, "nearest first" + tail, "the file's own"}),
              "farthest first, nearest first" + tail + ", the file's own");
    EXPECT_EQ(together({"farthest first", "nearest first" + tail}), "farthest first, nearest first" + tail);
}

} // namespace
} // namespace clearstroke
