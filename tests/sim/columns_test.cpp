// Liquid columns of a cell against hydrostatics by hand, and the division of a line into cells.
#include "sim/columns.hpp"

#include <gtest/gtest.h>

#include <algorithm>

#include "sim/grouping.hpp"
#include "tests/sim/line_cells.hpp"

namespace clearstroke {
namespace {

constexpr double weight = 1e4;  // rho g [Pa/m]
constexpr double rigid = 1e300; // bulk modulus [Pa]

Parcel sum_of(const std::vector<Cell>& cells) {
    Parcel sum;
    for (const Cell& c : cells) {
        sum.liquid += c.liquid;
        sum.gas += c.gas;
    }
    return sum;
}

TEST(Columns, WithoutGasAreTheHalves) {
    const LineLayout line = line_through({0.0, 0.4, 0.2});
    const Columns c = columns_of(cell_of(line, {{2.0, 0.0}}), line, weight, rigid);
    EXPECT_DOUBLE_EQ(c.side[0].liquid, 1e-6);
    EXPECT_DOUBLE_EQ(c.side[1].liquid, 1e-6);
    EXPECT_DOUBLE_EQ(c.side[0].rise, -weight * 0.4); // the middle is the top, 0.4 m above the end
    EXPECT_DOUBLE_EQ(c.side[1].rise, -weight * 0.2);
    EXPECT_EQ(c.side[0].rise_per_liquid, 0.0);
}

TEST(Columns, ALoopWithGasAtItsTopNeedsItsCounterHead) {
    // Up 0.4 m and down 0.4 m; half a lump of gas on the far side of the top: the near column is 0.4 m high,
    // the far one 0.2 m.
    const LineLayout line = line_through({0.0, 0.4, 0.0});
    const Columns c = columns_of(cell_of(line, {{1.0, 0.0}, {0.0, 0.5}, {0.5, 0.0}}), line, weight, rigid);
    EXPECT_NEAR(c.side[0].rise, -weight * 0.4, 1e-9);
    EXPECT_NEAR(c.side[1].rise, -weight * 0.2, 1e-9);
    EXPECT_NEAR(c.side[0].rise - c.side[1].rise, -weight * 0.2, 1e-9); // what must be pressed at `from`
    EXPECT_NEAR(c.side[0].liquid, 1e-6, 1e-18);
    EXPECT_NEAR(c.side[1].liquid, 0.5e-6, 1e-18);
}

TEST(Columns, GrowByTheSlopeWhereTheGasBegins) {
    const LineLayout line = line_through({0.0, 0.4, 0.5});
    const Columns before =
        columns_of(cell_of(line, {{0.5, 0.0}, {0.0, 1.0}, {0.5, 0.0}}), line, weight, rigid);
    const Columns after =
        columns_of(cell_of(line, {{0.51, 0.0}, {0.0, 0.98}, {0.51, 0.0}}), line, weight, rigid);
    for (const std::size_t side : {0u, 1u})
        EXPECT_NEAR(after.side[side].rise - before.side[side].rise,
                    before.side[side].rise_per_liquid * 0.01e-6, 1e-9);
}

TEST(Columns, BubblesShareACellAroundTheMiddleOfTheirGas) {
    const LineLayout line = line_through({0.0, 0.0});
    const Columns c = columns_of(cell_of(line, {{0.1, 0.0}, {0.0, 0.1}, {0.3, 0.0}, {0.0, 0.3}, {0.2, 0.0}}),
                                 line, weight, rigid);
    EXPECT_NEAR(c.side[0].liquid, 0.4e-6, 1e-18);
    EXPECT_NEAR(c.side[1].liquid, 0.2e-6, 1e-18);
}

TEST(Columns, TheLastGasGivesTheMiddleBackToTheCell) {
    const LineLayout line = line_through({0.0, 1.0});
    constexpr double modulus = 2e9;
    double before = 0.5e-6;
    for (const double gas : {0.0, 1e-6, 1e-5, 1e-4, 1e-3, 1e-2}) { // at the upper end, in millionths
        const double middle =
            columns_of(cell_of(line, {{1.0 - gas, 0.0}, {0.0, gas}}), line, weight, modulus).middle;
        const double expected =
            0.5e-6 + (0.5e-6 - 0.5e-6 * gas) *
                         std::min(gas * modulus / (20.0 * standard_atmosphere * (1.0 - gas)), 1.0);
        EXPECT_NEAR(middle, expected, 1e-15);
        EXPECT_GE(middle, before - 1e-15);
        before = std::min(middle, 0.99e-6);
    }
}

TEST(Grouping, OnePlugIsOneCellHoweverFineTheLine) {
    for (const std::size_t lumps : {1u, 4u, 32u}) {
        const LineLayout line = line_through(std::vector<double>(lumps + 1, 0.0));
        const double all = static_cast<double>(lumps);
        std::vector<Cell> cells{cell_of(line, {{0.3 * all, 0.0}, {0.0, 0.4 * all}, {0.3 * all, 0.0}})};
        EXPECT_FALSE(regroup(cells, line, {}));
        EXPECT_EQ(cells.size(), 1u);
    }
}

TEST(Grouping, PlugsThatLiquidPartsAreDividedInIt) {
    const LineLayout line = line_through(std::vector<double>(9, 0.0));
    std::vector<Cell> cells{cell_of(line, {{1.0, 0.0}, {0.0, 1.0}, {4.0, 0.0}, {0.0, 1.0}, {1.0, 0.0}})};
    const Parcel before = sum_of(cells);
    ASSERT_TRUE(regroup(cells, line, {}));
    ASSERT_EQ(cells.size(), 2u);
    EXPECT_EQ(cells[0].end, 4); // the middle of the liquid from 2 to 6
    EXPECT_DOUBLE_EQ(sum_of(cells).liquid, before.liquid);
    EXPECT_DOUBLE_EQ(sum_of(cells).gas, before.gas);
    EXPECT_FALSE(regroup(cells, line, {})); // stays
}

TEST(Grouping, PlugsWithoutABorderBetweenThemShareACell) {
    const LineLayout line = line_through(std::vector<double>(3, 0.0));
    std::vector<Cell> cells{cell_of(line, {{0.2, 0.0}, {0.0, 0.3}, {0.2, 0.0}, {0.0, 0.2}, {1.1, 0.0}})};
    EXPECT_FALSE(regroup(cells, line, {}));
    EXPECT_EQ(cells.size(), 1u);
}

TEST(Grouping, ALineWithoutGasIsJoinedAndAValveStaysABorder) {
    LineLayout line = line_through(std::vector<double>(5, 0.0));
    Settings apart;
    apart.contract = false;
    std::vector<Cell> cells{cell_of(line, {{4.0, 0.0}})};
    ASSERT_TRUE(regroup(cells, line, apart));
    ASSERT_EQ(cells.size(), 4u);
    line.valve_lump = 3;
    ASSERT_TRUE(regroup(cells, line, {}));
    ASSERT_EQ(cells.size(), 2u);
    EXPECT_EQ(cells[0].end, 3);
    EXPECT_DOUBLE_EQ(sum_of(cells).liquid, 4e-6);
}

} // namespace
} // namespace clearstroke
