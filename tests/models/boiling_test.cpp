#include "models/boiling.hpp"

#include <gtest/gtest.h>

#include "models/constants.hpp"

namespace clearstroke {
namespace {

// 49 CFR 571.116 S5.1.1, S5.1.2, least boiling points in degrees Fahrenheit: DOT 3 401 and 284, DOT 4 446 and
// 311, DOT 5.1 500 and 356 [secondary]; the Celsius figures of the same clauses are rounded to whole degrees,
// hence 0.6 degC.
TEST(Boiling, IsThatOfTheStandardDryAndWet) {
    const auto celsius = [](double fahrenheit) { return zero_celsius + (fahrenheit - 32.0) / 1.8; };
    const struct {
        const char* grade;
        double dry, wet;
    } rows[] = {{"DOT 3", 401.0, 284.0}, {"DOT 4", 446.0, 311.0}, {"DOT 5.1", 500.0, 356.0}};
    for (const auto& row : rows) {
        const Fluid& fluid = *find_fluid(row.grade);
        EXPECT_NEAR(*boiling_at_least(fluid, 0.0), celsius(row.dry), 0.6) << row.grade;
        EXPECT_NEAR(*boiling_at_least(fluid, 0.037), celsius(row.wet), 0.6) << row.grade;
    }
}

TEST(Boiling, NeverRisesWithWaterAndIsNotVouchedForBeyondTheWetTest) {
    for (const Fluid& fluid : known_fluids()) {
        double last = 1e9;
        for (const double water : {0.0, 0.001, 0.01, 0.02, 0.037}) {
            EXPECT_LE(*boiling_at_least(fluid, water), last) << fluid.name;
            last = *boiling_at_least(fluid, water);
        }
        EXPECT_FALSE(boiling_at_least(fluid, 0.04)) << fluid.name;
    }
}

TEST(Mixing, KeepsTheFamiliesApart) {
    for (const Fluid& one : known_fluids())
        for (const Fluid& other : known_fluids()) EXPECT_EQ(may_mix(one, other), may_mix(other, one));
    EXPECT_TRUE(may_mix(*find_fluid("DOT 3"), *find_fluid("DOT 5.1")));
    EXPECT_FALSE(may_mix(*find_fluid("DOT 4"), *find_fluid("DOT 5")));
    EXPECT_FALSE(may_mix(*find_fluid("DOT 4"), *find_fluid("mineral oil")));
    EXPECT_FALSE(may_mix(*find_fluid("DOT 5"), *find_fluid("mineral oil")));
}

} // namespace
} // namespace clearstroke
