#include "models/hose.hpp"

#include "tests/models/support.hpp"

namespace clearstroke {
namespace {

using test::close;

constexpr double at_1000 = 6.894757e6, at_1500 = 1.5 * at_1000, at_2900 = 2.9 * at_1000;

TEST(HoseLimits, AreFoundByBoreAndType) {
    ASSERT_EQ(hose_limits().size(), 6u);
    EXPECT_EQ(&hose_limit(3.0e-3, false), &hose_limits()[0]);
    EXPECT_EQ(&hose_limit(3.175e-3, true), &hose_limits()[1]);
    EXPECT_EQ(&hose_limit(3.5e-3, false), &hose_limits()[2]);
    EXPECT_EQ(&hose_limit(4.7625e-3, true), &hose_limits()[3]);
    EXPECT_EQ(&hose_limit(6.35e-3, false), &hose_limits()[4]);
    EXPECT_EQ(&hose_limit(6.35e-3, true), &hose_limits()[5]);
    EXPECT_EQ(&hose_limit(3.2e-3, false), &hose_limits()[0]); // 1/8 in as it is written in millimetres
    EXPECT_EQ(&hose_limit(5.0e-3, false), &hose_limits()[2]);
    EXPECT_FALSE(hose_limit(8e-3, false).volume_2900_psi.has_value());
}

// Gain at 2900 psi in mL/m [converted from cells that are from memory].
TEST(HoseLimits, HaveTheKnownGainsAtTheHighestPressure) {
    const double gain[] = {3.970, 2.001, 5.479, 2.986};
    for (std::size_t i = 0; i < 4; ++i) EXPECT_NEAR(*hose_limits()[i].volume_2900_psi * 1e6, gain[i], 6e-4);
}

// Secants to 1000 and 1500 psi in mL/(m MPa) [derived from cells that are from memory].
TEST(HoseLimits, HaveTheKnownSecants) {
    const double first[] = {0.314, 0.157, 0.409, 0.262, 0.495, 0.390};
    const double second[] = {0.251, 0.133, 0.324, 0.228, 0.412, 0.371};
    for (std::size_t i = 0; i < 6; ++i) {
        EXPECT_NEAR(hose_limits()[i].volume_1000_psi / at_1000 * 1e12, first[i], 6e-4);
        EXPECT_NEAR(hose_limits()[i].volume_1500_psi / at_1500 * 1e12, second[i], 6e-4);
    }
    const HoseLimit& l = hose_limits()[0];
    EXPECT_TRUE(close(l.volume_1000_psi, 2.1654e-6));
    EXPECT_TRUE(close(l.volume_1000_psi / at_1000 * 1e5, 0.031406e-6));
    EXPECT_TRUE(close(0.3 * l.volume_1000_psi, 0.6496e-6));
    EXPECT_NEAR(std::log(l.volume_1500_psi / l.volume_1000_psi) / std::log(1.5), 0.444,
                1e-3); // power-law exponent
}

// The limits are no smooth curve: the fit is within 9 % of every one of them.
TEST(HoseExpansion, FitsTheLimits) {
    for (const HoseLimit& l : hose_limits()) {
        const HoseExpansion h = hose_expansion(l, 1.0);
        EXPECT_GT(h.linear_compliance, 0.0);
        EXPECT_GT(h.saturating_volume, 0.0);
        EXPECT_TRUE(close(hose_volume_gain(h, at_1000), l.volume_1000_psi, 0.09));
        EXPECT_TRUE(close(hose_volume_gain(h, at_1500), l.volume_1500_psi, 0.09));
        if (l.volume_2900_psi) {
            EXPECT_TRUE(close(hose_volume_gain(h, at_2900), *l.volume_2900_psi, 0.09));
        } else { // two points, two constants
            EXPECT_TRUE(close(hose_volume_gain(h, at_1000), l.volume_1000_psi, 1e-12));
        }
    }
}

// The fit is the least one in relative error: moving either constant makes the sum of squares larger.
TEST(HoseExpansion, IsALeastSquaresFit) {
    for (const HoseLimit& l : hose_limits()) {
        const auto squares = [&l](const HoseExpansion& h) {
            double sum = std::pow(hose_volume_gain(h, at_1000) / l.volume_1000_psi - 1.0, 2) +
                         std::pow(hose_volume_gain(h, at_1500) / l.volume_1500_psi - 1.0, 2);
            if (l.volume_2900_psi)
                sum += std::pow(hose_volume_gain(h, at_2900) / *l.volume_2900_psi - 1.0, 2);
            return sum;
        };
        const HoseExpansion best = hose_expansion(l, 1.0);
        for (double factor : {0.999, 1.001}) {
            HoseExpansion other = best;
            other.linear_compliance *= factor;
            EXPECT_GT(squares(other), squares(best));
            other = best;
            other.saturating_volume *= factor;
            EXPECT_GT(squares(other), squares(best));
        }
    }
}

TEST(HoseExpansion, ScalesRisesAndStiffens) {
    const HoseLimit& l = hose_limits()[0];
    const HoseExpansion full = hose_expansion(l, 1.0), half = hose_expansion(l, 0.5);
    EXPECT_EQ(hose_volume_gain(full, 0.0), 0.0);
    double before = 0.0, secant = 1.0;
    for (double p = 1e4; p < 2e7; p *= 1.2) {
        const double v = hose_volume_gain(full, p);
        EXPECT_GT(v, before);
        EXPECT_LT(v / p, secant);
        EXPECT_TRUE(close(hose_volume_gain(half, p), 0.5 * v, 1e-12));
        before = v, secant = v / p;
    }
}

// 30 to 60 % of the maximum to 69 bar: 0.009 to 0.019 mL/(m bar) for the smallest hose [common practice].
TEST(HoseExpansion, InServiceIsAsSoftAsPracticeSays) {
    const HoseLimit& l = hose_limit(3.0e-3, false);
    EXPECT_NEAR(hose_volume_gain(hose_expansion(l, 0.3), at_1000) / at_1000 * 1e11, 0.009, 1e-3);
    EXPECT_NEAR(hose_volume_gain(hose_expansion(l, 0.6), at_1000) / at_1000 * 1e11, 0.019, 1e-3);
    EXPECT_LT(braided_in_service, rubber_in_service);
}

} // namespace
} // namespace clearstroke
