#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include "analysis/finding.hpp"

namespace clearstroke {
namespace {

using ::testing::HasSubstr;
using ::testing::StartsWith;

RankedOrder order(std::vector<ScrewId> screws, int group, int strokes, std::vector<std::string> names = {}) {
    RankedOrder o{std::move(screws), std::move(names), group, {}};
    o.result.strokes = strokes;
    o.result.target_met = true;
    o.result.stopped_because = "seen clear";
    return o;
}

constexpr ScrewId lf{0}, rr{1};

// Two screws, two orders; the second is the farthest-first rule.
OrdersReport report_of(int best, int rule) {
    OrdersReport report;
    for (const char* name : {"LF", "RR"}) {
        report.usual.network.screws.emplace_back();
        report.usual.network.screws.back().name = name;
    }
    report.orders = {order({lf, rr}, 1, best),
                     order({rr, lf}, best == rule ? 1 : 2, rule, {"farthest first"})};
    return report;
}

TEST(Finding, NamesTheBestAndWhatTheRuleCosts) {
    EXPECT_EQ(finding_of(report_of(12, 14)),
              "Best: LF, RR with 12 strokes. Farthest first: 14 strokes, 2 strokes more than the best.");
}

TEST(Finding, SaysNoDifferencePlainly) {
    EXPECT_THAT(finding_of(report_of(12, 12)),
                StartsWith("No difference: each of the 2 orders takes 12 strokes"));
    OrdersReport report = report_of(12, 13);
    report.tie.cost = 1.0;
    EXPECT_THAT(finding_of(report),
                StartsWith("No difference: each of the 2 orders takes 12 strokes to within 1 stroke"));
}

TEST(Finding, CallsOrdersNotToldApartWhereStrokesAreHardlyResolved) {
    OrdersReport report = report_of(12, 14);
    report.tie.cost = 8.0;
    EXPECT_THAT(finding_of(report),
                StartsWith("Not told apart: each of the 2 orders takes 12 strokes to within 8 strokes"));
}

TEST(Finding, SaysWhatStaysInAnyOrder) {
    OrdersReport report = report_of(12, 14);
    report.beyond.total = 1.5e-6;
    for (RankedOrder& o : report.orders) o.result.air_left = 1.6e-6;
    EXPECT_THAT(finding_of(report),
                HasSubstr("1.5 mL of air stay in any order: this procedure can't move them."));
}

TEST(Finding, NoOrderMeetsTheTarget) {
    OrdersReport report = report_of(60, 60);
    report.orders[0].result.target_met = report.orders[1].result.target_met = false;
    report.orders[0].result.excess = 0.4e-6;
    report.orders[1].result.excess = 0.9e-6;
    report.orders[0].result.stopped_because = "stopped at limit at LF";
    EXPECT_EQ(finding_of(report), "No order meets the target: the best, LF, RR, leaves 0.40 mL of air too "
                                  "much (stopped at limit at LF).");
}

// Beside the two orders one that leaves out RR, and so its air.
OrdersReport with_part(int best, int rule) {
    OrdersReport report = report_of(best, rule);
    report.points = {lf, rr};
    report.orders.push_back(order({lf}, 3, 5, {"order 1 of the list"}));
    report.orders.back().result.target_met = false;
    report.orders.back().result.excess = 2e-6;
    return report;
}

TEST(Finding, AnOrderThatLeavesOutAScrewIsNamedAndNotCounted) {
    const OrdersReport report = with_part(12, 12);
    EXPECT_EQ(left_out(report, report.orders[2]), "RR");
    EXPECT_EQ(left_out(report, report.orders[0]), "");
    EXPECT_EQ(rule_text(report, report.orders[2]),
              "order 1 of the list: misses the target by 2.00 mL of air, seen clear; leaves out RR");
    EXPECT_THAT(finding_of(report), StartsWith("No difference: each of the 2 whole orders takes 12 strokes"));
    EXPECT_THAT(finding_of(with_part(12, 14)), StartsWith("Best: LF, RR with 12 strokes."));
    OrdersReport ahead = with_part(12, 12);
    ahead.orders[2].result.target_met = true;
    std::swap(ahead.orders[0], ahead.orders[2]);
    EXPECT_THAT(finding_of(ahead), StartsWith("Best: LF, which leaves out RR, with 5 strokes."));
}

TEST(RuleText, ADifferenceWithinTheTieIsNoRealOne) {
    OrdersReport report = report_of(16, 17);
    EXPECT_FALSE(as_good_as_best(report, report.orders[1]));
    report.tie.cost = 1.0;
    EXPECT_TRUE(as_good_as_best(report, report.orders[1]));
    EXPECT_EQ(rule_text(report, report.orders[1]), "farthest first: 17 strokes, 1 stroke more than the best: "
                                                   "no real difference (1 stroke cannot be told apart)");
    EXPECT_EQ(rule_text(report, report.orders[0]), "LF, RR: 16 strokes, as the best");
}

TEST(RuleText, TellsWhyARuleMisses) {
    OrdersReport report = report_of(12, 8);
    report.orders[1].result.target_met = false;
    report.orders[1].result.excess = 0.3e-6;
    EXPECT_EQ(rule_text(report, report.orders[1]),
              "farthest first: misses the target by 0.30 mL of air, seen clear");
}

TEST(CostText, IsInTheUnitOfTheCost) {
    EXPECT_EQ(cost_text(1.0, Cost::strokes), "1 stroke");
    EXPECT_EQ(cost_text(12.0, Cost::strokes), "12 strokes");
    EXPECT_EQ(cost_text(0.31, Cost::strokes), "0.31 strokes");
    EXPECT_EQ(cost_text(1260.0, Cost::time), "21 min");
    EXPECT_EQ(cost_text(2.3e-4, Cost::fluid), "230 mL");
}

// Low and high runs of both orders: in the second set the rule wins.
OrdersReport with_sets() {
    OrdersReport report = report_of(12, 14);
    report.sets = {{"starting air", "less starting air", {}}, {"starting air", "more starting air", {}}};
    report.spreads = {{0, {order({}, 1, 10).result, order({}, 1, 20).result}},
                      {1, {order({}, 1, 11).result, order({}, 1, 19).result}}};
    return report;
}

TEST(Finding, SaysWhichRunsOverturnIt) {
    const OrdersReport report = with_sets();
    EXPECT_EQ(overturned_by(report, report.spreads[0], report.spreads[1]),
              std::vector<std::string>{"more starting air"});
    EXPECT_THAT(finding_of(report), HasSubstr("Not so with more starting air."));
}

VisitOutcome visit(ScrewId screw, int carried, double clear) {
    VisitOutcome v;
    v.screw = screw;
    v.carried = carried;
    v.strokes = carried + 2;
    v.clear_stroke = clear;
    return v;
}

TEST(Prediction, IsForTheScrewWhereBubblesLastLongestWithItsRange) {
    OrdersReport report = with_sets();
    report.orders[0].result.visits = {visit(lf, 2, 7e-6), visit(rr, 5, 6.5e-6)};
    report.spreads[0].results[0].visits = {visit(lf, 1, 7e-6), visit(rr, 3, 6.6e-6)};
    report.spreads[0].results[1].visits = {visit(lf, 9, 7e-6), visit(rr, 8, 6.4e-6)};
    const Prediction p = predict(report);
    EXPECT_EQ(p.screw, rr);
    EXPECT_EQ(p.low, 3);
    EXPECT_EQ(p.high, 8);
    EXPECT_EQ(p.sentence, "the last bubble in the clear hose at RR is seen in stroke 5 (3 to 8); a clear "
                          "stroke there gives 6.5 mL");
}

TEST(Prediction, CarriesNoRangeWhereThereIsNone) {
    OrdersReport report = with_sets();
    report.spreads.clear();
    report.orders[0].result.visits = {visit(rr, 2, 6.5e-6)};
    EXPECT_EQ(
        predict(report).sentence,
        "the last bubble in the clear hose at RR is seen in stroke 2; a clear stroke there gives 6.5 mL");
    report.orders[0].result.visits = {visit(rr, 0, 0.0)};
    EXPECT_EQ(predict(report).sentence, "no bubble is seen at RR");
}

TEST(FluidAtHand, IsTheMostOfAnyRunRoundedUp) {
    OrdersReport report = with_sets();
    report.orders[0].result.drawn = 120e-6;
    report.spreads[0].results[1].drawn = 205e-6;
    EXPECT_NEAR(fluid_at_hand(report), 250e-6, 1e-12);
}

} // namespace
} // namespace clearstroke
