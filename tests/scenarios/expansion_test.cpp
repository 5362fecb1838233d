// Two levels, one meaning: the explicit form gives the same bits as the file it came from.
#include "tests/scenarios/support.hpp"

namespace clearstroke::testing {
namespace {

class Expansion : public ::testing::TestWithParam<std::filesystem::path> {};

TEST_P(Expansion, GivesTheSameBits) {
    const Scenario s = read_scenario(GetParam());
    const Scenario again = parse_scenario(s.expanded_toml, "expanded.toml");
    EXPECT_EQ(every_bit(usual_case(again)), every_bit(usual_case(s)));
    EXPECT_EQ(again.title, s.title);
    EXPECT_EQ(again.anti_lock, s.anti_lock);
    ASSERT_EQ(again.orders.size(), s.orders.size());
    for (std::size_t i = 0; i < s.orders.size(); ++i) EXPECT_EQ(again.orders[i].screws, s.orders[i].screws);
}

TEST_P(Expansion, IsAFixedPoint) {
    const Scenario once = parse_scenario(read_scenario(GetParam()).expanded_toml, "expanded.toml");
    EXPECT_EQ(parse_scenario(once.expanded_toml, "expanded.toml").expanded_toml, once.expanded_toml);
}

TEST_P(Expansion, KeepsTheBitsUnderEveryConditionAndMethod) {
    for (const char* change : {"condition=dry", "condition=drained", "condition=little air",
                               "condition=fluid change", "method=gravity", "method=two people",
                               "conditions.altitude=4000 m", "fluid_properties.viscosity_factor=1.1",
                               "conditions.water=3 %", "conditions.temperature=-10 degC, -12 to -8 degC"}) {
        const Scenario s = read_scenario(GetParam(), std::vector<std::string>{change});
        const Scenario again = parse_scenario(s.expanded_toml, "expanded.toml");
        EXPECT_EQ(every_bit(usual_case(again)), every_bit(usual_case(s))) << change;
    }
}

TEST(ExpandedForm, KeepsTheSequence) {
    const Scenario s =
        read_scenario("scenarios/two_screw_calipers.toml",
                      std::vector<std::string>{"sequence.together=[\"wheels\"]",
                                               "sequence.first=[\"LF inner\", \"LF outer\"]",
                                               "sequence.last=[\"RR outer\"]",
                                               "sequence.before=[\"LR outer, LR inner, RR inner\"]"});
    const auto id = [&](const char* name) {
        const std::vector<Screw> screws = usual_case(s).network.screws;
        return ScrewId{std::size_t(std::ranges::find(screws, name, &Screw::name) - screws.begin())};
    };
    ASSERT_EQ(s.sequence.together.size(), 4u); // wheels
    for (const auto& group : s.sequence.together) EXPECT_EQ(group.size(), 2u);
    EXPECT_EQ(s.sequence.first, (std::vector<ScrewId>{id("LF inner"), id("LF outer")}));
    EXPECT_EQ(s.sequence.last, (std::vector<ScrewId>{id("RR outer")}));
    EXPECT_EQ(s.sequence.before, (std::vector<std::pair<ScrewId, ScrewId>>{
                                     {id("LR outer"), id("LR inner")}, {id("LR inner"), id("RR inner")}}));
    const Sequence again = parse_scenario(s.expanded_toml, "expanded.toml").sequence;
    EXPECT_EQ(again.together, s.sequence.together);
    EXPECT_EQ(again.first, s.sequence.first);
    EXPECT_EQ(again.last, s.sequence.last);
    EXPECT_EQ(again.before, s.sequence.before);
}

std::string test_name(const ::testing::TestParamInfo<std::filesystem::path>& info) {
    return info.param.stem().string();
}

INSTANTIATE_TEST_SUITE_P(Files, Expansion, ::testing::ValuesIn(toml_files("scenarios")), test_name);

TEST(ExpansionOfActs, KeepsOwnMethodsVisitsAndPreparation) {
    const Scenario s = parse(R"(
method = "own"
[acts]
prepare = ["pitch 5 deg, roll -2 deg", "cap rear pipe", "turn LF caliper to 90 deg", "top up"]
arrive = ["hose end in air", "open 0.25 turns"]
stroke = ["press pedal", "wait 2.5 s", "close", "release", "open LF 1/3 turns", "close LF"]
leave = ["hose end submerged", "uncap rear pipe"]
[[visits]]
screw = "RF"
strokes = 7
before = ["turn RF caliper to 1 rad"]
[[visits]]
screw = "LF"
)");
    const Case c = usual_case(s);
    EXPECT_EQ(c.procedure.method.stroke.size(), 6U);
    ASSERT_EQ(c.procedure.visits.size(), 2U);
    EXPECT_EQ(c.procedure.visits[0].strokes, 7);
    EXPECT_DOUBLE_EQ(std::get<TurnPart>(c.procedure.visits[0].before[0]).roll, 1.0);
    EXPECT_DOUBLE_EQ(*std::get<OpenScrew>(c.procedure.method.stroke[4]).turns, 1.0 / 3.0);
    EXPECT_EQ(every_bit(usual_case(parse(s.expanded_toml))), every_bit(c));
}

TEST(ExpansionOfBands, KeepsTheBandsOfWhatBelongsToNoPart) {
    const Scenario s = parse(""), again = parse(s.expanded_toml);
    for (const char* name : {"model.run_ahead", "model.drawdown", "operator.dwell", "conditions.temperature",
                             "fluid_properties.surface_tension"}) {
        const auto find = [&](const Scenario& of) {
            return *std::ranges::find(of.factory.parameters, name, &Parameter::name);
        };
        EXPECT_EQ(find(again).low, find(s).low) << name;
        EXPECT_EQ(find(again).high, find(s).high) << name;
    }
}

TEST(Mixed, AnEntryWithAKnownNameChangesOnlyWhatItGives) {
    const std::string base = "title = \"x\"\n";
    const Case plain = usual_case(parse(base));
    const Case mixed = usual_case(parse(base + "[volumes.\"LF caliper\"]\nheight = \"0.5 m\"\n"));
    EXPECT_DOUBLE_EQ(volume_named(mixed, "LF caliper").height, 0.5);
    EXPECT_EQ(volume_named(mixed, "LF caliper").content, volume_named(plain, "LF caliper").content);
    EXPECT_EQ(volume_named(mixed, "RF caliper").height, volume_named(plain, "RF caliper").height);
    EXPECT_EQ(mixed.network.volumes.size(), plain.network.volumes.size());
}

TEST(Mixed, AStubMayBeAddedToAShorthand) {
    const Case c = usual_case(parse(R"(
[[pipes]]
name = "switch stub"
length = "60 mm"
from = "front tee"
to = "blank"
to_height = "0.56 m"
gas = [{ begin = 0.2, end = 1 }]
)"));
    const Line& stub = line_named(c, "switch stub");
    EXPECT_TRUE(std::holds_alternative<Blank>(stub.to));
    EXPECT_GT(stub.to_height, stub.from_height);
    EXPECT_EQ(stretches_in(c, "switch stub").size(), 1U);
    EXPECT_NO_THROW(check(c.network, c.contents));
}

TEST(Overrides, ReachEveryKindOfKey) {
    const std::vector<std::string> set{
        "calipers.front.bore=57 mm",     "stop.clear_strokes=3", "model.run_ahead=0.5",
        "work.renewed=[\"RR caliper\"]", "method=gravity",       "volumes.\"LF caliper\".gas=2 mL",
        "work.cylinder_primed=false"};
    const Case c = usual_case(parse("[calipers]\nfront = { bore = \"54 mm\" }\n", set));
    EXPECT_NEAR(volume_named(c, "LF caliper").cavity.bore_radius, 28.5e-3, 1e-12);
    EXPECT_EQ(c.procedure.stop.clear_strokes, 3);
    EXPECT_EQ(c.network.conditions.run_ahead_scale, 0.5);
    EXPECT_GT(gas_in(c, "RR caliper"), 0.0);
    EXPECT_EQ(c.procedure.method.name, "gravity");
    EXPECT_NEAR(gas_in(c, "LF caliper"), 2e-6, 1e-18);
    EXPECT_EQ(fault_of("", {"calipers.front.bore=57"}),
              "--set:1:1: calipers.front.bore: 57 has no unit; allowed: 2 mm to 200 mm, as text with its "
              "unit such as \"54 mm\"");
}

} // namespace
} // namespace clearstroke::testing
