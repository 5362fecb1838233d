#include <cmath>
#include <limits>

#include <gtest/gtest.h>

#include "analysis/statistics.hpp"

namespace clearstroke {
namespace {

constexpr double infinity = std::numeric_limits<double>::infinity();

TEST(Statistics, QuantileIsTheSmallestValueWithThatShareAtOrBelow) {
    std::vector<double> v;
    for (int i = 20; i >= 1; --i) v.push_back(i);
    EXPECT_EQ(quantile(v, 0.05), 1.0);
    EXPECT_EQ(quantile(v, 0.50), 10.0);
    EXPECT_EQ(quantile(v, 0.51), 11.0);
    EXPECT_EQ(quantile(v, 0.95), 19.0);
    EXPECT_EQ(quantile(v, 0.0), 1.0);
    EXPECT_EQ(quantile(v, 1.0), 20.0);
    EXPECT_EQ(quantile({1.0, infinity, 2.0, infinity}, 0.5), 2.0);
    EXPECT_EQ(quantile({1.0, infinity, 2.0, infinity}, 0.75), infinity);
    EXPECT_TRUE(std::isnan(quantile({}, 0.5)));
}

TEST(Statistics, ErrorIsThatOfTheMeanOfScramblings) {
    const std::vector<std::vector<double>> scramblings = {{1.0, 3.0}, {5.0, 7.0}, {}, {4.0, 10.0}};
    const Estimate e = estimate(scramblings, [](const std::vector<double>& v) { return mean(v); });
    EXPECT_EQ(e.value, 5.0);
    EXPECT_DOUBLE_EQ(e.error, std::sqrt((9.0 + 1.0 + 4.0) / 6.0)); // means 2, 6, 7 about 5
    const std::vector<std::vector<double>> never = {{1.0}, {infinity}};
    EXPECT_TRUE(std::isnan(estimate(never, [](std::vector<double> v) { return quantile(v, 0.5); }).error));
}

// One-way analysis of variance by hand: two steps with values {0, 2} and {4, 6}: SSB 16, SSW 4, SST 20;
// epsilon squared (16 - 4 / 2) / 20.
TEST(Statistics, ExplainedShareIsEpsilonSquared) {
    const std::vector<double> x = {0.1, 0.9, 0.2, 0.8}, y = {0.0, 4.0, 2.0, 6.0};
    EXPECT_DOUBLE_EQ(explained_share(x, y, 2), 0.7);
    EXPECT_EQ(explained_share(x, std::vector<double>(4, 3.0), 2), 0.0);
}

// Uniform x over 16 steps: x itself is explained but for the variance within a step, 1/256.
TEST(Statistics, ExplainedShareOfAStraightLine) {
    std::vector<double> x;
    for (int i = 0; i < 1024; ++i) x.push_back((i + 0.5) / 1024.0);
    EXPECT_NEAR(explained_share(x, x, 16), 1.0 - 1.0 / 256.0, 1e-4);
    EXPECT_NEAR(correlation(x, x), 1.0, 1e-12);
    std::vector<double> falling;
    for (const double v : x) falling.push_back(-v);
    EXPECT_NEAR(correlation(x, falling), -1.0, 1e-12);
    EXPECT_EQ(correlation(x, std::vector<double>(1024, 2.0)), 0.0);
    EXPECT_DOUBLE_EQ(explained_by_chance(512, 9), 2.0 * 4.0 / 512.0);
}

} // namespace
} // namespace clearstroke
