// Work done -> where air stands. The amounts are common practice and ours; what is tested is that the stated
// rule of the key reference is what happens.
#include <numbers>

#include "tests/scenarios/support.hpp"

namespace clearstroke::testing {
namespace {

double total_gas(const Case& c) {
    double gas = 0.0;
    for (const double g : c.contents.volume_gas) gas += g;
    for (std::size_t l = 0; l < c.network.lines.size(); ++l)
        for (const GasStretch& s : c.contents.line_gas[l])
            gas += (s.end - s.begin) * c.network.lines[l].length * 0.25 * std::numbers::pi *
                   c.network.lines[l].bore * c.network.lines[l].bore;
    return gas;
}

/// The usual case with the parameters of a group at one end of their bands.
Case at_end(const Scenario& s, const std::string& group, bool high) {
    std::vector<double> values = usual_values(s.factory);
    for (std::size_t i = 0; i < values.size(); ++i) {
        const Parameter& p = s.factory.parameters[i];
        if (p.group == group) values[i] = high ? p.high : p.low;
    }
    return s.factory.make(values);
}

TEST(StartingAir, NothingDoneLeavesNoAir) { EXPECT_EQ(total_gas(usual_case(parse(""))), 0.0); }

TEST(StartingAir, ARenewedCaliperHoldsSixtyPercentAndItsHoseDrainsBesideIt) {
    const Case c = usual_case(parse("[work]\nrenewed = [\"LF caliper\"]\n"));
    EXPECT_NEAR(gas_in(c, "LF caliper") / volume_named(c, "LF caliper").content, 0.6, 1e-12);
    EXPECT_EQ(gas_in(c, "RF caliper"), 0.0);
    ASSERT_EQ(stretches_in(c, "LF hose").size(), 1U);
    const GasStretch s = stretches_in(c, "LF hose")[0];
    EXPECT_NEAR((s.end - s.begin) * line_named(c, "LF hose").length, 0.15, 1e-12);
    EXPECT_EQ(s.end, 1.0) << "at the caliper's end";
    EXPECT_TRUE(stretches_in(c, "LF pipe").empty());
}

TEST(StartingAir, AmountsGrowFromLowToHigh) {
    for (const char* work :
         {"renewed = [\"LF caliper\"]", "opened = [\"rear tee\"]", "renewed = [\"all hoses\"]",
          "reservoir_ran_dry = true", "renewed = [\"master cylinder\"]"}) {
        const Scenario s = parse(std::string("[work]\n") + work + "\n");
        const double low = total_gas(at_end(s, "starting air", false)), usual = total_gas(usual_case(s)),
                     high = total_gas(at_end(s, "starting air", true));
        EXPECT_LT(low, usual) << work;
        EXPECT_LT(usual, high) << work;
    }
}

TEST(StartingAir, IsReportedByPlaceWithItsBand) {
    const Scenario s = parse("[work]\nrenewed = [\"LF caliper\"]\n");
    const auto at = std::ranges::find(s.assumptions, "work.air.LF caliper", &Assumption::key);
    ASSERT_NE(at, s.assumptions.end());
    // 54 mm piston, 4 mm gap, 2 mL passages: 11.16 mL; 60 % of it, 30 % to all
    EXPECT_EQ(at->value, "6.697 mL");
    EXPECT_EQ(at->band, "3.348 to 11.16 mL");
}

TEST(StartingAir, AirMayHaveMovedOnAlongItsLine) {
    const Scenario s = parse("[work]\nopened = [\"front tee\"]\n");
    const GasStretch here = stretches_in(usual_case(s), "LF pipe")[0];
    const GasStretch moved = stretches_in(at_end(s, "place of air", true), "LF pipe")[0];
    EXPECT_EQ(here.begin, 0.0);
    EXPECT_GT(moved.begin, 0.0);
    EXPECT_NEAR(moved.end - moved.begin, here.end - here.begin, 1e-12);
    EXPECT_LE(moved.end, 1.0);
}

TEST(StartingAir, AStatedVolumeReplacesTheDerivedOne) {
    const Case c =
        usual_case(parse("[work]\nrenewed = [\"LF caliper\"]\nair = { \"LF caliper\" = \"3 mL\" }\n"));
    EXPECT_NEAR(gas_in(c, "LF caliper"), 3e-6, 1e-18);
    const Case line = usual_case(parse("[work]\nair = { \"RF hose\" = \"1 mL\" }\n"));
    EXPECT_NEAR(total_gas(line), 1e-6, 1e-15);
}

TEST(StartingAir, GroupsNameSeveralParts) {
    const Case c = usual_case(parse("[work]\nrenewed = [\"front hoses\"]\n"));
    EXPECT_FALSE(stretches_in(c, "LF hose").empty());
    EXPECT_FALSE(stretches_in(c, "RF hose").empty());
    EXPECT_TRUE(stretches_in(c, "LR hose").empty());
    EXPECT_NEAR(gas_in(c, "LF caliper") / volume_named(c, "LF caliper").content, 0.05, 1e-12);
    EXPECT_EQ(gas_in(c, "LR caliper"), 0.0);
}

TEST(StartingAir, FrontWorkLeavesTheRearCircuitFull) {
    const Case c = usual_case(read_scenario("scenarios/front_work_only.toml"));
    for (const char* part : {"LR caliper", "RR caliper", "secondary chamber"})
        EXPECT_EQ(gas_in(c, part), 0.0) << part;
    for (const char* part : {"rear pipe", "LR pipe", "LR hose"})
        EXPECT_TRUE(stretches_in(c, part).empty()) << part;
}

TEST(StartingAir, ACylinderIsPrimedOrNot) {
    const Case primed = usual_case(read_scenario("scenarios/dry_system.toml"));
    const Case dry = usual_case(read_scenario("scenarios/dry_system_unprimed.toml"));
    const double content = volume_named(primed, "primary chamber").content;
    EXPECT_NEAR(gas_in(primed, "primary chamber") / content, 0.03, 1e-12);
    EXPECT_NEAR(gas_in(dry, "primary chamber") / content, 0.9, 1e-12);
    EXPECT_EQ(gas_in(primed, "LF caliper"), volume_named(primed, "LF caliper").content);
    EXPECT_EQ(stretches_in(primed, "rear pipe")[0].begin, 0.0);
    EXPECT_EQ(stretches_in(primed, "rear pipe")[0].end, 1.0);
}

TEST(FluidChange, StartsWithOldFluidAndLooksForTheNewColour) {
    const Case c = usual_case(parse("[work]\nfluid_change = true\n"));
    EXPECT_EQ(c.contents.fresh_fraction, 0.0);
    EXPECT_EQ(c.contents.reservoir_fresh_fraction, 1.0);
    EXPECT_EQ(c.procedure.stop.new_colour, 0.9);
    EXPECT_EQ(usual_case(parse("")).procedure.stop.new_colour, 0.0);
}

TEST(Condition, ReplacesTheWorkAndSaysSo) {
    const Scenario s = parse("condition = \"full\"\n[work]\nrenewed = [\"LF caliper\"]\n");
    EXPECT_EQ(total_gas(usual_case(s)), 0.0);
    EXPECT_NE(std::ranges::find(s.warnings, "condition = \"full\" replaces what [work] says about air"),
              s.warnings.end());
}

} // namespace
} // namespace clearstroke::testing
