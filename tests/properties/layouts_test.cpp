// Layouts drawn from all parts with work drawn from all methods and acts; the command `random_layouts` runs as many as one likes.
#include <set>

#include <gtest/gtest.h>

#include "tests/properties/random_layout.hpp"

namespace clearstroke::testing {
namespace {

/// Forty-two quick ones of the first sixty, and those in which a fault was found (as the lines were drawn then, some of them
/// shorter than their heights): liquid let in through a passage for air (125), a jolt of a stiff lump at the start of every
/// step (83, 224), a rod that drives a floating part at its stop (48, 275), a bar at the end of its travel (44), a part that
/// gave of less than nothing (26), last gas that left ever faster (209), foam that took a step for each of its parcels
/// (153), a last amount that rounding left below zero (769), a rod that stands where one stop takes over from another (569).
class RandomLayouts : public ::testing::TestWithParam<int> {};

TEST_P(RandomLayouts, RunAndConserveAndRepeat) {
    const RandomLayout layout = random_layout(static_cast<std::uint64_t>(GetParam()));
    const RandomRun one = run(layout);
    EXPECT_EQ(one.refused, "") << described(layout);
    EXPECT_EQ(failure_of(one, run(layout)), "") << described(layout);
}

INSTANTIATE_TEST_SUITE_P(Seeds, RandomLayouts,
                         ::testing::Values(1, 2, 3, 4, 5, 6, 7, 10, 11, 12, 13, 14, 15, 20, 21, 22, 23, 24,
                                           26, 27, 28, 29, 30, 31, 32, 33, 34, 37, 38, 39, 40, 41, 42, 43, 44,
                                           45, 46, 48, 50, 52, 53, 54, 57, 58, 60, 83, 125, 153, 209, 224,
                                           275, 569, 769));

/// The same layouts with froth in them and in what is poured, bubbles that flow frees from walls, and air out of solution:
/// sixteen quick ones of the first twenty-four.
class RandomLayoutsWithBubbles : public ::testing::TestWithParam<int> {};

TEST_P(RandomLayoutsWithBubbles, RunAndConserveAndRepeat) {
    const auto seed = static_cast<std::uint64_t>(GetParam());
    RandomLayout layout = random_layout(seed);
    Draw draw(seed + 1000);
    layout.network.conditions.bubbles = {draw.spread(0.05e-3, 2e-3), draw.between(0.0, 0.05),
                                         draw.spread(0.02, 0.25), draw.spread(3.0, 300.0)};
    layout.contents.dispersed = draw.between(0.0, 0.05);
    const RandomRun one = run(layout);
    EXPECT_EQ(one.refused, "") << described(layout);
    EXPECT_EQ(failure_of(one, run(layout)), "") << described(layout);
}

INSTANTIATE_TEST_SUITE_P(Seeds, RandomLayoutsWithBubbles,
                         ::testing::Values(3, 4, 5, 6, 9, 10, 11, 12, 13, 15, 18, 20, 21, 22, 23, 24));

// One number stands for one layout, and each for another one.
TEST(RandomLayout, IsTheSameForTheSameSeed) {
    EXPECT_EQ(described(random_layout(7)), described(random_layout(7)));
    EXPECT_NE(described(random_layout(7)), described(random_layout(8)));
}

// The draws reach what they are made of: every coupling, ring, stub, valve, fault, and one to twelve wheels.
TEST(RandomLayout, DrawsReachEveryPart) {
    std::set<Coupling> couplings;
    std::set<std::size_t> acts, screws;
    int stubs = 0, rings = 0, valves = 0, faults = 0, in_line = 0, blind = 0;
    for (std::uint64_t seed = 1; seed <= 400; ++seed) {
        const RandomLayout r = random_layout(seed);
        const Network& n = r.network;
        EXPECT_NO_THROW(check(n, r.contents)) << seed;
        screws.insert(n.screws.size());
        for (const Actuator& a : n.actuators) {
            couplings.insert(a.coupling);
            for (const Piston& p : a.pistons) {
                in_line += p.inlet.has_value();
                blind += p.blind;
                faults += p.bypass > 0.0;
            }
        }
        for (const Line& l : n.lines) {
            stubs += std::holds_alternative<Blank>(l.to);
            rings += l.name.starts_with("ring");
            valves += l.valve.has_value();
        }
        for (const Visit& v : r.procedure.visits)
            for (const Act& a : v.before) acts.insert(a.index());
    }
    EXPECT_EQ(couplings.size(), 3U);
    EXPECT_GE(acts.size(), 18U);
    EXPECT_GE(screws.size(), 10U);
    for (const int seen : {stubs, rings, valves, faults, in_line, blind}) EXPECT_GT(seen, 5);
}

} // namespace
} // namespace clearstroke::testing
