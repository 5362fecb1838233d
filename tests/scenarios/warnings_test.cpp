// What is told before anything is run.
#include "tests/scenarios/support.hpp"

namespace clearstroke::testing {
namespace {

std::string warnings_of(const std::string& text) {
    std::string out;
    for (const std::string& w : parse(text).warnings) out += w + "\n";
    return out;
}
bool warns(const std::string& text, const std::string& of) {
    return warnings_of(text).find(of) != std::string::npos;
}

TEST(WarningsOfWork, AMeteringValveBlocksATankOrGravityUnlessHeldOpen) {
    const std::string valve = "[pipes.\"front pipe\"]\nvalve = \"metering\"\nvalve_hold_off = \"6 bar\"\n";
    EXPECT_TRUE(warns("method = \"reservoir pressure\"\n" + valve, "metering valve of front pipe"));
    EXPECT_TRUE(warns("method = \"gravity\"\n" + valve, "metering valve of front pipe"));
    EXPECT_FALSE(warns(valve, "metering"));
    EXPECT_FALSE(
        warns("method = \"gravity\"\n[acts]\nprepare = [\"hold open front pipe\"]\n" + valve, "metering"));
    EXPECT_TRUE(warns("[pipes.\"front pipe\"]\nvalve = \"shut\"\n", "is shut"));
}

// Acts of a method of one's own stay in the file while another method is tried on it.
TEST(WarningsOfWork, ActsOfAnOwnMethodAreIdleUnderAnother) {
    const std::string acts = "[acts]\nstroke = [\"press\", \"release\"]\n";
    EXPECT_TRUE(warns("method = \"gravity\"\n" + acts, "acts.stroke is not used"));
    EXPECT_FALSE(warns("method = \"own\"\n" + acts, "acts."));
}

TEST(WarningsOfWork, ALoopAboveBothEndsIsNamedWithItsHeight) {
    const std::string loop = "[pipes.\"front pipe\"]\nheights = [{ at = 0.5, height = \"1.5 m\" }]\n";
    EXPECT_TRUE(warns(loop, "front pipe has a loop"));
    EXPECT_FALSE(warns("", "loop"));
}

// A pipe is no shorter than it climbs; the usual car's are not, and a tee half a metre down is not reached in 5 cm.
TEST(WarningsOfWork, APipeShorterThanItsHeightsNeed) {
    EXPECT_TRUE(warns("[lines]\nfront = { to_tee = \"0.05 m\" }\n",
                      "front pipe is 0.05 m long, but its heights need 0.25 m (from 0.75 to 0.50 m"));
    EXPECT_TRUE(warns("[pipes.\"rear pipe\"]\nheights = [{ at = 0.1, height = \"0.1 m\" }]\n",
                      "rear pipe is 3.20 m long, but its heights need 6.50 m"));
    EXPECT_FALSE(warns("", "but its heights need"));
}

// 49 CFR 571.116 S5.1.1 and S5.1.2 [secondary]: DOT 4 boils from 230 degC on when dry and from 155 degC on with 3.7 % of water.
TEST(WarningsOfWork, HowFarTheHottestFluidIsFromBoiling) {
    EXPECT_TRUE(warns("[conditions]\nhottest = \"140 degC\"\nwater = \"2 %\"\n", "boils from 155 degC on"));
    EXPECT_TRUE(
        warns("[conditions]\nhottest = \"140 degC\"\nwater = \"2 %\"\n", "15 degC above the hottest"));
    EXPECT_TRUE(warns("[conditions]\nhottest = \"180 degC\"\n", "25 degC BELOW"));
    EXPECT_TRUE(warns("[conditions]\nhottest = \"180 degC\"\nwater = \"0 %\"\n", "boils from 230 degC on"));
    EXPECT_TRUE(warns("[conditions]\nwater = \"5 %\"\n", "no boiling point is vouched for"));
    EXPECT_FALSE(warns("", "boil"));
}

TEST(WarningsOfWork, GradesOfOneKindMayFollowEachOther) {
    EXPECT_NO_THROW((void)parse("fluid = \"DOT 5.1\"\nfluid_before = \"DOT 3\"\n"));
    EXPECT_THROW((void)parse("fluid = \"DOT 4\"\nfluid_before = \"mineral oil\"\n"), ScenarioError);
}

TEST(WarningsOfWork, AReservoirThatOneStrokeEmpties) {
    EXPECT_TRUE(warns("[reservoir]\ncapacity = \"15 mL\"\n", "one full stroke takes"));
    EXPECT_FALSE(warns("", "one full stroke takes"));
}

// 14 mL above the outlets, where 1 bar through a half-open screw sends several mL a second; gravity has some 30 mbar.
TEST(WarningsOfWork, ALookThatEmptiesTheReservoir) {
    const std::string small = "[reservoir]\ncapacity = \"40 mL\"\n";
    EXPECT_TRUE(warns("method = \"reservoir pressure\"\n" + small, "a look of 10 s at"));
    EXPECT_FALSE(
        warns("method = \"reservoir pressure\"\n[operator]\nwatch = \"1 s\"\n" + small, "a look of"));
    EXPECT_FALSE(warns("method = \"gravity\"\n", "a look of"));
}

// 8 mL of clear hose (5 mm, 0.4 m), two strokes of 6 mL, and dry pipe and caliper: more than 30 mL, less than 200 mL.
TEST(WarningsOfWork, AVisitThatTakesMoreThanTheReservoirHolds) {
    const std::string dry = "condition = \"dry\"\n";
    EXPECT_TRUE(warns(dry + "[reservoir]\ncapacity = \"50 mL\"\n", "a visit to RR takes at least"));
    EXPECT_FALSE(warns(dry, "a visit to"));
    EXPECT_FALSE(warns("[reservoir]\ncapacity = \"50 mL\"\n", "a visit to"));
}

TEST(WarningsOfWork, GravityFromAReservoirBelowTheScrews) {
    EXPECT_TRUE(warns("method = \"gravity\"\n[reservoir]\nabove_cylinder = \"-600 mm\"\n",
                      "nothing flows there by itself"));
    EXPECT_FALSE(warns("method = \"gravity\"\n", "by itself: nothing"));
}

TEST(WarningsOfWork, WhatAViolentOpeningLeavesOut) {
    EXPECT_TRUE(warns("method = \"pump and hold\"\n", "the fluid's inertia, which is left out"));
    EXPECT_FALSE(warns("method = \"two people\"\n", "inertia"));
    EXPECT_FALSE(warns("method = \"pump and hold\"\n[operator]\nforce_limit = \"60 N\"\n", "inertia"));
}

TEST(WarningsOfWork, GasThatGravityCannotWaitFor) {
    const std::string drained = "condition = \"drained\"\n";
    EXPECT_TRUE(warns("method = \"gravity\"\n" + drained, "an hour by itself"));
    EXPECT_FALSE(warns(drained, "an hour by itself"));
    EXPECT_FALSE(warns("method = \"gravity\"\ncondition = \"full\"\n", "an hour by itself"));
}

} // namespace
} // namespace clearstroke::testing
