#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include "analysis/acceptance.hpp"

namespace clearstroke {
namespace {

using testing::HasSubstr;
using testing::Not;
using testing::StartsWith;

const AcceptanceRule* light() { return find_acceptance_rule("570.5"); }

// 49 CFR 570.55(b), (c) [verified in the text]: 125 lbf for 10 s, 50 lbf at most 80 % of the way to the
// floor.
TEST(Acceptance, HeavyVehicleRuleHasItsPublishedNumbers) {
    const AcceptanceRule* rule = find_acceptance_rule("570.55");
    ASSERT_NE(rule, nullptr);
    EXPECT_NEAR(rule->hold_force, 125.0 * 4.448222, 0.5);
    EXPECT_NEAR(rule->travel_force, 50.0 * 4.448222, 0.5);
    EXPECT_EQ(rule->hold_seconds, 10.0);
    EXPECT_EQ(rule->travel_share, 0.8);
}

// Quebec C-24.2 r. 32 s. 35 and Ohio OAC 4501:2-1-08 [verified in the text]: 65 % of the travel; one third in
// reserve.
TEST(Acceptance, StricterRulesAskForLessTravel) {
    EXPECT_EQ(find_acceptance_rule("Quebec")->travel_share, 0.65);
    EXPECT_DOUBLE_EQ(find_acceptance_rule("Ohio")->travel_share, 1.0 - 1.0 / 3.0);
    EXPECT_EQ(find_acceptance_rule("elsewhere"), nullptr);
}

TEST(Acceptance, MinimumMetIsNeverAPassAlone) {
    const Acceptance a = accept(light(), {0.060, 0.052, 0.140, 0.0});
    EXPECT_EQ(a.verdict, Verdict::met);
    EXPECT_THAT(a.sentence, HasSubstr("In-service minimum met"));
    EXPECT_THAT(a.sentence, HasSubstr("from memory"));
    EXPECT_THAT(a.sentence, HasSubstr("8 mm longer than this layout without air"));
    EXPECT_THAT(a.sentence, HasSubstr("no proof that the air is out"));
    EXPECT_THAT(a.sentence, Not(HasSubstr("pass")));
}

TEST(Acceptance, EightyPercentIsTheEdge) {
    EXPECT_EQ(accept(light(), {0.0799, 0.05, 0.100, {}}).verdict, Verdict::met);
    EXPECT_EQ(accept(light(), {0.0801, 0.05, 0.100, {}}).verdict, Verdict::not_met);
}

TEST(Acceptance, SinkingFailsWhateverTheTravel) {
    const Acceptance a = accept(light(), {0.030, 0.030, 0.140, 0.006});
    EXPECT_EQ(a.verdict, Verdict::not_met);
    EXPECT_THAT(a.sentence, HasSubstr("sinks 6.0 mm in 10 s at 556 N"));
    EXPECT_THAT(a.sentence, StartsWith("Do not drive: "));
}

TEST(Acceptance, SinkingLeadsEvenWhereTheReserveCannotBeJudged) {
    const Acceptance a = accept(light(), {0.030, 0.030, {}, 0.006});
    EXPECT_EQ(a.verdict, Verdict::not_met);
    EXPECT_THAT(a.sentence, StartsWith("Do not drive: the pedal sinks 6.0 mm"));
}

TEST(Acceptance, FailedReserveLeads) {
    EXPECT_THAT(accept(light(), {0.0801, 0.05, 0.100, {}}).sentence, StartsWith("Do not drive: "));
}

TEST(Acceptance, RuleOfAnotherScopeSaysSo) {
    const PedalFacts boosted{0.060, 0.052, 0.140, 0.0, true};
    EXPECT_THAT(accept(find_acceptance_rule("Ohio"), boosted).sentence, HasSubstr("without a booster"));
    EXPECT_THAT(accept(find_acceptance_rule("Ohio boosted"), boosted).sentence,
                Not(HasSubstr("that rule is for")));
}

TEST(Acceptance, WithoutTheTravelToTheFloorItCannotBeJudged) {
    const Acceptance a = accept(light(), {0.060, 0.052, {}, 0.0});
    EXPECT_EQ(a.verdict, Verdict::cannot_be_judged);
    EXPECT_THAT(a.sentence, HasSubstr("(pedal.travel, of a listed actuator its pad_travel)"));
    EXPECT_THAT(a.sentence, HasSubstr("8 mm longer"));
}

TEST(Acceptance, NoRuleIsHeldForOtherCircuits) {
    EXPECT_EQ(accept(nullptr, {0.060, 0.052, 0.140, 0.0}).verdict, Verdict::no_rule);
}

} // namespace
} // namespace clearstroke
