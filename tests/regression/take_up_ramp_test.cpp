// The pressure of a part with slack was looked for by Newton's iteration alone. The walls' take-up is a ramp that is steep between two
// flat ends: from beyond it an iterate was thrown to the other side and back, sixty times, and what was returned was no root. Shoes
// with slack then stood at 10 bar without the fluid that takes it up.
#include <gtest/gtest.h>

#include "models/closure.hpp"

namespace clearstroke {
namespace {

TEST(TakeUpRamp, PressureIsFoundFromEitherSideOfTheRamp) {
    const Medium medium;
    ElasticLaw shoes;
    shoes.compliance = 1.5e-13;
    shoes.take_up_volume = 1e-6;
    shoes.take_up_from = 1e5;
    shoes.take_up_to = 2e5;
    constexpr double content = 22.9e-6;
    for (const double gas : {0.0, 0.4e-6})
        for (double p = 0.4e5; p < 12e5; p += 0.1e5) {
            const double liquid = liquid_to_fill(gas, content, shoes, 0.0, medium, p);
            for (const double guess : {0.3e5, 1.0e5, 2.0e5, 2.5e5, 3.0e5, 3.1e5, 4e5, 11e5})
                EXPECT_NEAR(pressure_of({liquid, gas, 0.0}, content, shoes, 0.0, medium, guess).p, p,
                            1e-4 * p)
                    << "gas " << gas << " from " << guess;
        }
}

} // namespace
} // namespace clearstroke
