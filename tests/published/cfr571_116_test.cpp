#include "models/boiling.hpp"
#include "models/constants.hpp"
#include "models/fluid.hpp"
#include "tests/book/check.hpp"
#include "tests/published/numerical.hpp"

namespace clearstroke {

using namespace book;

// The typical fluids of the library must keep the limits of their grade, and the limits of the library are
// the law's.
TEST(Fluids, Cfr571_116) {
    struct Limits {
        const char* name;
        double dry, wet, cold, hot; // degC, degC, mm^2/s at -40 degC, mm^2/s at 100 degC
    };
    std::vector<Check> checks;
    for (const Limits& g : {Limits{"DOT 3", 205, 140, 1500, 1.5}, Limits{"DOT 4", 230, 155, 1800, 1.5},
                            Limits{"DOT 5", 260, 180, 900, 1.5}, Limits{"DOT 5.1", 260, 180, 900, 1.5}}) {
        const Fluid& f = *find_fluid(g.name);
        const FluidLimits& l = *find_fluid_limits(g.name);
        const auto nu = [&](double celsius) {
            return kinematic_viscosity(f.viscosity, zero_celsius + celsius) * 1e6;
        };
        const auto add = [&](const char* what, const char* clause, const char* unit, double published,
                             double computed, Relation relation) {
            checks.push_back({std::string(g.name) + ": " + what, "cfr571_116", clause, Grade::secondary, unit,
                              published, computed, 1e-9,
                              relation == Relation::equals ? "the limit itself" : "a limit", relation});
        };
        add("dry boiling point, limit held", "S5.1.1", "degC", g.dry, l.boiling_dry_min - zero_celsius,
            Relation::equals);
        add("wet boiling point, limit held", "S5.1.2", "degC", g.wet, l.boiling_wet_min - zero_celsius,
            Relation::equals);
        add("viscosity at -40 degC, limit held", "S5.1.3", "mm2/s", g.cold, l.viscosity_at_m40_max * 1e6,
            Relation::equals);
        add("viscosity at 100 degC, limit held", "S5.1.3", "mm2/s", g.hot, l.viscosity_at_100_min * 1e6,
            Relation::equals);
        add("dry boiling point, library fluid", "S5.1.1", "degC", g.dry, f.boiling_dry - zero_celsius,
            Relation::at_least);
        add("wet boiling point, library fluid", "S5.1.2", "degC", g.wet, f.boiling_wet - zero_celsius,
            Relation::at_least);
        add("viscosity at -40 degC, library fluid", "S5.1.3", "mm2/s", g.cold, nu(-40.0), Relation::at_most);
        add("viscosity at 100 degC, library fluid", "S5.1.3", "mm2/s", g.hot, nu(100.0), Relation::at_least);
    }
    check_all(checks);
}

TEST(Fluids, WaterOfTheWetTest) {
    const Fluid& f = *find_fluid("DOT 4");
    const double most = root(0.0, 0.1, [&](double water) { return boiling_at_least(f, water) ? -1.0 : 1.0; });
    check({"most water by mass for which a boiling point is vouched", "cfr571_116", "S6.2, wet test",
           Grade::secondary, "%", 3.7, 100.0 * most, 1e-9, "the number itself"});
}

} // namespace clearstroke
