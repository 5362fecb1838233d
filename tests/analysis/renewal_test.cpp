// Fluid for a wanted renewal.
#include "analysis/renewal.hpp"

#include <gtest/gtest.h>

#include "tests/analysis/two_wheels.hpp"

namespace clearstroke {
namespace {

Case with_old_fluid() {
    Case c = small::two_wheels(0.0, 0.0);
    c.contents.fresh_fraction = 0.0;
    c.procedure.stop.most_strokes = 60;
    return c;
}

// A wheel that is stirred all through and fed with new fluid keeps exp(-V/content) of the old, once its pipes have been swept; a laminar
// pipe gives old fluid for some more of its content. So the fluid lies between, and more renewal takes more.
TEST(Renewal, TakesWhatAStirredWheelBehindItsPipesTakes) {
    Case c = with_old_fluid();
    c.network.conditions.stirred = 1.0;
    double before = 0.0;
    for (const double wanted : {0.8, 0.9, 0.95}) {
        const std::vector<RenewalVisit> visits = renew(c, wanted);
        ASSERT_EQ(visits.size(), 2U);
        for (const RenewalVisit& v : visits) EXPECT_GE(v.share, wanted);
        const double stirred = c.network.volumes[1].content * std::log(1.0 / (1.0 - wanted));
        const double pipes = 2.0 * 0.25 * pi * 3.3e-3 * 3.3e-3, chamber = c.network.volumes[0].content;
        EXPECT_GT(visits[0].drawn, stirred);
        EXPECT_LT(visits[0].drawn, stirred + 3.0 * (pipes + chamber));
        EXPECT_GT(visits[0].drawn, before);
        before = visits[0].drawn;
        EXPECT_LT(visits[1].drawn, visits[0].drawn); // trunk and chamber are new by then
    }
}

// One stroke fewer does not do, as the plain run of that many says.
TEST(Renewal, MakesNoStrokeTooMany) {
    Case c = with_old_fluid();
    const std::vector<RenewalVisit> visits = renew(c, 0.9);
    for (const int fewer : {0, 1}) {
        Simulation sim(c.network);
        State s = sim.start(c.contents);
        (void)sim.visit(s, {ScrewId{0}, visits[0].strokes - fewer}, c.procedure);
        EXPECT_EQ(*fresh_at(c.network, "far caliper", sim.fresh_of_volume(s)) >= 0.9, fewer == 0);
    }
    EXPECT_FALSE(fresh_at(c.network, "nowhere", {0.0, 0.0, 0.0}));
}

TEST(Renewal, AsksNothingWhereTheFluidIsNewAndStopsAtTheLimit) {
    EXPECT_TRUE(renew(small::two_wheels(0.0, 0.0), 0.95).empty());
    Case c = with_old_fluid();
    c.procedure.stop.most_strokes = 2;
    const std::vector<RenewalVisit> visits = renew(c, 0.95);
    ASSERT_EQ(visits.size(), 2U);
    EXPECT_EQ(visits[0].strokes, 2);
    EXPECT_LT(visits[0].share, 0.95);
}

} // namespace
} // namespace clearstroke
