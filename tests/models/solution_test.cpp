#include "models/solution.hpp"

#include "tests/models/support.hpp"

namespace clearstroke {
namespace {

using test::close;

// A litre of saturated glycol fluid at a fifth of an atmosphere: 40 mL are too much, 200 mL there.
TEST(Solution, AFifthOfAnAtmosphereSetsFreeFourFifths) {
    const double p = 0.2 * standard_atmosphere;
    const double excess = oversaturation(0.05, p, standard_atmosphere) * 1e-3;
    EXPECT_TRUE(close(excess, 40e-6, 1e-12));
    EXPECT_TRUE(close(excess * standard_atmosphere / p, 200e-6, 1e-12));
    EXPECT_EQ(oversaturation(0.05, 1.01 * standard_atmosphere, standard_atmosphere), 0.0);
}

TEST(Solution, ComesOutWithItsTimeConstantInAnyNumberOfSteps) {
    EXPECT_TRUE(close(comes_out(1.0, 30.0, 30.0), 1.0 - std::exp(-1.0), 1e-12));
    double left = 1.0;
    for (int i = 0; i < 300; ++i) left -= comes_out(left, 0.1, 30.0);
    EXPECT_TRUE(close(left, std::exp(-1.0), 1e-12));
    EXPECT_EQ(comes_out(-1.0, 1.0, 30.0), 0.0);
}

} // namespace
} // namespace clearstroke
