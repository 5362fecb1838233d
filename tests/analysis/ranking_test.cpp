#include <gtest/gtest.h>

#include "analysis/ranking.hpp"

namespace clearstroke {
namespace {

std::vector<std::size_t> indices(const std::vector<Place>& places) {
    std::vector<std::size_t> out;
    for (const Place& p : places) out.push_back(p.index);
    return out;
}

std::vector<int> groups(const std::vector<Place>& places) {
    std::vector<int> out;
    for (const Place& p : places) out.push_back(p.group);
    return out;
}

TEST(Ranking, TargetComesBeforeCost) {
    const std::vector<Standing> s = {
        {false, false, 5.0, 3e-7}, {false, true, 40.0, 0.0}, {true, false, 1.0, 0.0}};
    EXPECT_EQ(indices(rank(s, {})), (std::vector<std::size_t>{1, 0, 2}));
}

TEST(Ranking, CostThenExcessAmongThoseThatMeetTheTarget) {
    const std::vector<Standing> s = {
        {false, true, 12.0, 9e-8}, {false, true, 12.0, 1e-8}, {false, true, 10.0, 9e-8}};
    const auto places = rank(s, {});
    EXPECT_EQ(indices(places), (std::vector<std::size_t>{2, 1, 0}));
    EXPECT_EQ(groups(places), (std::vector<int>{1, 2, 3}));
}

TEST(Ranking, DifferencesWithinTheResolutionShareAGroup) {
    const std::vector<Standing> s = {
        {false, true, 12.0, 2e-8}, {false, true, 14.0, 0.0}, {false, true, 12.4, 0.0}};
    const auto places = rank(s, {0.5, 5e-8});
    EXPECT_EQ(indices(places), (std::vector<std::size_t>{0, 2, 1}));
    EXPECT_EQ(groups(places), (std::vector<int>{1, 1, 2}));
}

// A chain of small steps does not tie its two ends: the width counts from the first of a group.
TEST(Ranking, GroupsAreNoWiderThanTheResolution) {
    const std::vector<Standing> s = {
        {false, true, 10.0, 0.0}, {false, true, 10.9, 0.0}, {false, true, 11.8, 0.0}};
    EXPECT_EQ(groups(rank(s, {1.0, 0.0})), (std::vector<int>{1, 1, 2}));
}

TEST(Ranking, MissesGoByExcessFirst) {
    const std::vector<Standing> s = {{false, false, 5.0, 9e-7}, {false, false, 50.0, 3e-7}};
    EXPECT_EQ(indices(rank(s, {})), (std::vector<std::size_t>{1, 0}));
}

TEST(Ranking, KeepsEveryoneExactlyOnceAndIgnoresTheOrderOfInput) {
    const std::vector<Standing> a = {
        {false, true, 3.0, 0.0}, {true, false, 0.0, 0.0}, {false, false, 9.0, 1e-6}, {false, true, 2.0, 0.0}};
    const std::vector<Standing> b(a.rbegin(), a.rend());
    const auto forward = rank(a, {}), backward = rank(b, {});
    ASSERT_EQ(forward.size(), 4u);
    for (std::size_t i = 0; i < 4; ++i) EXPECT_EQ(forward[i].index, 3 - backward[i].index) << i;
}

TEST(Ranking, CostIsWhatWasChosen) {
    PlanResult r;
    r.strokes = 12;
    r.duration = 600.0;
    r.drawn = 9e-5;
    EXPECT_EQ(cost_of(r, Cost::strokes), 12.0);
    EXPECT_EQ(cost_of(r, Cost::time), 600.0);
    EXPECT_EQ(cost_of(r, Cost::fluid), 9e-5);
}

} // namespace
} // namespace clearstroke
