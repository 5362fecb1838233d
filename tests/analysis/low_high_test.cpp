#include <gtest/gtest.h>

#include "analysis/low_high.hpp"
#include "tests/analysis/two_wheels.hpp"

namespace clearstroke {
namespace {

TEST(LowHigh, PairsOfTheBandsThatTheFactoryHas) {
    const CaseFactory factory = small::two_wheels_factory();
    const auto sets = low_and_high(factory);
    ASSERT_EQ(sets.size(), 4u); // run-ahead and starting air; there is no drawdown
    EXPECT_EQ(sets[0].values, (std::vector{2e-6, 1.5, 0.5, 0.5}));
    EXPECT_EQ(sets[1].values, (std::vector{2e-6, 1.5, 1.2, 0.5}));
    EXPECT_EQ(sets[2].name, "less starting air");
    EXPECT_EQ(sets[2].values, (std::vector{1e-6, 1.5, 1.0, 0.5}));
    EXPECT_EQ(sets[3].values[0], 4e-6);
    EXPECT_EQ(sets[3].band, sets[2].band);
}

TEST(LowHigh, AllStartingAirMovesTogether) {
    CaseFactory factory = small::two_wheels_factory();
    factory.parameters.push_back({"work.more_air", 5.0, 3.0, 9.0, "1", "1", "starting air", {}, "", ""});
    const auto sets = low_and_high(factory);
    EXPECT_EQ(sets.back().values[0], 4e-6);
    EXPECT_EQ(sets.back().values[4], 9.0);
}

TEST(LowHigh, WhatHasNoBandIsLeftOut) {
    CaseFactory factory = small::two_wheels_factory();
    for (Parameter& p : factory.parameters) p.low = p.high = p.usual;
    EXPECT_TRUE(low_and_high(factory).empty());
}

TEST(LowHigh, FindsParametersByName) {
    const CaseFactory factory = small::two_wheels_factory();
    EXPECT_EQ(find_parameter(factory, "lines.far"), 1u);
    EXPECT_EQ(find_parameter(factory, "nothing"), factory.parameters.size());
}

} // namespace
} // namespace clearstroke
