#include "models/fluid.hpp"

#include "tests/models/support.hpp"

namespace clearstroke {
namespace {

using test::close;

double nu_mm2(const Walther& w, double celsius) {
    return kinematic_viscosity(w, zero_celsius + celsius) * 1e6;
}
Walther limit_line(double at_m40, double at_100) {
    return walther_through(zero_celsius - 40.0, at_m40 * 1e-6, zero_celsius + 100.0, at_100 * 1e-6);
}

struct Line {
    const char* name;
    double at_m40, at_100, a, b;
    double at_m20, at_m10, at_0, at_20, at_40, at_60;
};

// Derived values: the relation evaluated independently, in double precision.
constexpr Line lines[] = {
    {"typical DOT 4", 1200, 2.5, 9.58875, 3.84361, 174.8, 85.17, 46.68, 18.23, 9.09, 5.34},
    {"DOT 3 limits", 1500, 1.5, 11.71550, 4.73619, 140.9, 61.02, 30.96, 11.15, 5.40, 3.15},
    {"DOT 4 limits", 1800, 1.5, 11.85010, 4.78853, 156.0, 65.89, 32.81, 11.53, 5.50, 3.18},
    {"DOT 5.1 limits", 900, 1.5, 11.31980, 4.58234, 105.6, 49.04, 26.23, 10.13, 5.12, 3.06},
    {"class 6 limits", 750, 1.5, 11.17137, 4.52463, 95.1, 45.31, 24.69, 9.78, 5.01, 3.03},
    {"low viscosity", 650, 2.0, 9.88955, 3.98723, 105.6, 53.79, 30.66, 12.76, 6.67, 4.06},
};

TEST(Walther, PassesThroughItsTwoPointsAndTheKnownOnesBetween) {
    for (const Line& l : lines) {
        SCOPED_TRACE(l.name);
        const Walther w = limit_line(l.at_m40, l.at_100);
        EXPECT_NEAR(w.a, l.a, 6e-6);
        EXPECT_NEAR(w.b, l.b, 6e-6);
        EXPECT_TRUE(close(nu_mm2(w, -40.0), l.at_m40, 1e-9));
        EXPECT_TRUE(close(nu_mm2(w, 100.0), l.at_100, 1e-9));
        EXPECT_NEAR(nu_mm2(w, -20.0), l.at_m20, 0.06);
        EXPECT_NEAR(nu_mm2(w, -10.0), l.at_m10, 0.006);
        EXPECT_NEAR(nu_mm2(w, 0.0), l.at_0, 0.006);
        EXPECT_NEAR(nu_mm2(w, 20.0), l.at_20, 0.006);
        EXPECT_NEAR(nu_mm2(w, 40.0), l.at_40, 0.006);
        EXPECT_NEAR(nu_mm2(w, 60.0), l.at_60, 0.006);
    }
}

TEST(Walther, FullFormInvertsItsOwnDefinition) {
    for (double nu = 0.4; nu <= 2.0; nu += 0.1) {
        const double z = nu + 0.7 + std::exp(-1.47 - 1.84 * nu - 0.51 * nu * nu);
        const Walther w{std::log10(std::log10(z)), 0.0};
        EXPECT_TRUE(close(kinematic_viscosity_low(w, 300.0) * 1e6, nu, 2e-4))
            << nu; // the standard's own error
    }
}

TEST(Walther, PlainFormIsWithinHalfAPercentDownToTheLegalLimit) {
    for (double nu = 1.5; nu <= 2000.0; nu *= 1.2) {
        const Walther w{std::log10(std::log10(nu + 0.7)), 0.0};
        EXPECT_TRUE(close(kinematic_viscosity(w, 300.0), kinematic_viscosity_low(w, 300.0), 5e-3)) << nu;
    }
    const Walther thin{std::log10(std::log10(1.0 + 0.7)), 0.0};
    EXPECT_FALSE(close(kinematic_viscosity(thin, 300.0), kinematic_viscosity_low(thin, 300.0), 2e-2));
}

TEST(KnownFluids, AreFoundByName) {
    ASSERT_EQ(known_fluids().size(), 6u);
    for (const Fluid& f : known_fluids()) EXPECT_EQ(find_fluid(f.name), &f);
    EXPECT_EQ(find_fluid("DOT 5")->family, FluidFamily::silicone);
    EXPECT_EQ(find_fluid("mineral oil")->family, FluidFamily::mineral);
    EXPECT_EQ(find_fluid("DOT 4")->family, FluidFamily::glycol);
    EXPECT_EQ(find_fluid("DOT 2"), nullptr);
    EXPECT_EQ(find_fluid_limits("mineral oil"), nullptr);
}

// The low-viscosity grade holds class 6 of iso4925 [from memory]; the others are in tests/published.
TEST(FluidLimits, LowViscosityGradeHasItsClass) {
    const FluidLimits& l = *find_fluid_limits("DOT 4 low viscosity");
    EXPECT_DOUBLE_EQ(l.boiling_dry_min, zero_celsius + 250.0);
    EXPECT_DOUBLE_EQ(l.boiling_wet_min, zero_celsius + 165.0);
    EXPECT_DOUBLE_EQ(l.viscosity_at_m40_max, 750e-6);
    EXPECT_DOUBLE_EQ(l.viscosity_at_100_min, 1.5e-6);
}

// Typical viscosities in mm^2/s [from memory, the glycol ones by (F-1) from their ends]; tolerance: last
// digit printed.
TEST(KnownFluids, HaveTheTypicalViscosities) {
    struct Row {
        const char* name;
        double at_0, at_20, at_40, tolerance;
    };
    for (const Row& r : {Row{"DOT 3", 40, 15, 7.6, 0.5}, Row{"DOT 4", 43, 16, 8.0, 0.5},
                         Row{"DOT 4 low viscosity", 31, 13, 6.7, 0.5}, Row{"DOT 5.1", 37, 15, 7.6, 0.5},
                         Row{"DOT 5", 85, 55, 38, 1.0}, Row{"mineral oil", 60, 30, 18, 2.5}}) {
        SCOPED_TRACE(r.name);
        const Walther& w = find_fluid(r.name)->viscosity;
        EXPECT_NEAR(nu_mm2(w, 0.0), r.at_0, r.tolerance);
        EXPECT_NEAR(nu_mm2(w, 20.0), r.at_20, r.tolerance);
        EXPECT_NEAR(nu_mm2(w, 40.0), r.at_40, r.tolerance);
    }
    EXPECT_NEAR(nu_mm2(find_fluid("DOT 5")->viscosity, -40.0), 270.0, 10.0);
}

TEST(KnownFluids, ThinAndSoftenWithTemperature) {
    for (const Fluid& f : known_fluids()) {
        SCOPED_TRACE(f.name);
        Liquid before = liquid_at(f, zero_celsius - 40.0);
        for (double t = -35.0; t <= 120.0; t += 5.0) {
            const Liquid now = liquid_at(f, zero_celsius + t);
            EXPECT_LT(now.kinematic_viscosity, before.kinematic_viscosity);
            EXPECT_LT(now.density, before.density);
            EXPECT_LT(now.bulk_modulus, before.bulk_modulus);
            EXPECT_LT(now.surface_tension, before.surface_tension);
            EXPECT_GT(now.vapour_pressure, before.vapour_pressure);
            EXPECT_GT(now.bulk_modulus, 0.4e9);
            EXPECT_DOUBLE_EQ(now.dynamic_viscosity, now.density * now.kinematic_viscosity);
            before = now;
        }
    }
}

// Density [kg/m^3] and its slope, surface tension [mN/m], dissolved air [%], dry and wet boiling point
// [degC], dK/dp, viscosity [mm^2/s] at the ends of its line; typical values [from memory], dissolved air
// [secondary].
TEST(KnownFluids, HaveTheTypicalProperties) {
    struct Row {
        const char* name;
        double density, slope, tension, air, dry, wet, stiffening, from, nu_from, nu_100;
    };
    for (const Row& r : {Row{"DOT 3", 1040, -0.8, 33, 5, 205, 140, 10, -40, 1200, 2.1},
                         Row{"DOT 4", 1060, -0.8, 34, 5, 230, 155, 10, -40, 1300, 2.2},
                         Row{"DOT 4 low viscosity", 1060, -0.8, 34, 5, 250, 165, 10, -40, 700, 2.0},
                         Row{"DOT 5.1", 1070, -0.8, 34, 5, 260, 180, 10, -40, 850, 2.2},
                         Row{"DOT 5", 960, -0.9, 21, 16, 260, 180, 9, 25, 50, 16.5},
                         Row{"mineral oil", 850, -0.65, 28, 9.5, 260, 260, 10, 20, 30, 6}}) {
        SCOPED_TRACE(r.name);
        const Fluid& f = *find_fluid(r.name);
        EXPECT_DOUBLE_EQ(f.density_20, r.density);
        EXPECT_DOUBLE_EQ(f.density_slope, r.slope);
        EXPECT_DOUBLE_EQ(f.surface_tension_20, r.tension * 1e-3);
        EXPECT_DOUBLE_EQ(f.dissolved_air, r.air / 100.0);
        EXPECT_DOUBLE_EQ(f.boiling_dry, zero_celsius + r.dry);
        EXPECT_DOUBLE_EQ(f.boiling_wet, zero_celsius + r.wet);
        EXPECT_DOUBLE_EQ(f.bulk_modulus_pressure_slope, r.stiffening);
        EXPECT_LE(f.vapour_pressure_20, 100.0);
        EXPECT_TRUE(close(nu_mm2(f.viscosity, r.from), r.nu_from, 1e-9));
        EXPECT_TRUE(close(nu_mm2(f.viscosity, 100.0), r.nu_100, 1e-9));
    }
}

// Bulk modulus at 100 degC [from memory] and the vapour pressure's two anchors.
TEST(KnownFluids, PassThroughTheirAnchors) {
    const double modulus_100[] = {1.2e9, 1.3e9, 1.3e9, 1.3e9, 0.6e9, 1.0e9};
    for (std::size_t i = 0; i < known_fluids().size(); ++i) {
        const Fluid& f = known_fluids()[i];
        SCOPED_TRACE(f.name);
        EXPECT_TRUE(close(liquid_at(f, zero_celsius + 100.0).bulk_modulus, modulus_100[i], 1e-9));
        EXPECT_TRUE(close(liquid_at(f, zero_celsius + 20.0).vapour_pressure, f.vapour_pressure_20, 1e-9));
        EXPECT_TRUE(close(liquid_at(f, f.boiling_dry).vapour_pressure, standard_atmosphere, 1e-9));
    }
}

TEST(ReferenceFluid, HasItsPropertiesAtTwoTemperatures) {
    const Liquid warm = test::reference_liquid(20.0), cold = test::reference_liquid(-10.0);
    EXPECT_TRUE(close(warm.kinematic_viscosity, 18.225e-6));
    EXPECT_TRUE(close(warm.dynamic_viscosity, 0.019319));
    EXPECT_TRUE(close(cold.density, 1083.85));
    EXPECT_TRUE(close(cold.kinematic_viscosity, 85.169e-6));
    EXPECT_TRUE(close(cold.dynamic_viscosity, 0.092311));
    EXPECT_TRUE(close(cold.surface_tension, 0.0377));
}

} // namespace
} // namespace clearstroke
