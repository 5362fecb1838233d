// The weighing itself: against Bayes by hand, and what must hold whatever the numbers.
#include <cmath>
#include <numeric>

#include <gtest/gtest.h>

#include "analysis/diagnosis_next.hpp"
#include "tests/diagnosis/pedals.hpp"

namespace clearstroke::testing {
namespace {

/// Two suspects, one reading: no fault at 40 mm, air at 50 mm, each with 3 mm of its own spread.
DiagnosisBank two_suspects() {
    DiagnosisBank bank;
    bank.readings = {{Reads::travel, 200.0, 0.0, 1, {}}};
    bank.suspects = {{Cause::none, "", {}, 0.0}, {Cause::air, "LF caliper", {{0, 0}}, 1.0}};
    const auto at = [](double amount, double mean) {
        return AmountReadings{amount, Eigen::VectorXd::Constant(1, mean),
                              Eigen::MatrixXd::Constant(1, 1, 9e-6)};
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

TEST(Weighing, ReadingsThatCannotSeparateMakeOneSet) {
    DiagnosisBank bank = two_suspects();
    EXPECT_EQ(separate(bank, Likelihood(bank, {{0}, {1e-3}}), {}).sets.size(), 2u);
    bank.of_suspect[1][0].mean[0] = 41e-3;
    EXPECT_EQ(separate(bank, Likelihood(bank, {{0}, {1e-3}}), {}).sets.size(), 1u);
}

// One reading that separates two equal suspects for certain is worth one bit, one that they share none.
TEST(Weighing, InformationOfATestIsBetweenNoneAndTheWholeQuestion) {
    DiagnosisBank bank = two_suspects();
    bank.readings.resize(3);
    const auto widen = [](AmountReadings& r, double mean) {
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
    const Bench one(s, false, {}), two(s, false, {});
    const PedalModel m = usual_model(s);
    EXPECT_EQ(one.diagnose(m, {}).suspect_probability, two.diagnose(m, {}).suspect_probability);
}

TEST(Weighing, AReadingFarFromEveryCauseIsSaidSo) {
    const Scenario s = scenario("minimal");
    const Bench bench(s, false, {});
    Eigen::VectorXd y = bench.read(usual_model(s));
    y[3] += 0.1; // a second stroke 100 mm longer than the first
    EXPECT_EQ(clearstroke::diagnose(bench.bank, bench.likelihood.front(), bench.separation, y, {}).finding,
              Finding::none_fits);
}

TEST(Weighing, AirIsMeasuredWithinItsInterval) {
    const Scenario s = scenario("front_rear_split");
    const Bench bench(s, true, {Bubbles::declined, false});
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
