#include "models/constants.hpp"
#include "models/fluid.hpp"
#include "tests/book/check.hpp"

namespace clearstroke {

using namespace book;

// Worked example of the relation: an oil of 32 mm^2/s at 40 degC and 5.4 mm^2/s at 100 degC. The example was
// seen in a text that cannot be named, hence Grade::memory; it rounds 0 degC to 273 K.
TEST(Fluids, AstmD341) {
    const auto line = [](double zero) { return walther_through(zero + 40.0, 32e-6, zero + 100.0, 5.4e-6); };
    const Walther rounded = line(273.0), exact = line(zero_celsius);
    const std::string place = "two-constant relation, worked example";
    const Grade grade = Grade::memory;
    check_all({
        {"constant A of an oil, 0 degC taken as 273 K", "astmd341", place, grade, "-", 9.5259, rounded.a,
         5e-4, "five digits printed, logarithms carried with four"},
        {"constant B of an oil, 0 degC taken as 273 K", "astmd341", place, grade, "-", 3.7449, rounded.b,
         2e-4, "five digits printed, logarithms carried with four"},
        {"viscosity of the oil at 80 degC, 0 degC taken as 273 K", "astmd341", place, grade, "mm2/s", 8.5,
         kinematic_viscosity(rounded, 353.0) * 1e6, 0.05, "last digit printed"},
        {"viscosity of the oil at 80 degC", "astmd341", place, grade, "mm2/s", 8.5,
         kinematic_viscosity(exact, zero_celsius + 80.0) * 1e6, 0.05, "last digit printed"},
    });
}

} // namespace clearstroke
