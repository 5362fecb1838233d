// Every broken file gives its exact message: file, line, column, key, what is wrong, what is allowed. The
// messages stand in broken/messages.txt, to be read in review as a user interface is.
#include <regex>

#include "tests/scenarios/support.hpp"

namespace clearstroke::testing {
namespace {

const std::filesystem::path folder = "tests/scenarios/broken";

std::vector<ScenarioFault> faults_of(const std::filesystem::path& path) {
    try {
        (void)read_scenario(path);
    } catch (const ScenarioError& error) {
        return error.faults();
    }
    return {};
}

/// Lines of messages.txt about one file.
std::string expected_for(const std::filesystem::path& path) {
    std::istringstream in(text_of(folder / "messages.txt"));
    std::string out;
    for (std::string line; std::getline(in, line);)
        if (line.starts_with(path.generic_string() + ":")) out += (out.empty() ? "" : "\n") + line;
    return out;
}

class Broken : public ::testing::TestWithParam<std::filesystem::path> {};

TEST_P(Broken, GivesItsMessage) {
    const std::string expected = expected_for(GetParam());
    ASSERT_FALSE(expected.empty()) << "messages.txt says nothing about this file";
    try {
        (void)read_scenario(GetParam());
        FAIL() << "the file was accepted";
    } catch (const ScenarioError& error) {
        EXPECT_STREQ(error.what(), expected.c_str());
    }
}

TEST_P(Broken, NamesFileLineKeyAndWhatIsAllowed) {
    const auto faults = faults_of(GetParam());
    ASSERT_FALSE(faults.empty());
    for (const ScenarioFault& f : faults) {
        EXPECT_EQ(f.file, GetParam().generic_string());
        EXPECT_GT(f.line, 0);
        EXPECT_GT(f.column, 0);
        EXPECT_EQ(f.key.empty(),
                  GetParam().stem() == "not_toml" || GetParam().stem() == "table_without_name");
        EXPECT_TRUE(std::regex_search(f.message, std::regex("allowed|known here"))) << f.message;
    }
}

std::string test_name(const ::testing::TestParamInfo<std::filesystem::path>& info) {
    return info.param.stem().string();
}

INSTANTIATE_TEST_SUITE_P(Files, Broken, ::testing::ValuesIn(toml_files(folder)), test_name);

TEST(BrokenFiles, AreAtLeastTwenty) { EXPECT_GE(toml_files(folder).size(), 20U); }

TEST(BrokenFiles, AllFaultsOfAFileAreCollectedInTheOrderOfItsLines) {
    const auto faults = faults_of(folder / "several_faults.toml");
    ASSERT_EQ(faults.size(), 4U);
    for (std::size_t i = 1; i < faults.size(); ++i) EXPECT_LE(faults[i - 1].line, faults[i].line);
}

TEST(BrokenFiles, ConflictsCiteBothPlaces) {
    for (const char* name : {"twin_diagonal", "drums_and_calipers", "altitude_and_pressure",
                             "order_said_twice", "two_names", "hose_longer_than_line"}) {
        const auto path = folder / (std::string(name) + ".toml");
        EXPECT_NE(faults_of(path)[0].message.find(path.generic_string() + ":"), std::string::npos) << name;
    }
}

TEST(BrokenOverrides, NameTheirPlaceOnTheCommandLine) {
    EXPECT_TRUE(fault_of("", {"stop.clear_strokes=3", "no_such_key=1"})
                    .starts_with("--set:2:1: no_such_key: unknown key"));
    EXPECT_EQ(fault_of("", {"condition"}), "--set:1:1: condition: no value; allowed: KEY=VALUE");
    EXPECT_EQ(fault_of("", {"condition=damp"}), "--set:1:1: condition: \"damp\" is not one of the choices; "
                                                "allowed: \"full\", \"little air\", \"fluid change\", "
                                                "\"drained\", \"dry\"");
}

TEST(BrokenActs, EachSaysWhatIsWrong) {
    const auto message = [](const std::string& act) {
        return fault_of("[acts]\nprepare = [\"" + act + "\"]\n");
    };
    for (const auto& [act, wrong] : std::vector<std::pair<std::string, std::string>>{
             {"open QQ", "there is no screw \"QQ\""},
             {"open -1 turns", "\"-1\" is no number of turns"},
             {"press lever", "there is no pedal or lever \"lever\""},
             {"wait long", "\"long\" is no time"},
             {"turn LF caliper", "does not say to which angle"},
             {"turn wheel to 90 deg", "there is no volume \"wheel\""},
             {"turn LF caliper to 3 m", "\"3 m\" is no angle"},
             {"pitch up", "\"pitch up\" has no angle"},
             {"cap QQ", "there is no line \"QQ\""}})
        EXPECT_NE(message(act).find("acts.prepare: " + wrong), std::string::npos) << message(act);
}

TEST(BrokenParts, AreRefusedWithTheSameCare) {
    const std::string gauge =
        "[[volumes]]\nname = \"gauge\"\ncontent = \"2 mL\"\nheight = \"0.5 m\"\nbore = \"8 mm\"\n";
    const auto has = [](const std::string& text, const std::string& wrong) {
        EXPECT_NE(fault_of(text).find(wrong), std::string::npos) << fault_of(text);
    };
    has(gauge + "gas = \"3 mL\"\n", "volumes.gauge.gas: is more than the volume holds; allowed: up to 2 mL");
    has(gauge + "take_up_volume = \"1 mL\"\ntake_up_from = \"5 bar\"\ntake_up_to = \"4 bar\"\n",
        "is not above take_up_from");
    has("[[actuators]]\nname = \"second\"\nkind = \"single\"\n",
        "actuators.second.pistons: has 0 pistons; allowed for its kind: 1");
    has("[[actuators]]\nname = \"second\"\nkind = \"single\"\n[[actuators.pistons]]\nchamber = \"nothing\"\n",
        "there is no volume \"nothing\" for it to stroke");
    has("[[pipes]]\nname = \"x\"\nlength = \"1 m\"\nfrom = \"blank\"\nto = \"blank\"\n",
        "both ends are blank");
    has("[pipes.\"LF pipe\"]\nheights = [{ at = 0.6, height = \"1 m\" }, { at = 0.3, height = \"1 m\" }]\n",
        "rising shares between 0 and 1");
    has("[pipes.\"LF pipe\"]\ngas = [{ begin = 0.6, end = 0.7 }, { begin = 0.3, end = 0.4 }]\n",
        "overlap or are empty");
    has("[[volumes]]\ncontent = \"2 mL\"\n", "volumes.name: missing, or not a name");
    has("[[volumes]]\nname = \"no. 1\"\n", "allowed: text without a dot");
    has("[[master_cylinder]]\nbore = \"22 mm\"\n", "master_cylinder: is one table, not a list");
    has("calipers = 3\n", "calipers: is a table of keys, not a value");
}

} // namespace
} // namespace clearstroke::testing
