#include <gtest/gtest.h>

#include <atomic>

#include "analysis/order_tree.hpp"
#include "tests/analysis/two_wheels.hpp"

namespace clearstroke {
namespace {

// Everything that could differ if a branch disturbed its neighbours.
std::vector<double> digest(const std::vector<PlanRun>& runs) {
    std::vector<double> all;
    for (const PlanRun& run : runs) {
        all.insert(all.end(), run.air_end.of_volume.begin(), run.air_end.of_volume.end());
        all.insert(all.end(), run.air_end.of_line.begin(), run.air_end.of_line.end());
        for (const auto& visit : run.visits)
            for (const StrokeRecord& s : visit->record.strokes)
                all.insert(all.end(), {s.t_end, s.liquid_out, s.gas_out, s.pad_travel});
    }
    return all;
}

struct OrderTree : ::testing::Test {
    Case c = small::two_wheels(2e-6, 1e-6);
    std::vector<OrderOfVisits> orders = {{0, 1}, {1, 0}, {0}, {0, 1, 0}};
};

TEST_F(OrderTree, GivesTheBitsOfSeparateRuns) {
    c.procedure.visits.push_back(c.procedure.visits[0]);
    const auto tree = run_order_tree(c, c.procedure.visits, orders);
    std::vector<PlanRun> alone;
    for (const OrderOfVisits& order : orders) {
        std::vector<Visit> visits;
        for (const std::size_t i : order) visits.push_back(c.procedure.visits[i]);
        alone.push_back(run_plan(c, visits));
    }
    EXPECT_EQ(digest(tree), digest(alone));
}

TEST_F(OrderTree, GivesTheSameBitsForOneAndTwoThreads) {
    std::vector<PlanRun> one, two;
    with_threads(1, [&] { one = run_order_tree(c, c.procedure.visits, orders); });
    with_threads(2, [&] { two = run_order_tree(c, c.procedure.visits, orders); });
    EXPECT_EQ(digest(one), digest(two));
}

TEST_F(OrderTree, SharesWhatBeginsAlike) {
    const auto runs = run_order_tree(c, c.procedure.visits, orders);
    EXPECT_EQ(runs[0].visits[0], runs[3].visits[0]);
    EXPECT_EQ(runs[2].visits[0], runs[3].visits[0]);
    EXPECT_NE(runs[0].visits[0], runs[1].visits[0]);
}

TEST_F(OrderTree, TellsItsProgress) {
    std::atomic<std::size_t> calls{0}, most{0};
    (void)run_order_tree(c, c.procedure.visits, orders, {}, [&](std::size_t done, std::size_t total) {
        ++calls;
        if (done == total) most = done;
    });
    EXPECT_EQ(calls, orders.size());
    EXPECT_EQ(most, orders.size());
}

} // namespace
} // namespace clearstroke
