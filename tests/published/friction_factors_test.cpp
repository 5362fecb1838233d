#include <algorithm>

#include "models/tube_flow.hpp"
#include "tests/book/check.hpp"

namespace clearstroke {

using namespace book;

TEST(FlowOfLiquid, FrictionFactors) {
    double haaland = 0.0, blasius = 0.0;
    for (double re = 4e3; re <= 1e8; re *= 1.2) {
        for (double e : {0.0, 1e-6, 1e-5, 1e-4, 1e-3, 1e-2, 5e-2}) {
            const double ratio = friction_factor_haaland(re, e) / friction_factor_colebrook(re, e);
            haaland = std::max(haaland, std::abs(ratio - 1.0));
        }
        if (re <= 1e5) {
            const double ratio = friction_factor_blasius(re) / friction_factor_colebrook(re, 0.0);
            blasius = std::max(blasius, std::abs(ratio - 1.0));
        }
    }
    check_all({
        {"largest difference of the explicit from the implicit factor, Re 4e3 to 1e8", "haaland1983",
         "abstract", Grade::secondary, "-", 0.02, haaland, 0.0, "a bound", Relation::at_most},
        {"Blasius factor at Re = 1e4, smooth wall", "blasius1913", "power law", Grade::memory, "-", 0.0316,
         friction_factor_blasius(1e4), 5e-5, "last digit printed"},
        {"largest difference of the power law from the implicit factor, Re 4e3 to 1e5", "colebrook1939",
         "smooth wall", Grade::memory, "-", 0.03, blasius, 0.0, "a bound", Relation::at_most},
    });
}

} // namespace clearstroke
