// Accounts of several screws, cylinders or circuits: which one first, and what one does for the other.
#include "tests/cases/support.hpp"

namespace clearstroke::testing {
namespace {

/// A fixed caliper: inner half 1 with the pipe, outer half 2, crossover at a clock position; a screw on each.
Network two_halves(double crossover) {
    Network n = one_wheel();
    n.volumes[1] = caliper("inner half", 38e-3, 8e-3, 0.30);
    n.volumes.push_back(caliper("outer half", 38e-3, 8e-3, 0.30));
    n.lines.push_back(pipe("crossover", 0.2, 3.3e-3, add_port(n, 1, "crossover", crossover),
                           add_port(n, 2, "crossover", crossover), 2));
    n.screws = {screw("inner", {1}), screw("outer", {2})};
    return n;
}

/// A drum with two cylinders: lower 1 with the pipe, upper 2, link pipe out of the lower one's top.
Network two_cylinders() {
    Network n = one_wheel();
    n.volumes[1] = caliper("lower cylinder", 22e-3, 12e-3, 0.25);
    n.volumes.push_back(caliper("upper cylinder", 22e-3, 12e-3, 0.45));
    n.volumes[1].gap_width = n.volumes[2].gap_width = 0.0;
    n.lines.push_back(
        pipe("link", 0.3, 3.3e-3, add_port(n, 1, "link", 0.0), add_port(n, 2, "link", half_turn), 3));
    n.screws = {screw("lower", {1}), screw("upper", {2})};
    return n;
}

Contents air_in_both(const Network& n, double gas) {
    Contents c = full(n);
    c.volume_gas[1] = c.volume_gas[2] = gas;
    return c;
}

// Account C23: of a fixed caliper fed at its inner half, and of a drum fed at its lower cylinder, the fed part first is said to need at
// most the strokes of the reverse. Found: the orders differ by one stroke at most, and the fed part first may be the longer.
TEST(AccountC23, TheOrderOfTwoScrewsOfAWheelMattersByAStrokeAtMost) {
    for (const Network& n : {two_halves(half_turn), two_halves(0.0), two_cylinders()}) {
        const Contents c = air_in_both(n, 1.5e-6);
        const int fed_first = bleed_in_order(n, c, {0, 1}).strokes,
                  fed_last = bleed_in_order(n, c, {1, 0}).strokes;
        EXPECT_LE(std::abs(fed_first - fed_last), 1) << n.volumes[1].name;
    }
}

// Account C24: two circuits in one caliper: the screw of one purges nothing of the other.
TEST(AccountC24, AScrewPurgesItsOwnCircuitOnly) {
    Network n = one_wheel();
    n.volumes.push_back(caliper("other pistons", 38e-3, 8e-3, 0.30));
    n.volumes.push_back(chamber("other chamber", 16e-3, 40e-3, 0.75));
    n.volumes[2].place = n.volumes[1].place;
    n.lines.push_back(pipe("other pipe", 1.5, 3.3e-3, PortRef{{3}, 1}, PortRef{{2}, 0}));
    Actuator other = n.actuators[0];
    other.name = "other pedal";
    other.pistons[0] = piston({3}, 16e-3, 30e-3, 80.0);
    n.actuators.push_back(other);
    n.screws.push_back(screw("other", {2}));
    Contents c = full(n);
    c.volume_gas[1] = c.volume_gas[2] = 2e-6;
    Job job(n, c);
    EXPECT_NEAR(job.bleed(8).air_of(2), 2e-6, 1e-12);
    EXPECT_LT(job.air_of(1), 0.1e-6);
    EXPECT_LT(job.bleed(8, 1).air(), 0.2e-6);
}

// Account C14: a second cylinder pushes fluid back to the first reservoir only where both feed the same chamber.
TEST(AccountC14, TheOtherCylinderPushesFluidBackOnlyThroughACommonChamber) {
    const auto returned = [](bool common) {
        Network n = one_wheel();
        n.volumes.push_back(caliper("other pistons", 38e-3, 8e-3, 0.30));
        n.volumes.push_back(chamber("rear chamber", 16e-3, 40e-3, 0.45));
        n.reservoirs.push_back(reservoir(0.55));
        n.reservoirs[1].name = "rear reservoir";
        const PortRef into = add_port(n, common ? 1 : 2, "link", half_turn);
        n.lines.push_back(pipe("link", 1.5, 3.3e-3, PortRef{{3}, 1}, into));
        Actuator rear = n.actuators[0];
        rear.name = "rear pedal";
        rear.pistons[0] = piston({3}, 16e-3, 30e-3, 80.0);
        rear.pistons[0].reservoir = {1};
        n.actuators.push_back(rear);
        Job job(n);
        const double before = job.state.reservoirs[0].liquid[0];
        for (int i = 0; i < 3; ++i)
            job.act({Press{ActuatorId{1}, {}, {}, 3.0}, Release{ActuatorId{1}, {}, 3.0}});
        return job.state.reservoirs[0].liquid[0] - before;
    };
    EXPECT_GT(returned(true), 3e-6);
    EXPECT_NEAR(returned(false), 0.0, 1e-9);
}

// Account C08: a dead end that points up keeps its air through any bleed (found: all but 2 % a stroke, which its breathing gives away); its union cracked gives it in a few strokes. So does the upper
// of two cylinders whose screw is on the lower.
TEST(AccountC08, ADeadEndGivesItsAirAtItsUnionOnly) {
    Network n = one_wheel();
    n.junctions = {{"switch tee", 0.5, 0.0, 0.0}};
    n.volumes.push_back(caliper("switch", 8e-3, 12e-3, 0.60));
    n.lines = {pipe("feed", 0.6, 3.3e-3, PortRef{{0}, 1}, JunctionId{0}),
               pipe("on", 1.4, 3.3e-3, JunctionId{0}, PortRef{{1}, 0}),
               pipe("stub", 0.08, 3.3e-3, JunctionId{0}, add_port(n, 2, "below", half_turn), 2)};
    n.screws.push_back(screw("switch union", {2}));
    Job job(n, air_in(n, 2, 0.5e-6));
    EXPECT_GT(job.bleed(10).air_of(2), 0.4e-6);
    EXPECT_LT(job.bleed(3, 1).air(), 0.02e-6);
    const Network drum = two_cylinders();
    Job upper(drum, air_in(drum, 2, 2e-6));
    const double kept = upper.bleed(10).air_of(2);
    EXPECT_GT(kept, 1.5e-6);
    EXPECT_LT(upper.bleed(3, 1).air(), 0.1 * kept);
}

// Account C42: opened under stored pressure the flow is higher than with the screws open during the stroke. Gas held at the walls
// stays in both where it has no grip that flow could overcome (bubbles_test.cpp has one).
TEST(AccountC42, StoredPressureGivesTheHigherFlowAndFreesNothingFromTheWalls) {
    const Network n = two_halves(half_turn);
    Contents held = air_in(n, 2, 0.5e-6);
    held.volume_held = {0.0, 0.0, 0.4e-6};
    const auto bled = [&](const Method& method) {
        Job job(n, held);
        job.plan.method = method;
        job.bleed(4, 1);
        return std::pair{job.last.strokes.back().peak_flow, job.air_of(2)};
    };
    const auto open = bled(several_screws()), stored = bled(pump_and_hold());
    EXPECT_GT(stored.first, 2.0 * open.first);
    EXPECT_GT(stored.second, 0.35e-6);
    EXPECT_GT(open.second, 0.35e-6);
}

// Account C44: primed in place, a bore is cleared only while the end of its loop stays under fluid; in air each return sucks some back.
TEST(AccountC44, ALoopMustEndUnderFluid) {
    const auto left = [](bool submerged) {
        Network n = one_wheel();
        n.catch_hose.submerged = submerged;
        n.catch_hose.length = 0.1;
        n.screws.push_back(screw("outlet", {0}));
        n.screws.back().at = PortRef{{0}, 1};
        n.volumes[0].ports[1].place = {0.0, 0.1, 0.95};
        Job job(n, air_in(n, 0, 0.8 * n.volumes[0].content));
        job.plan.method = prime_in_place();
        return job.bleed(15, 1).air();
    };
    EXPECT_LT(left(true), 0.1e-6);
    EXPECT_GT(left(false), 1e-6);
}

// Account C48: single strokes and pumping before each opening leave the same air after the same fluid, but for what stored pressure
// does.
TEST(AccountC48, PumpingFirstIsWorthItsFluidAndNoMore) {
    const Network n = one_wheel();
    const auto fluid = [&](const Method& method) {
        Job job(n, air_in(n, 1, 6e-6));
        job.plan.method = method;
        double out = 0.0;
        for (int i = 0; i < 30 && job.air() > 0.06e-6; ++i) out += job.bleed(1).last.fluid_discarded;
        return out;
    };
    const double single = fluid(two_people_closed_before_release()), pumped = fluid(pump_and_hold());
    EXPECT_GT(single, 2e-6);
    EXPECT_LT(std::abs(pumped - single), 0.5 * single);
}

// Account C57: twice the content of pipe and caliper leaves less than 15 % of the old fluid; once leaves more.
TEST(AccountC57, TwiceTheContentLeavesLittleOldFluid) {
    const auto old = [](double contents_passed) {
        const Network n = one_wheel();
        Contents c = full(n);
        c.fresh_fraction = 0.0;
        Job job(n, c);
        const double content = n.volumes[1].content + 2.0 * pi * 0.25 * 3.3e-3 * 3.3e-3;
        for (double out = 0.0; out < contents_passed * content;) out += job.bleed(1).last.fluid_discarded;
        const double caliper = job.sim.fresh_of_volume(job.state)[1],
                     line = job.sim.fresh_of_line(job.state)[0];
        return 1.0 - (caliper * n.volumes[1].content + line * (content - n.volumes[1].content)) / content;
    };
    EXPECT_LT(old(2.0), 0.15);
    EXPECT_GT(old(1.0), 1.5 * old(2.0));
}

} // namespace
} // namespace clearstroke::testing
