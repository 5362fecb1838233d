#include "models/gas.hpp"
#include "tests/published/check.hpp"

namespace clearstroke::published {

// The value is quoted in the tests of an open property library; the paper itself was not opened.
std::vector<PublishedCheck> checks_lemmon2004() {
    return {{"viscosity of dry air at 300 K, zero density", "lemmon2004", "table of calculated values",
             "secondary", "Pa s", 18.5230e-6, air_viscosity(300.0), 0.01 * 18.5230e-6,
             "1 %: error of the two-constant formula, measured 0.3 %"}};
}

TEST(Published, Lemmon2004) { expect_all(checks_lemmon2004()); }

} // namespace clearstroke::published
