// Extreme but legal inputs are accepted; values just past the range are not.
#include "tests/scenarios/support.hpp"

namespace clearstroke::testing {
namespace {

class Extreme : public ::testing::TestWithParam<const char*> {};

TEST_P(Extreme, IsAcceptedAndHoldsTogether) {
    const Scenario s = parse("title = \"Extreme\"\n", {GetParam()});
    const Case c = usual_case(s);
    EXPECT_NO_THROW(check(c.network, c.contents));
    EXPECT_EQ(every_bit(usual_case(parse(s.expanded_toml))), every_bit(c));
}

INSTANTIATE_TEST_SUITE_P(Legal, Extreme,
                         ::testing::Values("conditions.temperature=-40 degC", "lines.bore=0.1 mm",
                                           "lines.rear.to_tee=100 m", "conditions.altitude=4000 m",
                                           "condition=full", "condition=dry", "fluid=DOT 5",
                                           "lines.front.LF=0.01 m", "reservoir.capacity=20000 mL",
                                           "model.drawdown=0", "master_cylinder.tilt=90 deg",
                                           "calipers.front.gap=0.05 mm"));

TEST(ExtremeAltitude, LowersTheAmbientPressure) {
    const Case c = usual_case(parse("[conditions]\naltitude = \"4000 m\"\n"));
    // Standard atmosphere at 4000 m: 61.66 kPa (ISO 2533 table, from memory).
    EXPECT_NEAR(c.network.conditions.ambient_pressure, 61.66e3, 30.0);
}

TEST(ExtremeAir, AllAirFillsEveryPart) {
    const Case c = usual_case(parse(
        "condition = \"dry\"\n[work]\ncylinder_primed = false\nair_in_unprimed_cylinder = \"100 %\"\n"));
    for (std::size_t v = 0; v < c.network.volumes.size(); ++v)
        EXPECT_EQ(c.contents.volume_gas[v], c.network.volumes[v].content);
    for (const auto& stretches : c.contents.line_gas) {
        ASSERT_EQ(stretches.size(), 1U);
        EXPECT_EQ(stretches[0].end - stretches[0].begin, 1.0);
    }
}

TEST(ExtremeText, AnEmptyFileIsAScenario) { EXPECT_EQ(parse("").factory.title, "Untitled"); }

TEST(ExtremeFile, ThatIsNotThereIsAFileError) {
    EXPECT_THROW((void)read_scenario("scenarios/no_such_file.toml"), std::filesystem::filesystem_error);
    EXPECT_THROW((void)read_scenario("scenarios"), std::filesystem::filesystem_error);
}

} // namespace
} // namespace clearstroke::testing
