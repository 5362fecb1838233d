// Orders under wishes, against counting by hand and by trying every permutation.
#include <gtest/gtest.h>

#include <algorithm>
#include <numeric>

#include "analysis/candidates.hpp"
#include "tests/analysis/two_wheels.hpp"

namespace clearstroke {
namespace {

using Positions = std::vector<std::size_t>;

std::vector<ScrewId> screws(std::size_t count) {
    std::vector<ScrewId> all;
    for (std::size_t i = 0; i < count; ++i) all.push_back(ScrewId{i});
    return all;
}

std::vector<Positions> kept_permutations(const OrderRules& rules) {
    Positions order(rules.size());
    std::iota(order.begin(), order.end(), std::size_t{0});
    std::vector<Positions> kept;
    do
        if (rules.kept_by(order)) kept.push_back(order);
    while (std::next_permutation(order.begin(), order.end()));
    return kept;
}

TEST(OrderLimits, WithoutAnyEveryPermutationAndItsPrefixesAreCounted) {
    // n! orders; n!/(n-k)! prefixes of length k
    const auto eight = OrderRules({}, screws(8)).count();
    EXPECT_EQ(eight.orders, 40320.0);
    EXPECT_EQ(eight.visits, 8.0 + 56 + 336 + 1680 + 6720 + 20160 + 40320 + 40320);
    const OrderRules four({}, screws(4));
    EXPECT_EQ(four.count().orders, 24.0);
    EXPECT_EQ(four.count().visits, 4.0 + 12 + 24 + 24);
    EXPECT_EQ(four.every(), kept_permutations(four));
    EXPECT_EQ(OrderRules({}, {}).count().orders, 1.0);
}

TEST(OrderLimits, GroupsAreTakenInOneGo) {
    // four calipers of two screws each: 4! 2^4 orders
    OrderLimits limits;
    for (std::size_t i = 0; i < 8; i += 2) limits.together.push_back({ScrewId{i}, ScrewId{i + 1}});
    const OrderRules rules(limits, screws(8));
    EXPECT_EQ(rules.count().orders, 384.0);
    EXPECT_EQ(rules.every().size(), 384u);
    EXPECT_TRUE(rules.kept_by({1, 0, 6, 7, 2, 3, 4, 5}));
    EXPECT_FALSE(rules.kept_by({1, 6, 0, 7, 2, 3, 4, 5}));
}

TEST(OrderLimits, FirstLastAndBeforeAreKept) {
    OrderLimits limits;
    limits.first = {ScrewId{3}};
    limits.last = {ScrewId{0}, ScrewId{4}};
    limits.before = {{ScrewId{2}, ScrewId{1}}};
    const OrderRules rules(limits, screws(5));
    EXPECT_EQ(rules.every(), (std::vector<Positions>{{3, 2, 1, 0, 4}, {3, 2, 1, 4, 0}}));
    EXPECT_EQ(rules.count().orders, 2.0);
    EXPECT_EQ(rules.count().visits, 1.0 + 1 + 1 + 2 + 2);
    EXPECT_TRUE(rules.kept_by({3, 2, 3, 1, 0, 4})); // going back is free
}

TEST(OrderLimits, ListTheSameOrdersAsTryingThemAll) {
    OrderLimits limits;
    limits.together = {{ScrewId{0}, ScrewId{1}, ScrewId{2}}, {ScrewId{1}, ScrewId{2}}};
    limits.before = {{ScrewId{4}, ScrewId{1}}};
    const OrderRules rules(limits, screws(6));
    EXPECT_EQ(rules.every(), kept_permutations(rules));
    EXPECT_EQ(rules.count().orders, static_cast<double>(rules.every().size()));
    EXPECT_LT(rules.every().size(), 720u);
    EXPECT_GT(rules.every().size(), 0u);
}

TEST(OrderLimits, ThatContradictEachOtherLeaveNoOrder) {
    OrderLimits limits;
    limits.before = {{ScrewId{0}, ScrewId{1}}, {ScrewId{1}, ScrewId{0}}};
    const OrderRules rules(limits, screws(3));
    EXPECT_EQ(rules.count().orders, 0.0);
    EXPECT_TRUE(rules.every().empty());
}

TEST(OrderLimits, OfScrewsThatAreNotVisitedAreLeftOut) {
    OrderLimits limits;
    limits.first = {ScrewId{7}};
    limits.before = {{ScrewId{7}, ScrewId{0}}};
    EXPECT_EQ(OrderRules(limits, screws(3)).count().orders, 6.0);
}

TEST(OrderLimits, LeaveOutNamedOrdersThatBreakThem) {
    OrdersRequest request;
    request.limits.first = {ScrewId{1}}; // the near screw
    request.low_high = false;
    const OrdersReport report = compare_orders(small::two_wheels_factory(), request);
    ASSERT_EQ(report.orders.size(), 1u);
    EXPECT_EQ(report.best().screws, (std::vector<ScrewId>{ScrewId{1}, ScrewId{0}}));
    EXPECT_EQ(report.search.possible, 1.0);
    EXPECT_NE(std::ranges::find(report.search.left_out, "farthest first"), report.search.left_out.end());
    request.limits.before = {{ScrewId{0}, ScrewId{1}}};
    EXPECT_THROW((void)compare_orders(small::two_wheels_factory(), request), RequestError);
}

} // namespace
} // namespace clearstroke
