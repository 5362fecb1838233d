#include "models/constants.hpp"
#include "models/gas.hpp"
#include "models/restriction.hpp"
#include "models/tube_flow.hpp"
#include "tests/book/check.hpp"

namespace clearstroke {

using namespace book;

namespace {

// Oil (900 kg/m^3, 2e-4 m^2/s) driven up a 60 mm pipe, 10 m at 40 degrees, by 100 kPa.
std::vector<Check> inclined_pipe() {
    const double g = 9.807, rise = 10.0 * std::sin(40.0 * pi / 180.0), head = 1e5 / (900.0 * g) - rise;
    const double q = head * 900.0 * g / laminar_resistance(900.0 * 2e-4, 10.0, 0.06);
    const std::string place = "ch. 6, example of an inclined laminar pipe", digits = "digits printed";
    const Grade grade = Grade::memory;
    return {
        {"head lost in an inclined oil pipe", "white2011", place, grade, "m", 4.9, head, 0.05, digits},
        {"flow in an inclined oil pipe", "white2011", place, grade, "m3/s", 0.0076, q, 5e-5, digits},
        {"mean speed in an inclined oil pipe", "white2011", place, grade, "m/s", 2.7, q / circle_area(0.06),
         0.05, digits},
        {"Reynolds number in an inclined oil pipe", "white2011", place, grade, "-", 810.0,
         reynolds_number(q, 0.06, 2e-4), 5.0, digits},
    };
}

} // namespace

TEST(FlowOfLiquid, White2011) {
    std::vector<Check> checks = inclined_pipe();
    const std::string key = "white2011";
    const Grade grade = Grade::memory;
    const double smooth[][2] = {{4e3, 0.0399}, {1e4, 0.0309}, {1e5, 0.0180},
                                {1e6, 0.0116}, {1e7, 0.0081}, {1e8, 0.0059}};
    for (const auto& [re, f] : smooth) {
        checks.push_back({"friction factor of a smooth pipe at Re = " + std::to_string(long(re)), key,
                          "ch. 6, table of the smooth-wall formula", grade, "-", f,
                          friction_factor_colebrook(re, 0.0), 1e-4,
                          "last digit printed, and 2.51 against 10^0.4 in the formula"});
    }
    check_all(checks);
}

TEST(Air, White2011) {
    const std::string key = "white2011";
    const Grade grade = Grade::memory;
    std::vector<Check> checks;
    const double air[][2] = {{0.0, 1.71e-5}, {20.0, 1.80e-5}, {50.0, 1.95e-5}, {100.0, 2.17e-5}};
    for (const auto& [celsius, mu] : air) {
        checks.push_back({"viscosity of air at " + std::to_string(int(celsius)) + " degC", key, "table A.2",
                          grade, "Pa s", mu, air_viscosity(zero_celsius + celsius), 0.01 * mu,
                          "1 %: error of the two-constant formula"});
    }
    checks.push_back({"viscosity of air at 200 degC, beyond our range, for the formula's second constant",
                      key, "table A.2", grade, "Pa s", 2.57e-5, air_viscosity(zero_celsius + 200.0), 6e-8,
                      "last digit printed"});
    const double mass = choked_gas_flow_limit(1.0, 1.0, 300.0) * air_density(1e5, 300.0);
    checks.push_back({"choked mass flow over p A / sqrt(R T)", key, "ch. 9, maximum mass flow", grade, "-",
                      0.6847, mass * std::sqrt(air_gas_constant * 300.0) / 1e5, 5e-5, "last digit printed"});
    check_all(checks);
}

} // namespace clearstroke
