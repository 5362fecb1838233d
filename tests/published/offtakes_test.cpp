#include "models/constants.hpp"
#include "models/drawdown.hpp"
#include "tests/book/check.hpp"

namespace clearstroke {

using namespace book;

namespace {

// Gas volume share drawn through a side opening, quality correlation of smoglie1987, at R = h / reach.
double side_quality_share(double r, double liquid_density, double gas_density) {
    const double x0 = 1.15 / (1.0 + std::sqrt(liquid_density / gas_density));
    const double x =
        std::pow(x0, 1.0 + 1.09 * r) * std::sqrt(1.0 - 0.5 * r * (1.0 + r) * std::pow(x0, 1.0 - r));
    return x / gas_density / (x / gas_density + (1.0 - x) / liquid_density);
}

} // namespace

TEST(Drawdown, Offtakes) {
    const Liquid thin{1000.0, 1e-12, 1e-9, 0, 0, 0.03, 0};
    const double q = 10e-6, unit = std::pow(q * q / standard_gravity, 0.2);
    const double k = drawdown_reach({2.0 * pi, 3e-3, 0.0, 0.0}, q, thin) / unit;
    std::vector<Check> checks{
        {"reach constant, opening in a wall, drain of a tank", "lubin1967", "dip formula", Grade::memory, "-",
         0.69, k, 5e-3, "last digit printed"},
        {"reach constant, opening in a wall, liquid drawn into a side offtake", "schrock1986", "onset",
         Grade::memory, "-", 0.69, k, 5e-3, "last digit printed"},
        {"reach constant, opening in a wall, gas pulled into a side offtake", "smoglie1987", "onset",
         Grade::memory, "-", 0.75, k, 0.13, "published constants range from 0.62 to 0.75"},
    };
    for (double r : {0.5, 0.8}) {
        checks.push_back(
            {"gas share drawn at " + std::to_string(r).substr(0, 3) + " of the reach, side offtake",
             "smoglie1987", "quality law", Grade::memory, "-", side_quality_share(r, 1060.0, 1.2),
             gas_fraction_drawn(10e-3 * r, 10e-3, 3e-3), 0.35,
             "our smooth switch stands for three orientations and is called an order of magnitude"});
    }
    checks.push_back({"reach of any flow in a gap of 10 um, at most a quarter of a metre", "", "ours",
                      Grade::derived, "m", 0.25, drawdown_reach({2.0 * pi, 3e-3, 1e-5, pi}, q, thin), 1e-12,
                      "the bound itself"});
    check_all(checks);
}

// The correlation itself, against its independent evaluation [derived].
TEST(Drawdown, SideQualityLawIsEvaluatedRightly) {
    EXPECT_NEAR(side_quality_share(0.5, 1060.0, 1.2), 0.8424, 1e-3);
    EXPECT_NEAR(side_quality_share(0.8, 1060.0, 1.2), 0.5992, 1e-3);
}

} // namespace clearstroke
