// Quantities as people write them. Unit factors are exact by definition (inch 25.4 mm, bar 1e5 Pa), except
// psi = 6894.757 Pa (pound-force over square inch, standard gravity).
#include "scenarios/io/quantity.hpp"

#include <numbers>

#include <gtest/gtest.h>

#include "scenarios/units.hpp"

namespace clearstroke {
namespace {

TEST(Quantity, ReadsUnitsIntoSi) {
    struct Row {
        const char *text, *unit;
        double si;
    };
    const double pi = std::numbers::pi;
    for (const Row& r : {Row{"3.2 m", "m", 3.2},
                         Row{"54 mm", "m", 0.054},
                         Row{"7/8 in", "mm", 0.022225},
                         Row{"1-1/16 in", "mm", 0.0269875},
                         Row{"1 1/16 in", "mm", 0.0269875},
                         Row{"14 mL", "mL", 14e-6},
                         Row{"14 cc", "mL", 14e-6},
                         Row{"20 degC", "degC", 293.15},
                         Row{"68 degF", "degC", 293.15},
                         Row{"2 bar", "kPa", 2e5},
                         Row{"15 psi", "bar", 103421.36},
                         Row{"30 inHg", "bar", 101591.66},
                         Row{"12 o'clock", "o'clock", 0.0},
                         Row{"3 o'clock", "o'clock", 0.5 * pi},
                         Row{"1:30 o'clock", "o'clock", 0.25 * pi},
                         Row{"90 deg", "deg", 0.5 * pi},
                         Row{"80 %", "1", 0.8},
                         Row{"0.5", "1", 0.5},
                         Row{"-40 degC", "degC", 233.15},
                         Row{"33 mN/m", "mN/m", 0.033},
                         Row{"5 um/bar", "um/bar", 5e-11},
                         Row{"0.01 mL/bar", "mL/bar", 1e-13},
                         Row{"+2 s", "s", 2.0}}) {
        const ReadQuantity read = read_quantity(r.text, r.unit);
        EXPECT_EQ(read.fault, QuantityFault::none) << r.text;
        EXPECT_NEAR(read.value.usual, r.si, 1e-7 * std::abs(r.si)) << r.text;
        EXPECT_FALSE(read.value.banded) << r.text;
    }
}

TEST(Quantity, ReadsBands) {
    const ReadQuantity read = read_quantity("54 mm, 48 to 60 mm", "mm");
    ASSERT_EQ(read.fault, QuantityFault::none);
    EXPECT_TRUE(read.value.banded);
    EXPECT_NEAR(read.value.low, 0.048, 1e-12);
    EXPECT_NEAR(read.value.high, 0.060, 1e-12);
    EXPECT_EQ(read_quantity("54 mm, 55 mm to 60 mm", "mm").fault, QuantityFault::bad_band);
    EXPECT_EQ(read_quantity("54 mm, 48 mm", "mm").fault, QuantityFault::bad_band);
}

TEST(Quantity, SaysWhatIsWrong) {
    struct Row {
        const char *text, *unit;
        QuantityFault fault;
    };
    for (const Row& r :
         {Row{"54", "mm", QuantityFault::no_unit}, Row{"", "mm", QuantityFault::no_number},
          Row{"wide", "mm", QuantityFault::no_number}, Row{"nan mm", "mm", QuantityFault::no_number},
          Row{"inf mm", "mm", QuantityFault::no_number}, Row{"1/0 in", "mm", QuantityFault::no_number},
          Row{"54 mL", "mm", QuantityFault::wrong_dimension},
          Row{"54 cubits", "mm", QuantityFault::unknown_unit},
          Row{"3 o'clock", "mm", QuantityFault::wrong_dimension},
          Row{"3 mm", "1", QuantityFault::wrong_dimension}, Row{"3 Hz", "s", QuantityFault::wrong_dimension}})
        EXPECT_EQ(read_quantity(r.text, r.unit).fault, r.fault) << r.text;
}

TEST(Quantity, ShowsValuesAsPeopleReadThem) {
    EXPECT_EQ(shown(0.054, "mm"), "54 mm");
    EXPECT_EQ(shown(293.15, "degC"), "20 degC");
    EXPECT_EQ(shown(0.0, "o'clock"), "12 o'clock");
    EXPECT_EQ(shown(-0.5 * std::numbers::pi, "o'clock"), "9 o'clock");
    EXPECT_EQ(shown(0.25 * std::numbers::pi / 3.0, "o'clock"), "12:30 o'clock");
    EXPECT_EQ(shown(0.5, "1"), "0.5");
    EXPECT_EQ(si_unit("1/GPa"), "1/Pa");
    EXPECT_EQ(shown_band(0.048, 0.06, "mm"), "48 to 60 mm");
    EXPECT_THROW((void)in_unit(1.0, "cubits"), std::invalid_argument);
}

TEST(Quantity, ExactTextReadsBackBitByBit) {
    for (const double x : {0.1, 1.0 / 3.0, 22.225e-3, 6.02e23, 5e-324, -1.7e-9})
        EXPECT_EQ(read_quantity(exact(x, "m"), "mm").value.usual, x);
}

} // namespace
} // namespace clearstroke
