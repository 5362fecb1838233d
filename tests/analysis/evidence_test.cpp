#include <cmath>
#include <limits>

#include <gtest/gtest.h>

#include "analysis/evidence.hpp"
#include "tests/analysis/two_wheels.hpp"

namespace clearstroke {
namespace {

constexpr double infinity = std::numeric_limits<double>::infinity();

Outcome met(double strokes) { return {false, true, strokes, strokes - 2.0, 1e-4, 60.0 * strokes, 0.0, 0.0}; }
Outcome missed(double excess) { return {false, false, 30.0, infinity, 3e-4, 900.0, excess, excess}; }

// Two scramblings: the first chooses, the second judges.
Samples two(std::vector<std::vector<Outcome>> choosing, std::vector<std::vector<Outcome>> judging) {
    Samples samples{{"air"}, {{}, {}}};
    double u = 0.0;
    for (auto& outcomes : choosing) samples.scramblings[0].push_back({{u += 0.05}, std::move(outcomes), ""});
    for (auto& outcomes : judging) samples.scramblings[1].push_back({{u += 0.05}, std::move(outcomes), ""});
    return samples;
}

TEST(Evidence, CreditIsSharedAmongTiesAndTheChosenIsJudgedOnTheOtherHalf) {
    const Samples samples =
        two({{met(10), met(12), met(10)}, {met(11), met(11), met(15)}}, {{met(10), met(13), met(14)},
                                                                         {met(12), met(10), met(12)},
                                                                         {met(9), met(12), met(9)},
                                                                         {met(10), met(19), met(20)}});
    const Evidence e = evidence_of(samples, Cost::strokes, {0.5, 1e-9}, 1);
    EXPECT_EQ(e.samples, 6u);
    EXPECT_EQ(e.chosen, 0u); // best in both choosing samples
    EXPECT_DOUBLE_EQ(e.alternatives[0].best.value, (0.5 + 0.5 + 1.0 + 0.0 + 0.5 + 1.0) / 6.0);
    EXPECT_DOUBLE_EQ(e.alternatives[1].best.value, (0.5 + 1.0) / 6.0);
    EXPECT_DOUBLE_EQ(e.alternatives[2].best.value, (0.5 + 0.5) / 6.0);
    EXPECT_DOUBLE_EQ(e.alternatives[2].as_good.value, 2.0 / 6.0);
    EXPECT_DOUBLE_EQ(e.chosen_as_good.value, 0.75);
    const Paired& p = e.alternatives[1].against_chosen; // differences 3, -2, 3, 9
    EXPECT_DOUBLE_EQ(p.behind.value, 0.75);
    EXPECT_DOUBLE_EQ(p.ahead.value, 0.25);
    EXPECT_DOUBLE_EQ(p.tied.value, 0.0);
    EXPECT_DOUBLE_EQ(p.low.value, -2.0);
    EXPECT_DOUBLE_EQ(p.median.value, 3.0);
    EXPECT_DOUBLE_EQ(p.high.value, 9.0);
    EXPECT_DOUBLE_EQ(e.alternatives[0].cost[0].value, 9.0);
    EXPECT_DOUBLE_EQ(e.alternatives[0].cost[1].value, 10.0);
    EXPECT_DOUBLE_EQ(e.alternatives[0].cost[2].value, 12.0);
    EXPECT_EQ(e.all_tie.value, 0.0);
    // scrambling means 10.5 and 10.25: standard error |a - b| / 2
    EXPECT_DOUBLE_EQ(e.alternatives[0].mean_cost.error, 0.125);
}

TEST(Evidence, AMissIsBehindWhateverItCostsAndGivesNoDifference) {
    const Samples samples = two({{met(10), missed(1e-6)}}, {{met(40), missed(1e-6)}, {met(10), met(12)}});
    const Evidence e = evidence_of(samples, Cost::strokes, {0.0, 1e-9}, 1);
    const Paired& p = e.alternatives[1].against_chosen;
    EXPECT_DOUBLE_EQ(p.behind.value, 1.0);
    EXPECT_DOUBLE_EQ(p.both_meet.value, 0.5);
    EXPECT_DOUBLE_EQ(p.high.value, 2.0);
    EXPECT_NEAR(e.alternatives[1].target_met.value, 1.0 / 3.0, 1e-15);
    EXPECT_EQ(e.alternatives[1].to_target[1].value, infinity);
}

TEST(Evidence, SamplesThatCannotBeComputedAreCountedWithTheirReason) {
    Samples samples = two({{met(10), met(10)}}, {{met(10), met(10)}});
    samples.scramblings[0].push_back({{0.9}, {}, "a pipe of no length"});
    samples.scramblings[1].push_back({{0.9}, {}, "a pipe of no length"});
    const Evidence e = evidence_of(samples, Cost::strokes, {}, 1);
    EXPECT_EQ(e.samples, 4u);
    EXPECT_EQ(e.failed, 2u);
    EXPECT_EQ(e.failures, (std::vector<std::string>{"a pipe of no length"}));
    EXPECT_EQ(e.all_tie.value, 1.0);
    EXPECT_THROW((void)evidence_of(Samples{{}, {{{{}, {}, "no"}}}}, Cost::strokes, {}, 0),
                 std::invalid_argument);
}

TEST(Evidence, DriversAreTheInputsThatExplainTheDifference) {
    Samples samples{{"air", "length"}, std::vector<std::vector<Sample>>(4)};
    for (int i = 0; i < 256; ++i) {
        const double air = (i + 0.5) / 256.0, length = ((i * 37) % 256 + 0.5) / 256.0;
        samples.scramblings[static_cast<std::size_t>(i % 4)].push_back(
            {{air, length}, {met(10.0), met(12.0 + 20.0 * (1.0 - air))}, ""});
    }
    const Evidence e = evidence_of(samples, Cost::strokes, {0.5, 1e-9}, 1);
    EXPECT_TRUE(e.drivers_of_difference);
    ASSERT_EQ(e.drivers.size(), 2u);
    EXPECT_EQ(e.drivers[0].name, "air");
    EXPECT_GT(e.drivers[0].share, 0.99);
    EXPECT_LT(e.drivers[0].trend, -0.99);
    EXPECT_LT(e.drivers[1].share, e.by_chance);
    const std::string text = drivers_sentence(e, {"A", "B"});
    EXPECT_NE(text.find("B falls further behind with less air"), std::string::npos) << text;
    EXPECT_EQ(text.find("length"), std::string::npos) << text;
}

TEST(Evidence, SentencesSayWhatTheSharesSay) {
    const std::vector<std::string> names = {"A", "B"};
    const auto says = [&](std::vector<std::vector<Outcome>> judging, const std::string& words) {
        const Samples samples = two({{met(10), met(14)}}, std::move(judging));
        const std::string text =
            evidence_sentence(evidence_of(samples, Cost::strokes, {0.5, 1e-9}, 1), names);
        EXPECT_NE(text.find(words), std::string::npos) << text << " lacks " << words;
    };
    says({{met(10), met(13)}, {met(10), met(19)}}, "against B: saves 3 to 9 strokes in 95 % of samples");
    says({{met(10), met(13)}, {met(10), met(13)}}, "saves 3 strokes");
    says({{met(10), met(9)}, {met(10), met(12)}}, "from 1 stroke more to 2 strokes less");
    says({{met(10), met(9)}, {met(10), met(8)}}, "costs 1 to 2 strokes more");
    says({{met(10), met(10)}, {met(11), met(11)}}, "no difference to B in 100 % of them");
    says({{met(10), missed(1e-6)}, {met(11), missed(1e-6)}}, "ahead in 100 %");
    says({{missed(1e-6), missed(2e-6)}, {met(11), met(12)}}, "It meets the target in 67 %");
    const Samples same = two({{met(10), met(10)}}, {{met(10), met(10)}});
    EXPECT_EQ(evidence_sentence(evidence_of(same, Cost::strokes, {0.5, 1e-9}, 1), names),
              "No difference in 100 % of 2 samples: all 2 are as good.");
}

OrdersReport sampled(int threads) {
    OrdersRequest request;
    request.low_high = false;
    request.threads = threads;
    request.sampling.samples = 15; // rounded up to 16
    return compare_orders(small::two_wheels_factory(), request);
}

TEST(Evidence, OrdersRunOnTheSameSamplesWithTheSameBitsForAnyNumberOfThreads) {
    const OrdersReport one = sampled(1), two_threads = sampled(2);
    ASSERT_TRUE(one.evidence);
    EXPECT_EQ(one.evidence->samples, 16u);
    EXPECT_EQ(one.evidence->failed, 0u);
    ASSERT_EQ(one.evidence->alternatives.size(), 2u);
    double credit = 0.0;
    for (const AlternativeEvidence& a : one.evidence->alternatives) credit += a.best.value;
    EXPECT_NEAR(credit, 1.0, 1e-12);
    for (std::size_t i = 0; i < 2; ++i) {
        const AlternativeEvidence &a = one.evidence->alternatives[i],
                                  &b = two_threads.evidence->alternatives[i];
        EXPECT_EQ(a.mean_cost.value, b.mean_cost.value);
        EXPECT_EQ(a.air_left[2].value, b.air_left[2].value);
        EXPECT_EQ(a.duration[1].error, b.duration[1].error);
    }
    EXPECT_EQ(one.evidence->drivers[0].share, two_threads.evidence->drivers[0].share);
}

} // namespace
} // namespace clearstroke
