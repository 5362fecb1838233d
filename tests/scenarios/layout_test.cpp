// Shorthands give the circuits they say: who feeds whom, lengths, heights.
#include "models/cavity.hpp"
#include "tests/scenarios/support.hpp"

namespace clearstroke::testing {
namespace {

int circuit_of(const Case& c, const std::string& screw) {
    const auto at = std::ranges::find(c.network.screws, screw, &Screw::name);
    return find_circuits(c.network).of_screw[std::size_t(at - c.network.screws.begin())];
}

double length_to(const Case& c, const std::string& screw) {
    const auto at = std::ranges::find(c.network.screws, screw, &Screw::name);
    return path_length(c.network, {std::size_t(at - c.network.screws.begin())});
}

// The file of the user guide's opening page.
TEST(Layout, TheGuidesExampleIsReadAsWritten) {
    const Case c = usual_case(parse(R"(
title = "Kit roadster, both front calipers renewed"   # the question first
fluid = "DOT 4"
[work]
renewed = ["LF caliper", "RF caliper"]
[master_cylinder]
bore = "7/8 in"
[lines]                                                # along the pipe, hose included; 3/16 in tube unless said
front = { to_tee = "0.5 m", LF = "0.9 m", RF = "1.7 m" }
rear  = { to_tee = "3.2 m", LR = "0.7 m", RR = "1.5 m" }
[calipers]
front = { pistons = 1, bore = "54 mm", screw_at = "12 o'clock" }
rear  = { pistons = 1, bore = "38 mm" }
)"));
    EXPECT_EQ(circuit_of(c, "LF"), circuit_of(c, "RF"));
    EXPECT_EQ(circuit_of(c, "LR"), circuit_of(c, "RR"));
    EXPECT_NE(circuit_of(c, "LF"), circuit_of(c, "LR"));
    EXPECT_NEAR(length_to(c, "LF"), 0.5 + 0.9, 1e-12);
    EXPECT_NEAR(length_to(c, "RR"), 3.2 + 1.5, 1e-12);
    EXPECT_NEAR(line_named(c, "LF hose").length, 0.38, 1e-12);
    EXPECT_TRUE(line_named(c, "LF hose").elastic_hose);
}

TEST(Layout, DiagonalsCross) {
    const Case c = usual_case(read_scenario("scenarios/diagonal_split.toml"));
    EXPECT_EQ(circuit_of(c, "LF"), circuit_of(c, "RR"));
    EXPECT_EQ(circuit_of(c, "RF"), circuit_of(c, "LR"));
    EXPECT_NE(circuit_of(c, "LF"), circuit_of(c, "RF"));
    EXPECT_NEAR(length_to(c, "RR"), 4.4, 1e-12);
}

TEST(Layout, TheRearChamberMayBeThePrimary) {
    const auto fed_by_primary = [](const Case& c, const std::string& screw) {
        return find_circuits(c.network).of_volume[0] == circuit_of(c, screw);
    };
    EXPECT_TRUE(fed_by_primary(usual_case(parse("")), "LF"));
    EXPECT_TRUE(fed_by_primary(usual_case(parse("[master_cylinder]\nprimary_feeds = \"rear\"\n")), "LR"));
}

TEST(Layout, ASingleCylinderFeedsAllWheels) {
    const Case c = usual_case(parse("[master_cylinder]\nkind = \"single\"\n"));
    EXPECT_EQ(find_circuits(c.network).count, 1);
    EXPECT_EQ(c.network.actuators[0].pistons.size(), 1U);
}

TEST(Layout, TwinCylindersHaveTwoReservoirsAndABar) {
    const Case c = usual_case(read_scenario("scenarios/twin_cylinders.toml"));
    EXPECT_EQ(c.network.actuators[0].coupling, Coupling::balance_bar);
    EXPECT_EQ(c.network.reservoirs.size(), 2U);
    EXPECT_NEAR(c.network.actuators[0].pistons[1].area / c.network.actuators[0].pistons[0].area, 1.21, 1e-9);
}

TEST(Layout, ATeeOnTheCylinderIsTwoOutlets) {
    const Case c = usual_case(parse("[lines]\nfront = { to_tee = \"0 m\", LF = \"0.9 m\" }\n"));
    EXPECT_NEAR(length_to(c, "LF"), 0.9, 1e-12);
    EXPECT_EQ(std::ranges::find(c.network.junctions, "front tee", &Junction::name),
              c.network.junctions.end());
}

TEST(Layout, ALiveAxleHasOneHoseBeforeItsTee) {
    const Case c = usual_case(read_scenario("scenarios/rear_tee.toml"));
    EXPECT_TRUE(line_named(c, "rear hose").elastic_hose);
    EXPECT_NEAR(line_named(c, "rear pipe").length + line_named(c, "rear hose").length, 3.0, 1e-12);
    EXPECT_EQ(std::ranges::find(c.network.lines, "LR hose", &Line::name), c.network.lines.end());
    EXPECT_NEAR(length_to(c, "LR"), 3.15, 1e-12);
}

TEST(Layout, AWheelsOwnKeyCountsBeforeItsAxles) {
    const Case c = usual_case(parse(
        "[calipers]\nfront = { bore = \"54 mm\" }\nRF = { bore = \"51 mm\", screw_at = \"2 o'clock\" }\n"));
    EXPECT_NEAR(volume_named(c, "LF caliper").cavity.bore_radius, 27e-3, 1e-12);
    EXPECT_NEAR(volume_named(c, "RF caliper").cavity.bore_radius, 25.5e-3, 1e-12);
    EXPECT_NEAR(volume_named(c, "RF caliper").ports[1].place.clock, 2.0 * 0.5235987755982988, 1e-12);
}

TEST(Layout, AUsualScrewStandsThreeMillimetresBelowTheCrown) {
    const Case c = usual_case(parse(""));
    const Volume& v = volume_named(c, "LF caliper");
    const Port& screw = v.ports[1];
    EXPECT_NEAR(opening_height(v.cavity, screw.place) + 0.5 * screw.diameter, v.cavity.bore_radius - 3e-3,
                1e-12);
}

TEST(Layout, FixedCalipersHaveTwoHalvesAndACrossover) {
    const Case c = usual_case(read_scenario("scenarios/two_screw_calipers.toml"));
    EXPECT_EQ(c.network.screws.size(), 8U);
    const Line& crossover = line_named(c, "LF crossover");
    EXPECT_EQ(crossover.place, "LF caliper");
    EXPECT_EQ(volume_named(c, "LF caliper inner").place, "LF caliper");
    // three pistons of 28, 32 and 38 mm, 4 mm gap, 2 mL of passages
    EXPECT_NEAR(volume_named(c, "LF caliper outer").content,
                2e-6 + 4e-3 * 0.25 * 3.14159265358979 * (28 * 28 + 32 * 32 + 38 * 38) * 1e-6, 1e-15);
    EXPECT_LT(crossover.from_height, volume_named(c, "LF caliper inner").height);
}

TEST(Layout, DrumsTakeUpTheirSlackAgainstTheSprings) {
    const Case c = usual_case(read_scenario("scenarios/rear_drums.toml"));
    const ElasticLaw& walls = volume_named(c, "RR wheel cylinder").walls;
    // two pistons of 19.05 mm, 1.2 mm each: 0.684 mL
    EXPECT_NEAR(walls.take_up_volume, 0.684e-6, 0.001e-6);
    EXPECT_LT(walls.take_up_from, walls.take_up_to);
}

TEST(Layout, MotorcycleHasALeverAndAPedal) {
    const Case c = usual_case(read_scenario("scenarios/motorcycle.toml"));
    ASSERT_EQ(c.network.actuators.size(), 2U);
    EXPECT_TRUE(c.network.actuators[0].hand);
    EXPECT_FALSE(c.network.actuators[1].hand);
    EXPECT_EQ(find_circuits(c.network).count, 2);
    const Case one =
        usual_case(parse("layout = \"motorcycle\"\n[motorcycle]\nfront_discs = 1\nrear = false\n"));
    EXPECT_EQ(one.network.screws.size(), 1U);
    EXPECT_EQ(one.network.screws[0].name, "F");
}

TEST(Layout, CylinderSitsAboveTheWheelsAndTheReservoirAboveIt) {
    for (const auto& path : toml_files("scenarios")) {
        const Case c = usual_case(read_scenario(path));
        for (const Actuator& a : c.network.actuators)
            for (const Piston& p : a.pistons) {
                const double bore = c.network.volumes[p.chamber.index].height;
                EXPECT_GT(c.network.reservoirs[p.reservoir.index].floor_height, bore) << path;
            }
    }
}

// What a piston strokes is a thick body, as the shorthand's cylinder; a brake's own piston, pushed by hand, leaves it a brake.
TEST(Layout, AListedCylinderIsAsStiffAsTheShorthandsAndABrakeIsNot) {
    const auto walls = [](const std::string& blind) {
        return volume_named(usual_case(parse(R"(
layout = "front/rear"
[[volumes]]
name = "bore"
content = "8 mL"
height = "0.7 m"
bore = "19 mm"
ports = [{ name = "outlet", at = "3 o'clock" }, { name = "feed", at = "12 o'clock" }]
[[pipes]]
name = "branch"
length = "1 m"
from = "bore:outlet"
to = "front tee"
[[actuators]]
name = "second"
kind = "single"
[[actuators.pistons]]
chamber = "bore"
stroke = "20 mm"
)" + blind)),
                            "bore")
            .walls;
    };
    const ElasticLaw cylinder = walls("opening = \"feed\"\nreservoir = \"reservoir\"\n"),
                     brake = walls("blind = true\n");
    const Case car = usual_case(parse(""));
    const Volume& primary = volume_named(car, "primary chamber");
    EXPECT_NEAR(cylinder.compliance / 8e-6, primary.walls.compliance / primary.content, 1e-22);
    EXPECT_EQ(cylinder.settling_volume, 0.0);
    EXPECT_NEAR(brake.compliance, 5e-11 * 0.25 * 3.14159265358979 * 19e-3 * 19e-3, 1e-22); // 5 um/bar
    EXPECT_GT(brake.settling_volume, 0.0);
}

TEST(Layout, LengthsMayLeaveTheHoseOut) {
    const Case c = usual_case(
        parse("[lines]\nlengths_include_hose = false\nfront = { to_tee = \"0.5 m\", LF = \"0.9 m\" }\n"));
    EXPECT_NEAR(length_to(c, "LF"), 0.5 + 0.9 + 0.38, 1e-12);
}

} // namespace
} // namespace clearstroke::testing
