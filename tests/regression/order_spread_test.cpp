// How far the orders of a shipped layout lie apart, and why: all 24 orders are run. Our own runs: regression, not validation.
#include <gtest/gtest.h>

#include <algorithm>
#include <utility>

#include "analysis/orders.hpp"
#include "scenarios/scenario.hpp"

namespace clearstroke {
namespace {

struct Spread {
    int least{}, most{};     ///< strokes
    double tie{};            ///< numerical resolution of strokes
    double little{}, much{}; ///< fluid drawn [m^3]
};

Spread spread_of(const CaseFactory& factory) {
    OrdersRequest request;
    request.low_high = false;
    const OrdersReport report = compare_orders(factory, request);
    EXPECT_EQ(report.orders.size(), 24U);
    for (const RankedOrder& o : report.orders) EXPECT_TRUE(o.result.target_met);
    const auto strokes = [](const RankedOrder& o) { return o.result.strokes; };
    const auto drawn = [](const RankedOrder& o) { return o.result.drawn; };
    const auto [least, most] = std::ranges::minmax(report.orders, {}, strokes);
    const auto [little, much] = std::ranges::minmax(report.orders, {}, drawn);
    return {strokes(least), strokes(most), report.tie.cost, drawn(little), drawn(much)};
}

Scenario shipped(const std::string& name, const std::string& condition) {
    const std::vector<std::string> overrides{"condition=" + condition};
    return read_scenario("scenarios/" + name + ".toml", overrides);
}

/// Before each visit every line that does not lead to its screw is capped; those that do are open.
Case others_capped(Case c) {
    for (Visit& v : c.procedure.visits) {
        const std::vector<LineId> path = shortest_path(c.network, v.screw);
        for (std::size_t i = 0; i < c.network.lines.size(); ++i)
            v.before.emplace_back(Cap{LineId{i}, std::ranges::find(path, LineId{i}) == path.end()});
    }
    return c;
}

// With little air no order is better than another by more than the numbers resolve.
TEST(OrderSpread, WithLittleAirTheOrdersOfFrontRearSplitAreTies) {
    const Spread s = spread_of(shipped("front_rear_split", "little air").factory);
    EXPECT_LE(s.most - s.least, s.tie);
    EXPECT_LT(s.tie, 1.0);
}

// Dry, the best order and the worst lie several strokes apart, by what the dry branches that are not being bled take of each stroke and
// give back: capped, all orders take the same strokes and the same fluid, and fewer than the best without caps.
TEST(OrderSpread, OfADrySystemIsWhatTheOtherBranchesAbsorb) {
    const Scenario dry = shipped("dry_system", "dry");
    CaseFactory capped = dry.factory;
    capped.make = [&](std::span<const double> values) { return others_capped(dry.factory.make(values)); };
    const Spread as_it_is = spread_of(dry.factory), shut = spread_of(capped);
    EXPECT_GT(as_it_is.most - as_it_is.least, 3.0 * as_it_is.tie);
    EXPECT_GT(as_it_is.much - as_it_is.little, 15e-6);
    EXPECT_LE(shut.most - shut.least, shut.tie);
    EXPECT_LT(shut.much - shut.little, 1e-6);
    EXPECT_LT(shut.most, as_it_is.least);
    EXPECT_LT(shut.much, as_it_is.little);
}

} // namespace
} // namespace clearstroke
