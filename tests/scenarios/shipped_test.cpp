// Every shipped scenario is read, holds together, and opens with its question.
#include <sstream>

#include "tests/scenarios/support.hpp"

namespace clearstroke::testing {
namespace {

class Shipped : public ::testing::TestWithParam<std::filesystem::path> {};

TEST_P(Shipped, IsReadAndPassesTheCheckOfTheCore) {
    const Scenario s = read_scenario(GetParam());
    const Case c = usual_case(s);
    EXPECT_NO_THROW(check(c.network, c.contents));
    EXPECT_FALSE(c.procedure.visits.empty());
    EXPECT_FALSE(s.title.empty());
    EXPECT_EQ(c.procedure.visits.size(), c.network.screws.size());
}

TEST_P(Shipped, OpensWithItsQuestionAndSaysWhereItsNumbersComeFrom) {
    const std::string text = text_of(GetParam());
    EXPECT_TRUE(text.starts_with("# Question: ")) << "the first line is the question";
    EXPECT_NE(text.find("# Harbour Lane"), std::string::npos) << "the comment names the setting";
}

TEST_P(Shipped, EveryConditionCanBeSelected) {
    for (const std::string condition :
         {"full", "fluid change", "fluid_change", "little_air", "drained", "dry"}) {
        const Case c = usual_case(read_scenario(GetParam(), std::vector{"condition=" + condition}));
        EXPECT_NO_THROW(check(c.network, c.contents)) << condition;
        double gas = 0.0;
        for (const double g : c.contents.volume_gas) gas += g;
        const bool none = condition == "full" || condition.starts_with("fluid");
        EXPECT_EQ(gas == 0.0, none) << condition;
        EXPECT_EQ(c.contents.fresh_fraction, condition.starts_with("fluid") ? 0.0 : 1.0) << condition;
    }
}

TEST_P(Shipped, LittleAirIsFivePercentOfEachCaliper) {
    const Case c = usual_case(read_scenario(GetParam(), std::vector<std::string>{"condition=little air"}));
    for (std::size_t v = 0; v < c.network.volumes.size(); ++v) {
        bool chamber = false;
        for (const Actuator& a : c.network.actuators)
            for (const Piston& p : a.pistons) chamber = chamber || (!p.blind && p.chamber.index == v);
        const double share = c.contents.volume_gas[v] / c.network.volumes[v].content;
        EXPECT_NEAR(share, chamber ? 0.0 : 0.05, 1e-12) << c.network.volumes[v].name;
    }
    for (const auto& stretches : c.contents.line_gas) EXPECT_TRUE(stretches.empty());
}

TEST_P(Shipped, NoPipeIsSteeperThanUprightUnlessItIsTooShortForItsHeights) {
    const Case c = usual_case(read_scenario(GetParam()));
    for (const Line& line : c.network.lines) {
        if (shortest_length(line) > line.length) continue;
        double at = 0.0, height = line.from_height;
        const auto reach = [&](double fraction, double next) {
            EXPECT_LE(std::abs(next - height), (fraction - at) * line.length * (1.0 + 1e-9))
                << line.name << " up to " << fraction;
            at = fraction;
            height = next;
        };
        for (const HeightPoint& p : line.heights) reach(p.fraction, p.height);
        reach(1.0, line.to_height);
    }
}

std::string test_name(const ::testing::TestParamInfo<std::filesystem::path>& info) {
    return info.param.stem().string();
}

INSTANTIATE_TEST_SUITE_P(Files, Shipped, ::testing::ValuesIn(toml_files("scenarios")), test_name);

TEST(ShippedFiles, AreAllThere) {
    for (const char* name : {"minimal",
                             "front_rear_split",
                             "diagonal_split",
                             "two_screw_calipers",
                             "rear_tee",
                             "rear_tee_far",
                             "front_work_only",
                             "reservoir_ran_dry",
                             "port_below_pocket",
                             "dry_system",
                             "dry_system_unprimed",
                             "twin_cylinders",
                             "rear_drums",
                             "metering_valve",
                             "motorcycle",
                             "hydraulic_clutch",
                             "hand_brake_in_line",
                             "drum_with_two_cylinders",
                             "linked_motorcycle",
                             "trailer_upside_down",
                             "under_floor_cylinder",
                             "light_aircraft",
                             "one_person_four_ways",
                             "fault_car",
                             "clutch_primed_in_place",
                             "kart_two_screws",
                             "foamed_silicone",
                             "clinging_bubbles",
                             "air_out_of_solution",
                             "stuck_piston",
                             "rear_drums_hand_brake_on",
                             "dual_controls",
                             "caliper_driven_cylinder",
                             "anti_lock_shut_part",
                             "propped_pedal"})
        EXPECT_TRUE(
            std::filesystem::exists(std::filesystem::path("scenarios") / (std::string(name) + ".toml")))
            << name;
}

TEST(ShippedFiles, AUsefulFourWheelFileHasAtMostFifteenLines) {
    std::istringstream in(text_of("scenarios/front_rear_split.toml"));
    int lines = 0;
    for (std::string line; std::getline(in, line);)
        if (!line.empty() && line[0] != '#') ++lines;
    EXPECT_LE(lines, 15);
}

TEST(ShippedFiles, TheTwoTeesDifferOnlyInTheRearLine) {
    const auto lines = [](const char* path) {
        std::istringstream in(text_of(path));
        std::vector<std::string> out;
        for (std::string line; std::getline(in, line);)
            if (!line.starts_with('#') && !line.starts_with("title")) out.push_back(line);
        return out;
    };
    const auto near = lines("scenarios/rear_tee.toml"), far = lines("scenarios/rear_tee_far.toml");
    ASSERT_EQ(near.size(), far.size());
    std::vector<std::string> different;
    for (std::size_t i = 0; i < near.size(); ++i)
        if (near[i] != far[i]) different.push_back(near[i]);
    ASSERT_EQ(different.size(), 1U);
    EXPECT_TRUE(different[0].starts_with("rear"));
}

TEST(ShippedFiles, PortBelowPocketHasTheGeometryItSays) {
    const Case c = usual_case(read_scenario("scenarios/port_below_pocket.toml"));
    const Volume& caliper = volume_named(c, "caliper");
    EXPECT_NEAR(caliper.cavity.bore_radius, 27e-3, 1e-12);
    EXPECT_NEAR(caliper.cavity.depth, 10e-3, 1e-12);
    EXPECT_NEAR(caliper.gap_width, 10e-3, 1e-12);
    EXPECT_NEAR(caliper.content, 22.902e-6, 1e-9);
    EXPECT_NEAR(c.network.conditions.temperature, 293.15, 1e-9);
}

TEST(ShippedFiles, TwoScrewCalipersListsSixOrdersOfEightScrews) {
    const Scenario s = read_scenario("scenarios/two_screw_calipers.toml");
    ASSERT_EQ(s.orders.size(), 6U);
    EXPECT_EQ(s.orders[0].name, "farthest wheel first, inner then outer");
    for (const ListedOrder& order : s.orders) {
        std::vector<std::size_t> seen;
        for (const ScrewId screw : order.screws) seen.push_back(screw.index);
        std::ranges::sort(seen);
        EXPECT_EQ(seen, (std::vector<std::size_t>{0, 1, 2, 3, 4, 5, 6, 7}));
    }
}

} // namespace
} // namespace clearstroke::testing
