// Joined beginnings against the tree of every order, on four screws.
#include <gtest/gtest.h>

#include "analysis/joined_orders.hpp"
#include "tests/search/four_wheels.hpp"

namespace clearstroke::testing {
namespace {

JoinedOrders joined(const OrderJob& job, double effort = 1e6) {
    return join_orders(job.c, job.visits, job.rules, effort);
}

std::vector<double> bits(const JoinedOrders& found) {
    std::vector<double> all;
    for (const OrderRow& row : found.rows) {
        all.insert(all.end(), {static_cast<double>(row.strokes), row.duration, row.drawn});
        all.insert(all.end(), row.air_by_circuit.begin(), row.air_by_circuit.end());
    }
    return all;
}

TEST(JoinedOrders, RowsAreThoseOfTheTree) {
    for (const char* name : {"front_rear_split", "diagonal_split"}) {
        const OrderJob job(quick_case(name));
        const std::vector<OrderOfVisits> orders = job.rules.every();
        OrderRows tree(orders.size());
        const TreeWork whole = walk_order_tree(job.c, job.visits, orders, false,
                                               [&](std::size_t n, const PlanRun& run) { tree.put(n, run); });
        const JoinedOrders found = joined(job);
        ASSERT_TRUE(found.complete) << name;
        ASSERT_EQ(found.orders, orders) << name;
        EXPECT_LT(found.work.visits, whole.visits) << name;
        EXPECT_GT(found.joining.beginnings, 0u) << name;
        EXPECT_TRUE(within(found.joining.apart, alike)) << name;
        for (std::size_t i = 0; i < orders.size(); ++i) {
            EXPECT_EQ(found.rows[i].strokes, tree.rows[i].strokes) << name << i;
            EXPECT_NEAR(found.rows[i].drawn, tree.rows[i].drawn, 1e-7) << name << i;
            EXPECT_NEAR(found.rows[i].duration, tree.rows[i].duration, 0.1) << name << i;
            for (std::size_t k = 0; k < tree.rows[i].air_by_circuit.size(); ++k)
                EXPECT_NEAR(found.rows[i].air_by_circuit[k], tree.rows[i].air_by_circuit[k], 1e-9)
                    << name << i;
        }
    }
}

TEST(JoinedOrders, SameBitsForAnyNumberOfThreads) {
    const OrderJob job(quick_case("front_rear_split"));
    JoinedOrders one, two;
    with_threads(1, [&] { one = joined(job); });
    with_threads(2, [&] { two = joined(job); });
    EXPECT_EQ(bits(one), bits(two));
    EXPECT_EQ(one.work.visits, two.work.visits);
}

TEST(JoinedOrders, KeepTheLimits) {
    const std::vector<ScrewId> screws = OrderJob(quick_case("minimal")).screws;
    OrderLimits limits;
    limits.first = {screws[2]};
    const OrderJob job(quick_case("minimal"), limits);
    const JoinedOrders found = joined(job);
    ASSERT_TRUE(found.complete);
    EXPECT_EQ(found.orders.size(), 6u);
    for (const OrderOfVisits& order : found.orders) EXPECT_EQ(order.front(), 2u);
}

// What a dry wheel leaves depends on what was done before; and an effort is kept.
TEST(JoinedOrders, GiveUpWhereLittleIsAlikeOrTheEffortEnds) {
    const JoinedOrders dry = joined(OrderJob(quick_case("front_rear_split", "dry")));
    EXPECT_FALSE(dry.complete);
    EXPECT_LE(dry.work.visits, 4u + 12u);
    const JoinedOrders cut = joined(OrderJob(quick_case("front_rear_split")), 20.0);
    EXPECT_FALSE(cut.complete);
    EXPECT_LE(cut.work.visits, 20u);
}

} // namespace
} // namespace clearstroke::testing
