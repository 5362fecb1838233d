// The table of parts, acts, methods and faults names every one of the code, keys that exist, and scenarios
// that use them.
#include <map>

#include "scenarios/build/acts.hpp"
#include "tests/docs/people_meet.hpp"
#include "tests/docs/text_files.hpp"
#include "tests/scenarios/support.hpp"

namespace clearstroke::docs {
namespace {

struct Row {
    std::string name, keys, scenario;
};

/// Rows below a heading of docs/parts.md.
std::vector<Row> rows_of(const std::string& heading) {
    const std::string page = text_of("docs/parts.md");
    const std::size_t begin = page.find("\n## " + heading + "\n");
    EXPECT_NE(begin, std::string::npos) << heading;
    const std::string section = page.substr(begin + 1, page.find("\n## ", begin + 1) - begin);
    std::vector<Row> out;
    const std::regex row("\\| ([^|]+) \\| ([^|]+) \\| \\[[^|]+\\) \\| `([^|`]+)` \\|");
    for (std::sregex_iterator m(section.begin(), section.end(), row), end; m != end; ++m)
        out.push_back({(*m)[1], (*m)[2], (*m)[3]});
    return out;
}

Procedure work_of(const std::string& path) { return testing::usual_case(read_scenario(path)).procedure; }

/// Acts that a scenario's procedure performs, as indices of Act.
std::set<std::size_t> acts_used(const Procedure& p) {
    std::set<std::size_t> out;
    const auto add = [&](const std::vector<Act>& acts) {
        for (const Act& a : acts) out.insert(a.index());
    };
    add(p.prepare);
    for (const Visit& v : p.visits) {
        add(v.before);
        const Method& m = v.method ? *v.method : p.method;
        for (const auto* acts : {&m.arrive, &m.stroke, &m.leave}) add(*acts);
    }
    return out;
}

/// Words of every act of the code, by index of Act.
template <std::size_t... I> std::vector<std::string> act_words(std::index_sequence<I...>) {
    Network n;
    n.volumes.resize(1);
    n.lines.resize(1);
    n.actuators.resize(1);
    for (std::string* name : {&n.volumes[0].name, &n.lines[0].name, &n.actuators[0].name}) *name = "#";
    std::vector<std::string> out{write_act(Act{std::in_place_index<I>}, n)...};
    for (std::string& text : out) {
        text = text.substr(0, std::min(text.find(" #"), text.find(" 0")));
        if (text.starts_with("hose end")) text = "hose end";
    }
    return out;
}

TEST(PartsTable, HasEveryActOfTheCodeAndAScenarioThatPerformsIt) {
    const auto words = act_words(std::make_index_sequence<std::variant_size_v<Act>>{});
    std::map<std::string, std::string> scenario_of;
    for (const Row& r : rows_of("Acts")) scenario_of[r.name] = r.scenario;
    EXPECT_EQ(scenario_of.size(), words.size());
    for (std::size_t i = 0; i < words.size(); ++i) {
        ASSERT_TRUE(scenario_of.contains(words[i])) << words[i] << " is missing";
        EXPECT_TRUE(acts_used(work_of(scenario_of[words[i]])).contains(i))
            << words[i] << " is not in " << scenario_of[words[i]];
    }
}

TEST(PartsTable, HasEveryMethodOfTheCodeAndAScenarioThatUsesIt) {
    std::map<std::string, std::string> scenario_of;
    for (const Row& r : rows_of("Methods")) scenario_of[r.name] = r.scenario;
    EXPECT_EQ(scenario_of.size(), method_names().size());
    for (const std::string& name : method_names()) {
        ASSERT_TRUE(scenario_of.contains(name)) << name << " is missing";
        const Procedure p = work_of(scenario_of[name]);
        const std::string full = find_method(name)->name;
        bool used = false;
        for (const Visit& v : p.visits) used = used || (v.method ? v.method->name : p.method.name) == full;
        EXPECT_TRUE(used) << name << " is not in " << scenario_of[name];
    }
}

TEST(PartsTable, HasEveryValveOfTheKeyTable) {
    const std::vector<std::string> allowed =
        matches(text_of("scenarios/keys/explicit.cpp"), std::regex("\"(none \\| one-way[^\"]+)\""));
    ASSERT_EQ(allowed.size(), 1U);
    std::set<std::string> known, named{"none"};
    for (const std::string& word : matches(allowed[0], std::regex("([a-z-]+)"))) known.insert(word);
    for (const Row& r : rows_of("Valves")) {
        named.insert(r.name);
        EXPECT_NE(text_of(r.scenario).find("valve = \"" + r.name + "\""), std::string::npos)
            << r.name << " is not in " << r.scenario;
    }
    EXPECT_EQ(named, known);
}

TEST(PartsTable, HasEveryFaultOfTheKeyTable) {
    std::set<std::string> named;
    for (const Row& r : rows_of("Faults"))
        for (const std::string& fault : matches(r.keys, std::regex("`faults\\.([a-z_]+)"))) {
            named.insert(fault);
            EXPECT_NE(text_of(r.scenario).find(fault), std::string::npos)
                << fault << " is not in " << r.scenario;
        }
    std::set<std::string> known;
    for (const std::string& fault :
         matches(text_of("scenarios/keys/faults.cpp"), std::regex("\"faults\\.([a-z_]+)")))
        known.insert(fault);
    EXPECT_EQ(named, known);
}

TEST(PartsTable, HasEveryKindOfGasOfTheKeyTable) {
    std::set<std::string> named, known;
    for (const Row& r : rows_of("Gas"))
        for (const std::string& key : matches(r.keys, std::regex("`bubbles\\.([a-z_]+)"))) {
            named.insert(key);
            EXPECT_NE(text_of(r.scenario).find("\n" + key + " = "), std::string::npos)
                << key << " is not in " << r.scenario;
        }
    for (const std::string& key :
         matches(text_of("scenarios/keys/general.cpp"), std::regex("\"bubbles\\.([a-z_]+)")))
        known.insert(key);
    EXPECT_EQ(named, known);
}

constexpr const char* headings[] = {"Parts", "Valves", "Methods", "Acts", "Under other names",
                                    "Gas",   "Faults"};

TEST(PartsTable, HasWhatPeopleMeetEachWithAShippedScenario) {
    std::map<std::string, std::string> scenario_of;
    for (const char* heading : headings)
        for (const Row& r : rows_of(heading)) scenario_of[r.name] = r.scenario;
    for (const char* name : met) {
        ASSERT_TRUE(scenario_of.contains(name)) << name << " is missing";
        EXPECT_TRUE(std::filesystem::exists(scenario_of[name])) << name << ": " << scenario_of[name];
    }
}

TEST(PartsTable, NamesKeysThatExist) {
    const std::string reference = text_of("docs/reference_keys.md");
    int seen = 0;
    for (const char* heading : headings)
        for (const Row& r : rows_of(heading))
            for (const std::string& key : matches(r.keys, std::regex("`([^`]+)`"))) {
                ++seen;
                EXPECT_NE(reference.find('`' + key + '`'), std::string::npos) << key;
            }
    EXPECT_GT(seen, 80);
}

} // namespace
} // namespace clearstroke::docs
