#include <cmath>
#include <functional>
#include <limits>
#include <numbers>

#include <gtest/gtest.h>

#include "analysis/sensitivity.hpp"

namespace clearstroke {
namespace {

using Function = std::function<double(const std::vector<double>&)>;

template <class Design> std::vector<double> values(const Design& design, const Function& f) {
    std::vector<double> y;
    for (std::uint64_t i = 0; i < design.cases(); ++i) y.push_back(f(point_of(design, i)));
    return y;
}

void expect_index(const Interval& found, double exact, double within, const std::string& which) {
    EXPECT_NEAR(found.value, exact, within) << which;
    EXPECT_LT(found.high - found.low, 6.0 * within) << which; // an interval that says something
    EXPECT_GT(found.high, exact - within) << which;
    EXPECT_LT(found.low, exact + within) << which;
}

// Ishigami and Homma 1990 (from memory), a = 7, b = 0.1, x in (-pi, pi):
// f = sin x1 + a sin^2 x2 + b x3^4 sin x1. Exact by integration:
// V1 = (1 + b pi^4 / 5)^2 / 2, V2 = a^2 / 8, V13 = 8 b^2 pi^8 / 225.
TEST(Sensitivity, IshigamiFunctionHasItsExactIndices) {
    constexpr double pi = std::numbers::pi, a = 7.0, b = 0.1;
    const double pi4 = std::pow(pi, 4), v1 = 0.5 * std::pow(1.0 + b * pi4 / 5.0, 2), v2 = a * a / 8.0,
                 v13 = 8.0 * b * b * pi4 * pi4 / 225.0, v = v1 + v2 + v13;
    const IndexDesign design{3, 1024, 8, 5};
    const SobolIndices s = sobol_indices(design, values(design, [&](const std::vector<double>& u) {
                                             const double x1 = pi * (2.0 * u[0] - 1.0),
                                                          x2 = pi * (2.0 * u[1] - 1.0),
                                                          x3 = pi * (2.0 * u[2] - 1.0);
                                             return std::sin(x1) + a * std::pow(std::sin(x2), 2) +
                                                    b * std::pow(x3, 4) * std::sin(x1);
                                         }));
    expect_index(s.first[0], v1 / v, 0.01, "S1 = 0.3139");
    expect_index(s.first[1], v2 / v, 0.01, "S2 = 0.4424");
    expect_index(s.first[2], 0.0, 0.01, "S3 = 0");
    expect_index(s.total[0], (v1 + v13) / v, 0.01, "T1 = 0.5576");
    expect_index(s.total[1], v2 / v, 0.01, "T2 = 0.4424");
    expect_index(s.total[2], v13 / v, 0.01, "T3 = 0.2437");
}

// Sobol' g function (saltelli2010; from memory): prod (|4 u - 2| + a) / (1 + a), whose partial variances are
// V_k = 1 / (3 (1 + a_k)^2) and whose variance is prod (1 + V_k) - 1.
TEST(Sensitivity, SobolGFunctionHasItsExactIndices) {
    const std::vector<double> a = {0.0, 0.5, 3.0, 9.0, 99.0, 99.0};
    std::vector<double> partial;
    double all = 1.0;
    for (const double ak : a) {
        partial.push_back(1.0 / (3.0 * (1.0 + ak) * (1.0 + ak)));
        all *= 1.0 + partial.back();
    }
    const IndexDesign design{a.size(), 1024, 8, 1};
    const SobolIndices s = sobol_indices(design, values(design, [&](const std::vector<double>& u) {
                                             double product = 1.0;
                                             for (std::size_t k = 0; k < a.size(); ++k)
                                                 product *=
                                                     (std::abs(4.0 * u[k] - 2.0) + a[k]) / (1.0 + a[k]);
                                             return product;
                                         }));
    for (std::size_t k = 0; k < a.size(); ++k) {
        const double variance = all - 1.0, others = all / (1.0 + partial[k]);
        expect_index(s.first[k], partial[k] / variance, 0.01, "S" + std::to_string(k + 1));
        expect_index(s.total[k], partial[k] * others / variance, 0.01, "T" + std::to_string(k + 1));
    }
}

TEST(Sensitivity, CasesThatFailedAreLeftOut) {
    const IndexDesign design{2, 256, 8, 1};
    std::vector<double> y =
        values(design, [](const std::vector<double>& u) { return 2.0 * u[0] + u[1]; }); // S 0.8, 0.2
    for (std::size_t i = 0; i < y.size(); i += 97) y[i] = std::numeric_limits<double>::quiet_NaN();
    const SobolIndices s = sobol_indices(design, y);
    EXPECT_NEAR(s.first[0].value, 0.8, 0.03);
    EXPECT_NEAR(s.total[1].value, 0.2, 0.03);
    const SobolIndices flat = sobol_indices(design, std::vector<double>(design.cases(), 4.0));
    EXPECT_TRUE(std::isnan(flat.first[0].value));
}

// A linear function has one effect everywhere, its slope: no spread.
TEST(Sensitivity, EffectsOfALinearFunctionAreItsSlopes) {
    const EffectDesign design{3, 10, 2};
    const ElementaryEffects e = elementary_effects(
        design, values(design, [](const std::vector<double>& u) { return 3.0 * u[0] - 2.0 * u[1]; }));
    EXPECT_NEAR(e.mean[0].value, 3.0, 1e-12);
    EXPECT_NEAR(e.mean[1].value, -2.0, 1e-12);
    EXPECT_NEAR(e.mean_absolute[1].value, 2.0, 1e-12);
    EXPECT_NEAR(e.mean_absolute[2].value, 0.0, 1e-12);
    for (const double d : e.deviation) EXPECT_NEAR(d, 0.0, 1e-12);
}

// f = (u1 - 1/2)(u2 - 1/2): effects of u1 are u2 - 1/2, whose mean is 0, whose absolute mean over the levels
// 1/8, 3/8, 5/8, 7/8 is 1/4 and whose standard deviation is sqrt(5/64).
TEST(Sensitivity, EffectsOfAProductCancelInTheMeanAlone) {
    const EffectDesign design{2, 4000, 3};
    const ElementaryEffects e = elementary_effects(
        design, values(design, [](const std::vector<double>& u) { return (u[0] - 0.5) * (u[1] - 0.5); }));
    EXPECT_NEAR(e.mean[0].value, 0.0, 0.02);
    EXPECT_NEAR(e.mean_absolute[0].value, 0.25, 0.01);
    EXPECT_NEAR(e.deviation[0], std::sqrt(5.0 / 64.0), 0.01);
    EXPECT_LT(e.mean[0].low, 0.0);
    EXPECT_GT(e.mean[0].high, 0.0);
}

TEST(Sensitivity, TrajectoriesStepEachInputOnceAndStayInside) {
    const EffectDesign design{5, 20, 9};
    for (std::uint64_t t = 0; t < 20; ++t) {
        std::vector<int> stepped(5);
        for (std::uint64_t j = 0; j < 5; ++j) {
            const auto before = point_of(design, 6 * t + j), after = point_of(design, 6 * t + j + 1);
            for (std::size_t k = 0; k < 5; ++k) {
                stepped[k] += before[k] != after[k];
                EXPECT_GT(after[k], 0.0);
                EXPECT_LT(after[k], 1.0);
            }
        }
        EXPECT_EQ(stepped, std::vector<int>(5, 1));
    }
}

} // namespace
} // namespace clearstroke
