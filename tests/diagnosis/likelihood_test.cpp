// The weighing itself: against Bayes by hand, and what must hold whatever the numbers.
#include <cmath>
#include <numeric>

#include <gtest/gtest.h>

#include "analysis/diagnosis_next.hpp"
#include "tests/diagnosis/pedals.hpp"

namespace clearstroke::testing {
namespace {

/// Two suspects, one reading that is weighed as it is: no fault at 40 mm, air at 50 mm, each with 3 mm of its
/// own spread.
DiagnosisBank two_suspects() {
    DiagnosisBank bank;
    bank.readings = {{Reads::engine, 200.0, 0.0, 1, {}}};
    bank.suspects = {{Cause::none, "", {}, 0.0}, {Cause::air, "LF caliper", {{0, 0}}, 1.0}};
    const auto at = [](double amount, double mean) {
        return AmountReadings{amount,
                              {{Eigen::VectorXd::Constant(1, mean), Eigen::MatrixXd::Constant(1, 1, 9e-6)}}};
    };
    bank.of_suspect = {{at(0.0, 40e-3)}, {at(1e-6, 50e-3)}};
    return bank;
}

// Equal chances before, spread 3 mm and ruler 4 mm: 5 mm together. At 47 mm the distances are 7/5 and 3/5, so
// p(air) = 1 / (1 + exp(-(1.96 - 0.36) / 2)) = 1 / (1 + exp(-0.8)) = 0.6900.
TEST(Weighing, IsBayesRuleByHand) {
    const DiagnosisBank bank = two_suspects();
    const Likelihood likelihood(bank, {{0}, {4e-3}});
    const Eigen::VectorXd y = Eigen::VectorXd::Constant(1, 47e-3);
    EXPECT_NEAR(likelihood.by_suspect(likelihood.weigh(y, {}))[1], 1.0 / (1.0 + std::exp(-0.8)), 1e-12);
    EXPECT_NEAR(likelihood.misfit(y), 0.36, 1e-12);
    // Bubbles that declined: times the ratio of the chances of seeing that.
    const double odds =
        std::exp(0.8) * chance_of(Bubbles::declined, Cause::air) / chance_of(Bubbles::declined, Cause::none);
    EXPECT_NEAR(likelihood.by_suspect(likelihood.weigh(y, {Bubbles::declined, {}}))[1], odds / (1.0 + odds),
                1e-12);
}

TEST(Weighing, ChancesOfWhatIsSeenAddUp) {
    for (std::size_t c = 0; c < causes_in_all; ++c) {
        const auto cause = static_cast<Cause>(c);
        double sum = 0.0;
        for (const Bubbles seen : {Bubbles::none, Bubbles::declined, Bubbles::did_not_decline})
            sum += chance_of(seen, cause);
        EXPECT_NEAR(sum, 1.0, 1e-12) << name_of(cause);
        EXPECT_NEAR(chance_of_wet(true, cause) + chance_of_wet(false, cause), 1.0, 1e-12);
    }
}

// A travel is weighed by its logarithm, z = log(1 + x / 5 mm): 35 mm at 3 log 2, and a ruler's error e there
// by its slope 1 / (x + 5 mm).
TEST(Weighing, TravelsAreWeighedByTheirLogarithm) {
    EXPECT_NEAR(weighed(Reads::travel, 35e-3), 3.0 * std::log(2.0), 1e-12);
    EXPECT_NEAR(unweighed(Reads::clamped, weighed(Reads::clamped, 61e-3)), 61e-3, 1e-12);
    EXPECT_NEAR(weighed_slope(Reads::travel, weighed(Reads::travel, 35e-3)), 1.0 / 40e-3, 1e-9);
    EXPECT_EQ(weighed(Reads::sink, 12e-3), 12e-3);
}

// Two equal suspects d spreads apart: the wrong one is ahead in the share Q(d / 2) of drawn pedals, 23 % at
// d = 1.5 and 5 % at d = 3.3; one in ten joins them.
TEST(Weighing, ReadingsThatCannotSeparateMakeOneSet) {
    DiagnosisBank bank = two_suspects();
    const auto sets = [&](double apart) {
        bank.of_suspect[1][0].groups[0].mean[0] = 40e-3 + apart * 5e-3;
        const Likelihood likelihood(bank, {{0}, {4e-3}});
        return diagnose(likelihood, Eigen::VectorXd::Constant(1, 40e-3 + 0.5 * apart * 5e-3), {}).sets.size();
    };
    EXPECT_EQ(sets(1.5), 1u);
    EXPECT_EQ(sets(3.3), 2u);
}

// Suspects that no reading tells apart share every drawn pedal evenly.
TEST(Weighing, SuspectsThatAreTheSameMakeOneSet) {
    DiagnosisBank bank = two_suspects();
    bank.suspects.push_back({Cause::air, "RF caliper", {{0, 1}}, 1.0});
    bank.of_suspect.push_back(bank.of_suspect[1]);
    bank.of_suspect[0][0].groups[0].mean[0] = 0.0;
    const Diagnosis d = diagnose(Likelihood(bank, {{0}, {4e-3}}), Eigen::VectorXd::Constant(1, 50e-3), {});
    EXPECT_EQ(d.sets.front().suspects.size(), 2u);
    EXPECT_NEAR(d.sets.front().probability, 1.0, 1e-6);
    EXPECT_EQ(d.finding, Finding::told);
}

// One certain reading answers the question which of two equal causes it is, one that they share nothing of
// it.
TEST(Weighing, ExpectedInformationIsBetweenNoneAndAll) {
    DiagnosisBank bank = two_suspects();
    EXPECT_NEAR(expected_information(Likelihood(bank, {{}, {}}), {}), 0.0, 1e-12);
    bank.of_suspect[1][0].groups[0].mean[0] = 40e-3;
    EXPECT_NEAR(expected_information(Likelihood(bank, {{0}, {4e-3}}), {}), 0.0, 1e-12);
    bank.of_suspect[1][0].groups[0].mean[0] = 140e-3;
    EXPECT_NEAR(expected_information(Likelihood(bank, {{0}, {4e-3}}), {}), 1.0, 1e-6);
}

// One reading that separates two equal suspects for certain is worth one bit, one that they share none.
TEST(Weighing, InformationOfATestIsBetweenNoneAndTheWholeQuestion) {
    DiagnosisBank bank = two_suspects();
    bank.readings.resize(3, bank.readings.front());
    const auto widen = [](AmountReadings& at, double mean) {
        ReadingSpread& r = at.groups[0];
        r.mean = Eigen::Vector3d(40e-3, mean, 30e-3);
        r.covariance = 1e-8 * Eigen::Matrix3d::Identity();
    };
    widen(bank.of_suspect[0][0], 10e-3);
    widen(bank.of_suspect[1][0], 60e-3);
    const Taken taken{{0}, {1e-3}};
    const Eigen::VectorXd y = Eigen::VectorXd::Constant(1, 40e-3);
    const auto ranked =
        rank_tests(bank, taken, y, {},
                   {{"shared", {2}, {1e-3}, false, false, 0.0}, {"telling", {1}, {1e-3}, false, false, 0.0}});
    EXPECT_EQ(ranked[0].name, "telling");
    EXPECT_NEAR(ranked[0].information, 1.0, 1e-6);
    EXPECT_NEAR(ranked[1].information, 0.0, 1e-6);
}

TEST(Weighing, SameReadingsGiveTheSameBits) {
    const Scenario s = scenario("minimal");
    const Bench one(s, false), two(s, false);
    const PedalModel m = usual_model(s);
    EXPECT_EQ(one.diagnose(m, {}).suspect_probability, two.diagnose(m, {}).suspect_probability);
}

TEST(Weighing, AReadingFarFromEveryCauseIsSaidSo) {
    const Scenario s = scenario("minimal");
    const Bench bench(s, false);
    Eigen::VectorXd y = bench.read(usual_model(s));
    y[3] += 0.1; // a second stroke 100 mm longer than the first
    EXPECT_EQ(clearstroke::diagnose(bench.likelihood.front(), y, {}).finding, Finding::none_fits);
}

TEST(Weighing, AirIsMeasuredWithinItsInterval) {
    const Scenario s = scenario("front_rear_split");
    const Bench bench(s, true);
    for (const double air : {1.5e-6, 4e-6}) {
        PedalModel m = usual_model(s);
        afflict(m, bench.suspect(Cause::air, "LF caliper"), air);
        const Diagnosis d = bench.diagnose(m, {Bubbles::declined, false});
        ASSERT_TRUE(d.air);
        EXPECT_LT((*d.air)[0], air);
        EXPECT_GT((*d.air)[2], air);
        EXPECT_GT(d.air_probability, 0.5);
    }
}

} // namespace
} // namespace clearstroke::testing
