// Searching orders against running them all, on four screws.
#include <gtest/gtest.h>

#include <algorithm>
#include <map>

#include "analysis/candidates.hpp"
#include "analysis/order_search.hpp"
#include "tests/search/four_wheels.hpp"

namespace clearstroke::testing {
namespace {

// A case with all its orders run.
struct Enumerated : OrderJob {
    std::vector<OrderOfVisits> orders;
    OrderRows rows;
    TreeWork work;

    explicit Enumerated(Case some, const OrderLimits& limits = {})
        : OrderJob(std::move(some), limits), orders(rules.every()), rows(orders.size()),
          work(walk_order_tree(c, visits, orders, false,
                               [&](std::size_t n, const PlanRun& run) { rows.put(n, run); })) {}

    [[nodiscard]] Standing best(const std::vector<OrderRow>& some, Cost cost) const {
        const BeyondAll beyond = rows.least.beyond(c.network);
        std::vector<Standing> standings;
        for (const OrderRow& row : some)
            standings.push_back(standing_of(row, cost, beyond, c.procedure.target));
        return standings[rank(standings, {}).front().index];
    }

    [[nodiscard]] SearchedOrders search(double effort, Cost cost) const {
        SearchRequest request{effort, cost, {}, {}};
        for (const Visit& v : visits) request.typical.push_back(least_cost(v, c.procedure, cost));
        return search_orders(c, visits, rules, request);
    }
};

const Enumerated& minimal() {
    static const Enumerated all(quick_case("minimal"));
    return all;
}

std::vector<double> bits(const std::vector<OrderRow>& rows) {
    std::vector<double> all;
    for (const OrderRow& row : rows) {
        all.insert(all.end(), {static_cast<double>(row.strokes), row.duration, row.drawn});
        all.insert(all.end(), row.air_by_circuit.begin(), row.air_by_circuit.end());
    }
    return all;
}

class FourWheels : public ::testing::TestWithParam<const char*> {};

TEST_P(FourWheels, SearchFindsTheBestOfAllOrders) {
    const Enumerated all(quick_case(GetParam()));
    ASSERT_EQ(all.orders.size(), 24u);
    const SearchedOrders found = all.search(34.0, Cost::strokes);
    EXPECT_LE(found.work.visits, 34u); // of 64
    ASSERT_FALSE(found.orders.empty());
    const Standing of_all = all.best(all.rows.rows, Cost::strokes),
                   of_found = all.best(found.rows, Cost::strokes);
    EXPECT_EQ(of_found.target_met, of_all.target_met);
    EXPECT_EQ(of_found.cost, of_all.cost);
    ASSERT_TRUE(found.bound);
    for (std::size_t i = 0; i < all.orders.size(); ++i) {
        const auto at = std::ranges::find(found.orders, all.orders[i]);
        if (at == found.orders.end())
            EXPECT_GE(cost_of(all.rows.rows[i], Cost::strokes), *found.bound); // what the bound promises
        else
            EXPECT_EQ(bits({all.rows.rows[i]}),
                      bits({found.rows[static_cast<std::size_t>(at - found.orders.begin())]}));
    }
}

INSTANTIATE_TEST_SUITE_P(Shipped, FourWheels,
                         ::testing::Values("front_rear_split", "diagonal_split", "rear_tee", "rear_drums"));

TEST(OrderSearch, WithRoomForAllRunsAllOnceAndLeavesNothingOpen) {
    const Enumerated& all = minimal();
    const SearchedOrders found = all.search(64.0, Cost::strokes);
    EXPECT_EQ(found.orders, all.orders);
    EXPECT_EQ(bits(found.rows), bits(all.rows.rows));
    EXPECT_EQ(found.work.visits, all.work.visits);
    EXPECT_EQ(found.work.strokes, all.work.strokes);
    EXPECT_FALSE(found.bound); // nothing was left out
}

TEST(OrderSearch, KeepsTheLimits) {
    OrderLimits limits;
    limits.last = {ScrewId{0}};
    limits.before = {{ScrewId{3}, ScrewId{1}}};
    const Enumerated all(quick_case("minimal"), limits);
    EXPECT_EQ(all.orders.size(), 3u);
    const SearchedOrders found = all.search(1.0, Cost::time); // the narrowest beam
    EXPECT_EQ(found.width, 1u);
    ASSERT_EQ(found.orders.size(), 1u);
    EXPECT_TRUE(all.rules.kept_by(found.orders[0]));
    ASSERT_TRUE(found.bound);
    for (const OrderRow& row : all.rows.rows)
        EXPECT_GE(row.duration, std::min(*found.bound, found.rows[0].duration));
}

TEST(OrderSearch, GivesTheSameBitsForOneAndTwoThreads) {
    const Enumerated& all = minimal();
    SearchedOrders one, two;
    with_threads(1, [&] { one = all.search(20.0, Cost::strokes); });
    with_threads(2, [&] { two = all.search(20.0, Cost::strokes); });
    EXPECT_EQ(one.orders, two.orders);
    EXPECT_EQ(bits(one.rows), bits(two.rows));
    EXPECT_EQ(one.bound, two.bound);
    EXPECT_EQ(one.least.of_volume, two.least.of_volume);
}

TEST(OrderSearch, CutsWhatCannotBeatAKnownOrder) {
    const Enumerated& all = minimal();
    SearchRequest request{64.0, Cost::strokes, 0.0, std::vector<double>(4, 3.0)};
    EXPECT_EQ(search_orders(all.c, all.visits, all.rules, request).work.visits, 0u);
    request.known = all.best(all.rows.rows, Cost::strokes).cost;
    const SearchedOrders found = search_orders(all.c, all.visits, all.rules, request);
    EXPECT_EQ(all.best(found.rows, Cost::strokes).cost, *request.known);
}

TEST(OrderSearch, OfFluidHasNoBound) {
    const Enumerated& all = minimal();
    EXPECT_FALSE(all.search(1.0, Cost::fluid).bound);
}

TEST(BeamWidth, FollowsFromTheEffort) {
    const OrderRules eight({}, [] {
        std::vector<ScrewId> s;
        for (std::size_t i = 0; i < 8; ++i) s.push_back({i});
        return s;
    }());
    EXPECT_EQ(beam_width(eight.count(), 0.0), 1u);
    EXPECT_EQ(beam_width(eight.count(), 8.0 + 7 + 6 + 5 + 4 + 3 + 2 + 1), 1u);
    EXPECT_EQ(beam_width(eight.count(), 8.0 + 2 * (7 + 6 + 5 + 4 + 3 + 2 + 1)), 2u);
    EXPECT_EQ(beam_width(eight.count(), 1e9), widest_beam);
}

TEST(LeastCost, IsWhatEveryVisitOfARunPaid) {
    const Case c = quick_case("minimal");
    for (const Visit& visit : c.procedure.visits) {
        const PlanRun run = run_plan(c, {visit});
        for (const Cost cost : {Cost::strokes, Cost::time})
            EXPECT_LE(least_cost(visit, c.procedure, cost), cost_of(run.visits[0]->record, cost));
    }
    EXPECT_EQ(least_cost({ScrewId{0}, 7, {}}, c.procedure, Cost::strokes), 7.0);
    EXPECT_EQ(least_cost({ScrewId{0}}, c.procedure, Cost::strokes), 2.0); // two clear strokes
}

} // namespace
} // namespace clearstroke::testing
