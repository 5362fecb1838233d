// Starter files are scenarios: every combination of choices is read.
#include "scenarios/starter.hpp"

#include <fstream>
#include <iterator>

#include "tests/scenarios/support.hpp"

namespace clearstroke::testing {
namespace {

TEST(Starter, EveryLayoutMethodAndConditionIsRead) {
    for (const char* layout : {"front/rear", "diagonal", "motorcycle", "clutch", "explicit"})
        for (const char* method : {"", "one person", "two people", "gravity"})
            for (const char* condition : {"", "dry", "fluid change"}) {
                StarterChoices choices;
                choices.layout = layout;
                choices.method = method;
                choices.condition = condition;
                const std::string text = starter_scenario(choices);
                EXPECT_EQ(fault_of(text), "") << text;
                const Case c = usual_case(parse(text));
                EXPECT_NO_THROW(check(c.network, c.contents));
            }
}

/// What stands between "```toml" and "```" in the user guide and begins with a title of its own.
std::string layout_in_the_guide() {
    std::ifstream page("docs/guide.md");
    const std::string text{std::istreambuf_iterator<char>(page), {}};
    const auto begin = text.find("title = \"Three-wheeler");
    return text.substr(begin, text.find("```", begin) - begin);
}

TEST(Guide, TheLayoutInTheExplicitFormIsRead) {
    const std::string text = layout_in_the_guide();
    ASSERT_EQ(fault_of(text), "");
    const Case c = usual_case(parse(text));
    EXPECT_NO_THROW(check(c.network, c.contents));
    EXPECT_EQ(c.network.screws.size(), 3U);
    EXPECT_EQ(find_circuits(c.network).count, 2);
    EXPECT_GT(gas_in(c, "rear caliper"), 0.0);
}

TEST(Starter, PutsTheWorkAndTheTitleIn) {
    StarterChoices choices;
    choices.title = "A \"quoted\" question";
    choices.fluid = "DOT 5.1";
    choices.renewed = {"LF caliper"};
    choices.opened = {"rear tee"};
    const Scenario s = parse(starter_scenario(choices));
    EXPECT_EQ(s.title, "A \"quoted\" question");
    const Case c = usual_case(s);
    EXPECT_EQ(c.network.conditions.fluid.name, "DOT 5.1");
    EXPECT_GT(gas_in(c, "LF caliper"), 0.0);
    EXPECT_FALSE(stretches_in(c, "LR pipe").empty());
}

TEST(Starter, RefusesWhatTheReaderWouldRefuse) {
    StarterChoices choices;
    choices.layout = "sideways";
    EXPECT_THROW((void)starter_scenario(choices), std::invalid_argument);
    choices = {};
    choices.fluid = "water";
    EXPECT_THROW((void)starter_scenario(choices), std::invalid_argument);
}

TEST(Starter, TellsTheQuantitiesItStates) {
    const std::string text = starter_scenario({});
    const std::vector<StarterValue> values = values_of_starter(text);
    ASSERT_FALSE(values.empty());
    EXPECT_EQ(values.front().path, "master_cylinder.bore");
    EXPECT_EQ(values[1].path, "lines.front.to_tee");
    for (const StarterValue& v : values) EXPECT_EQ(text.substr(v.at, v.value.size()), v.value) << v.path;
}

} // namespace
} // namespace clearstroke::testing
