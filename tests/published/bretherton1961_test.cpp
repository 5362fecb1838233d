#include "models/long_bubble.hpp"
#include "tests/book/check.hpp"

namespace clearstroke {

using namespace book;

// The abstract gives the constants; the rows repeat it in numbers so that a slip in an exponent shows.
TEST(LongBubbles, Bretherton1961) {
    const std::string key = "bretherton1961", place = "abstract";
    const Grade grade = Grade::verified;
    const double ca = 1e-3, third = std::cbrt(3.0 * ca);
    const auto bond = [](double c) { return 0.842 + 1.25 * std::pow(c, 2.0 / 9.0) + 2.24 * std::cbrt(c); };
    const Liquid water{998.0, 1e-6, 998e-6, 0, 0, 0.0728, 0};
    const double bore = no_rise_bore(water, 0.0);
    check_all({
        {"excess speed over (3 Ca)^(2/3)", key, place, grade, "-", 1.29,
         bretherton_excess_speed(ca) / (third * third), 1e-9, "exact constant"},
        {"pressure drop over (3 Ca)^(2/3) sigma/r", key, place, grade, "-", 3.58,
         bretherton_pressure_drop(ca, 0.035, 1e-3) / (third * third * 35.0), 1e-9, "exact constant"},
        {"Bond number of the largest bore without rise", key, place, grade, "-", 0.842,
         998.0 * 9.80665 * bore * bore / 4.0 / 0.0728, 1e-9, "exact constant"},
        {"capillary number of the creep at the Bond number of Ca = 1e-6", key, place, grade, "-", 1e-6,
         creep_capillary_number(bond(1e-6)), 1e-12, "the published law solved for the other variable"},
        {"capillary number of the creep at the Bond number of Ca = 3e-5", key, place, grade, "-", 3e-5,
         creep_capillary_number(bond(3e-5)), 1e-11, "the published law solved for the other variable"},
        {"excess speed of the film law at Ca = 1e-4", key, place, grade, "-",
         1.29 * std::pow(3e-4, 2.0 / 3.0), 1.0 - std::pow(1.0 - film_thickness_ratio(1e-4), 2.0),
         0.1 * 1.29 * std::pow(3e-4, 2.0 / 3.0),
         "10 %, the accuracy the abstract claims; our film law comes from another source"},
        {"excess speed of the film law at Ca = 5e-3", key, place, grade, "-",
         1.29 * std::pow(1.5e-2, 2.0 / 3.0), 1.0 - std::pow(1.0 - film_thickness_ratio(5e-3), 2.0),
         0.13 * 1.29 * std::pow(1.5e-2, 2.0 / 3.0),
         "10 % claimed at this end of its range, and 3 % for the finite film"},
    });
}

} // namespace clearstroke
