// Booster and faults: set by the names of parts, kept by the explicit form.
#include "tests/scenarios/support.hpp"

namespace clearstroke::testing {
namespace {

constexpr const char* faulty = R"(
[booster]
gain = 4
[faults]
blocked_ports = ["secondary chamber"]
[faults.bypass]
"primary chamber" = "0.001 mL/s/bar"
[faults.leak]
"LR caliper" = "0.002 mL/s/bar"
[faults.air_entry]
"RR caliper" = "0.5 mL/s/bar"
[faults.knocked_back]
"LF caliper" = "1.2 mL"
[faults.stuck]
"RR caliper" = 0.25
[faults.swollen]
"RF hose" = 4
)";

const Volume& volume(const Case& c, const std::string& name) {
    return *std::ranges::find(c.network.volumes, name, &Volume::name);
}
const Line& line(const Case& c, const std::string& name) {
    return *std::ranges::find(c.network.lines, name, &Line::name);
}

TEST(Faults, StandInTheirPartsInSI) {
    const Case c = usual_case(parse(faulty)), sound = usual_case(parse(""));
    const Actuator& a = c.network.actuators[0];
    EXPECT_EQ(a.booster.gain, 4.0);
    EXPECT_EQ(sound.network.actuators[0].booster.gain, 1.0);
    EXPECT_NEAR(a.pistons[0].bypass, 1e-14, 1e-20); // 0.001 mL/s/bar = 1e-9 m^3/s over 1e5 Pa
    EXPECT_TRUE(a.pistons[1].port_blocked);
    EXPECT_NEAR(volume(c, "LR caliper").leak, 2e-14, 1e-20);
    EXPECT_NEAR(volume(c, "RR caliper").air_entry, 5e-12, 1e-18);
    EXPECT_NEAR(volume(c, "LF caliper").knocked_back, 1.2e-6, 1e-15);
    const ElasticLaw stuck = volume(c, "RR caliper").walls, free = volume(sound, "RR caliper").walls;
    EXPECT_EQ(stuck.compliance, 0.75 * free.compliance);
    EXPECT_EQ(stuck.settling_volume, 0.75 * free.settling_volume);
    EXPECT_EQ(stuck.play, free.play); // a pressure, not a volume
    EXPECT_NEAR(line(c, "RF hose").walls.compliance, 4.0 * line(sound, "RF hose").walls.compliance, 1e-20);
}

TEST(Faults, TheExplicitFormKeepsThem) {
    const Scenario s = parse(faulty);
    EXPECT_EQ(every_bit(usual_case(parse_scenario(s.expanded_toml, "expanded.toml"))),
              every_bit(usual_case(s)));
}

TEST(Faults, AnUnknownPartAndMoreThanAllIsRefused) {
    for (const char* text :
         {"[faults.leak]\n\"LX caliper\" = \"0.1 mL/s/bar\"\n",
          "[faults.bypass]\n\"LF caliper\" = \"0.1 mL/s/bar\"\n", "[faults.swollen]\n\"LF\" = 3\n",
          "[faults.stuck]\n\"RF hose\" = 0.5\n", "[faults.stuck]\n\"RF caliper\" = 1.1\n",
          "[faults.stuck]\n\"primary chamber\" = 0.5\n",
          "[faults.knocked_back]\n\"primary chamber\" = \"1 mL\"\n",
          "[faults]\nblocked_ports = [\"rear\"]\n"})
        EXPECT_THROW((void)parse(text), ScenarioError) << text;
}

} // namespace
} // namespace clearstroke::testing
