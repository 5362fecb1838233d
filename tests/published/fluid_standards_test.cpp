#include "models/constants.hpp"
#include "models/fluid.hpp"
#include "tests/book/check.hpp"

namespace clearstroke {

using namespace book;

TEST(Fluids, OtherStandards) {
    const Fluid& thin = *find_fluid("DOT 4 low viscosity");
    const std::string band = "the band given with the value";
    const auto nu = [&](double celsius) {
        return kinematic_viscosity(thin.viscosity, zero_celsius + celsius) * 1e6;
    };
    check_all({
        {"air dissolved in a glycol fluid", "saej1705", "appendix A.2.2.8", Grade::secondary, "% by volume",
         5.0, find_fluid("DOT 4")->dissolved_air * 100.0, 2.0, band},
        {"air dissolved in a silicone fluid", "saej1705", "appendix A.2.2.8", Grade::secondary, "% by volume",
         16.0, find_fluid("DOT 5")->dissolved_air * 100.0, 3.0, band},
        {"low-viscosity fluid at -40 degC", "iso4925", "class 6", Grade::memory, "mm2/s", 750.0, nu(-40.0),
         0.0, "a limit", Relation::at_most},
        {"low-viscosity fluid at 100 degC", "iso4925", "class 6", Grade::memory, "mm2/s", 1.5, nu(100.0), 0.0,
         "a limit", Relation::at_least},
        {"low-viscosity fluid, dry boiling point", "iso4925", "class 6", Grade::memory, "degC", 250.0,
         thin.boiling_dry - zero_celsius, 1e-9, "a limit", Relation::at_least},
        {"low-viscosity fluid, wet boiling point", "iso4925", "class 6", Grade::memory, "degC", 165.0,
         thin.boiling_wet - zero_celsius, 1e-9, "a limit", Relation::at_least},
    });
}

} // namespace clearstroke
