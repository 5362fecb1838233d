#include <gtest/gtest.h>

#include "analysis/orders.hpp"
#include "tests/analysis/two_wheels.hpp"

namespace clearstroke {
namespace {

using Screws = std::vector<ScrewId>;

TEST(Orders, VisitsKeepWhatTheFileSaysOfAScrew) {
    Procedure p;
    p.visits = {{ScrewId{0}, 5, {}}, {ScrewId{1}, {}, {Wait{1.0}}}, {ScrewId{0}, 2, {}}};
    const auto visits = visits_in_order(p, {ScrewId{1}, ScrewId{0}, ScrewId{0}, ScrewId{2}});
    ASSERT_EQ(visits.size(), 4u);
    EXPECT_EQ(visits[0].before.size(), 1u);
    EXPECT_EQ(visits[1].strokes, 5);
    EXPECT_EQ(visits[2].strokes, 2);
    EXPECT_FALSE(visits[3].strokes); // not in the file
    EXPECT_EQ(visited_screws(p), (Screws{ScrewId{0}, ScrewId{1}}));
}

TEST(Orders, ComparesAllAndNamesTheUsualRules) {
    const OrdersReport report = compare_orders(small::two_wheels_factory(), {});
    ASSERT_EQ(report.orders.size(), 2u);
    ASSERT_NE(find_known(report, "farthest first"), nullptr);
    EXPECT_EQ(find_known(report, "farthest first")->screws, (Screws{ScrewId{0}, ScrewId{1}}));
    EXPECT_EQ(find_known(report, "the file's own"), find_known(report, "farthest first"));
    EXPECT_EQ(find_known(report, "nearest first")->screws, (Screws{ScrewId{1}, ScrewId{0}}));
    EXPECT_LE(report.balance.liquid, 1e-12);
    EXPECT_LE(report.balance.gas, 1e-12);
    EXPECT_EQ(report.orders[0].group, 1);
    EXPECT_EQ(report.spreads.size(), 2u);
    EXPECT_EQ(report.spreads[0].results.size(), report.sets.size());
}

TEST(Orders, AnOwnOrderThatReturnsToAScrewIsComparedToo) {
    CaseFactory factory = small::two_wheels_factory();
    const auto make = factory.make;
    factory.make = [make](std::span<const double> v) {
        Case c = make(v);
        c.procedure.visits = {{ScrewId{1}, 1, {}}, {ScrewId{0}, 1, {}}, {ScrewId{1}, 1, {}}};
        return c;
    };
    OrdersRequest request;
    request.low_high = false;
    const OrdersReport report = compare_orders(factory, request);
    EXPECT_EQ(report.orders.size(), 3u);
    EXPECT_EQ(find_known(report, "the file's own")->screws, (Screws{ScrewId{1}, ScrewId{0}, ScrewId{1}}));
    EXPECT_EQ(find_known(report, "the file's own")->result.strokes, 3);
}

TEST(Orders, AListIsComparedWithTheUsualRules) {
    OrdersRequest request;
    request.listed = {{"far only", {ScrewId{0}}}};
    request.only_listed = true;
    request.low_high = false;
    const OrdersReport report = compare_orders(small::two_wheels_factory(), request);
    EXPECT_EQ(report.orders.size(), 3u);
    EXPECT_NE(find_known(report, "far only"), nullptr);
}

TEST(Orders, NothingToVisitIsRefused) {
    CaseFactory factory = small::two_wheels_factory();
    factory.make = [](std::span<const double>) {
        Case c = small::two_wheels(0.0, 0.0);
        c.procedure.visits.clear();
        return c;
    };
    EXPECT_THROW((void)compare_orders(factory, {}), RequestError);
}

} // namespace
} // namespace clearstroke
