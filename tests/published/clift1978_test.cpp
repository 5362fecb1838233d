#include "models/constants.hpp"
#include "models/small_bubble.hpp"
#include "tests/book/check.hpp"

namespace clearstroke {

using namespace book;

// The drag of a rigid sphere at a Reynolds number fixes the group N = Cd Re^2; the law must give that Re
// back.
TEST(SmallBubbles, Clift1978) {
    struct Row {
        double re, drag, tolerance;
    };
    std::vector<Check> checks;
    for (const Row& r : {Row{0.1, 240.0 * (1.0 + 0.1315 * std::pow(0.1, 0.87)), 0.02}, Row{1.0, 27.16, 0.02},
                         Row{10.0, 4.26, 0.02}, Row{100.0, 1.087, 0.05}}) {
        const double d = 1e-3, rho = 1000.0, n = r.drag * r.re * r.re;
        const double mu = rho * std::sqrt(4.0 * standard_gravity * d * d * d / (3.0 * n));
        const Liquid liquid{rho, mu / rho, mu, 0, 0, 0.03, 0};
        checks.push_back({"Reynolds number of a rigid sphere with the standard drag at Re = " +
                              std::to_string(r.re).substr(0, 5),
                          "clift1978", "table 5.2, standard drag", Grade::memory, "-", r.re,
                          terminal_velocity(d, liquid, 0.0) * d / (mu / rho), r.tolerance * r.re,
                          "the polynomials were fitted to the drag curve within 1 to 4 %"});
    }
    check_all(checks);
}

} // namespace clearstroke
