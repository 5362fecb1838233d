#include "models/gas.hpp"
#include "tests/book/check.hpp"

namespace clearstroke {

using namespace book;

// The value is quoted in the tests of an open property library; the paper itself was not opened.
TEST(Air, Lemmon2004) {
    check_all({{"viscosity of dry air at 300 K, zero density", "lemmon2004", "table of calculated values",
                Grade::secondary, "Pa s", 18.5230e-6, air_viscosity(300.0), 0.01 * 18.5230e-6,
                "1 %: error of the two-constant formula, measured 0.3 %"}});
}

} // namespace clearstroke
