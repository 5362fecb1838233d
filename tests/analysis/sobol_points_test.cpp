#include <algorithm>
#include <cmath>
#include <set>

#include <gtest/gtest.h>

#include "analysis/sobol_points.hpp"

namespace clearstroke {
namespace {

// Steele, Lea and Flood 2014, as in the public-domain code of the generator: first output of seed 0 is
// 0xe220a8397b1dcdaf (from memory).
TEST(SobolPoints, MixIsThatOfSplitmix64) { EXPECT_EQ(mixed(0), 0xe220a8397b1dcdafu); }

// A (0, m, 2) net: each box of 2^-a by 2^-(m - a) holds exactly one of the first 2^m points (sobol1967).
TEST(SobolPoints, ScramblingKeepsTheNetOfTheFirstTwoCoordinates) {
    constexpr int m = 8;
    const SobolPoints points(2, 7);
    for (int a = 0; a <= m; ++a) {
        std::set<std::pair<int, int>> boxes;
        for (std::uint64_t i = 0; i < 1u << m; ++i) {
            const std::vector<double> u = points.point(i);
            boxes.insert({static_cast<int>(std::ldexp(u[0], a)), static_cast<int>(std::ldexp(u[1], m - a))});
        }
        EXPECT_EQ(boxes.size(), 1u << m) << a;
    }
}

TEST(SobolPoints, EveryCoordinateOfManyFillsEachStepOnce) {
    constexpr std::size_t dimensions = 200, count = 64;
    const SobolPoints points(dimensions, 3);
    std::vector<std::set<int>> steps(dimensions);
    for (std::uint64_t i = 0; i < count; ++i) {
        const std::vector<double> u = points.point(i);
        for (std::size_t k = 0; k < dimensions; ++k) {
            ASSERT_GT(u[k], 0.0);
            ASSERT_LT(u[k], 1.0);
            steps[k].insert(static_cast<int>(u[k] * count));
        }
    }
    for (const auto& s : steps) EXPECT_EQ(s.size(), count);
}

// Owen 1997: the variance of scrambled nets for smooth integrands falls like n^-3, plain sampling's like
// 1/n. The mean of u1 u2 u3 is exactly 1/8, its variance 1/27 - 1/64.
TEST(SobolPoints, ScramblingsAreUnbiasedAndMuchBetterThanPlainSampling) {
    constexpr std::size_t n = 256, scramblings = 32;
    std::vector<double> means;
    for (std::size_t r = 0; r < scramblings; ++r) {
        const SobolPoints points(3, scrambling_seed(11, r));
        double sum = 0.0;
        for (std::uint64_t i = 0; i < n; ++i) {
            const std::vector<double> u = points.point(i);
            sum += u[0] * u[1] * u[2];
        }
        means.push_back(sum / n);
    }
    double mean = 0.0, variance = 0.0;
    for (const double m : means) mean += m / scramblings;
    for (const double m : means) variance += (m - mean) * (m - mean) / (scramblings - 1);
    EXPECT_NEAR(mean, 0.125, 4.0 * std::sqrt(variance / scramblings));
    EXPECT_LT(variance, 0.05 * (1.0 / 27.0 - 1.0 / 64.0) / n);
    EXPECT_GT(variance, 0.0); // independent scramblings differ
}

TEST(SobolPoints, SeedDecidesAndAskingOrderDoesNot) {
    const SobolPoints a(5, 1), b(5, 1), c(5, 2);
    const std::vector<double> later = b.point(1000);
    (void)a.point(3);
    EXPECT_EQ(a.point(1000), later);
    EXPECT_NE(c.point(1000), later);
    EXPECT_NE(scrambling_seed(1, 0), scrambling_seed(1, 1));
    EXPECT_NE(scrambling_seed(1, 1), scrambling_seed(2, 0));
}

TEST(SobolPoints, RefusesDimensionsItHasNot) {
    EXPECT_THROW(SobolPoints(0, 1), std::invalid_argument);
    EXPECT_THROW(SobolPoints(SobolPoints::most_dimensions + 1, 1), std::invalid_argument);
}

} // namespace
} // namespace clearstroke
