#include <cmath>

#include <gtest/gtest.h>

#include "analysis/cli/study_plan.hpp"
#include "analysis/uncertain.hpp"
#include "tests/scenarios/support.hpp"
#include "tests/study/support.hpp"

namespace clearstroke {
namespace {

StudyFile parse(const std::string& text) {
    return parse_study(text, "study.toml", {testing::text_of("scenarios/hydraulic_clutch.toml")});
}
const std::string one_base = "[[base]]\nfile = \"clutch.toml\"\n";

std::string fault_of(const std::string& text) {
    try {
        (void)parse(text);
    } catch (const ScenarioError& e) {
        return e.what();
    }
    return "";
}

TEST(StudyFile, FactorsAreListsOrSteps) {
    const StudyFile study =
        parse("[factors]\n\"lines.bore\" = [\"3 mm\", \"4 mm\"]\nmethod = [\"gravity\"]\n"
              "\"operator.dwell\" = { from = \"1 s\", to = \"4 s\", steps = 3, log = true }\n" +
              one_base);
    ASSERT_EQ(study.factors.size(), 3u); // by name
    EXPECT_EQ(study.factors[0].key.path, "lines.bore");
    EXPECT_EQ(study.factors[0].key.unit, "m");
    EXPECT_EQ(study.factors[0].values[1].number, 0.004);
    EXPECT_EQ(study.factors[1].values[0].text, "gravity");
    EXPECT_EQ(study.factors[2].values.size(), 3u);
    EXPECT_NEAR(study.factors[2].values[1].number, 2.0, 1e-12);
    EXPECT_EQ(study.factors[2].values[2].number, 4.0);
}

TEST(StudyFile, DistributionsHaveTheirExactQuantiles) {
    const StudyFile study = parse(one_base + R"([design]
kind = "random"
samples = 4
[design.draw]
"lines.bore" = { uniform = ["2 mm", "4 mm"] }
"lines.to_slave" = { log_uniform = ["0.5 m", "2 m"] }
"operator.dwell" = { triangular = ["0 s", "1 s", "4 s"] }
"operator.hold" = { normal = ["10 s", "2 s"] }
fluid = { one_of = ["DOT 3", "DOT 4"], weights = [1, 3] }
)");
    const auto at = [&](const std::string& path, double u) {
        for (const StudyDraw& draw : study.draws)
            if (draw.key.path == path) return value_at(draw, u);
        throw std::logic_error(path);
    };
    EXPECT_NEAR(at("lines.bore", 0.25).number, 0.0025, 1e-15);
    EXPECT_NEAR(at("lines.to_slave", 0.5).number, 1.0, 1e-12);
    EXPECT_NEAR(at("operator.dwell", 0.25).number, 1.0, 1e-12);   // mode: (1 - 0) / (4 - 0) lies below
    EXPECT_NEAR(at("operator.dwell", 0.8125).number, 2.5, 1e-12); // 1 - (4 - 2.5)^2 / 12
    EXPECT_NEAR(at("operator.hold", 0.5).number, 10.0, 1e-12);
    EXPECT_NEAR(at("operator.hold", 0.975).number, 10.0 + 2.0 * 1.959963984540054, 1e-9);
    EXPECT_EQ(at("fluid", 0.2).text, "DOT 3");
    EXPECT_EQ(at("fluid", 0.3).text, "DOT 4");
    EXPECT_EQ(at("lines.bore", 0.25).written.back(), 'm');
}

TEST(StudyFile, FaultsNameTheLineAndWhatIsAllowed) {
    const auto says = [](const std::string& text, const std::string& words) {
        const std::string fault = fault_of(text);
        EXPECT_NE(fault.find(words), std::string::npos) << text << "\n" << fault;
    };
    says(one_base + "titel = 1", "study.toml:3:");
    says("titel = 1\n" + one_base, "did you mean \"title\"");
    says("title = \"x\"\n", "missing; allowed: [[base]]");
    says("[[base]]\nname = \"x\"\n", "base.0.file: missing");
    says("[factors]\n\"lines.bor\" = [\"3 mm\"]\n" + one_base, "is no key of a scenario");
    says("[factors]\n\"lines.bore\" = [\"3 kg\"]\n" + one_base, "is not a quantity in mm");
    says("[factors]\n\"lines.bore\" = 3\n" + one_base, "allowed: a list of values");
    says("[factors]\nmethod = { from = \"a\", to = \"b\" }\n" + one_base,
         "for quantities from, to and steps");
    says("orders = \"some\"\n" + one_base, "allowed: own, rules, all");
    says("seed = -1\n" + one_base, "a whole number of at least 0");
    says(one_base + "[design.draw]\n\"lines.bore\" = { uniform = [\"4 mm\", \"2 mm\"] }",
         "2 quantities, rising");
    says(one_base + "[design.draw]\n\"lines.bore\" = { about = [\"4 mm\"] }",
         "allowed: uniform, log_uniform");
    says(one_base + "[design.draw]\nfluid = { one_of = [\"DOT 3\"], weights = [1, 2] }", "one weight");
    says("title = \n", "not TOML");
}

TEST(StudyFile, NamesWithSpacesAreQuotedInOverrides) {
    EXPECT_EQ(override_of("lines.bore", "\"3 mm\""), "lines.bore=\"3 mm\"");
    EXPECT_EQ(override_of("work.air.LF caliper", "\"3 mL\""), "work.air.\"LF caliper\"=\"3 mL\"");
}

// What a study draws within a band is stated as a value; the scenario must be that of the factory.
TEST(StudyFile, AStatedValueWithinABandIsTheFactorysOwn) {
    for (const char* name :
         {"hydraulic_clutch", "front_rear_split", "twin_cylinders", "motorcycle", "rear_drums"}) {
        const std::string text = testing::text_of(std::string("scenarios/") + name + ".toml");
        const Scenario usual = testing::parse(text);
        const auto coordinates = coordinates_of(usual.factory);
        std::vector<double> u;
        for (std::size_t k = 0; k < coordinates.size(); ++k)
            u.push_back(0.05 + 0.9 * double(k * 7 % 10) / 10.0);
        const std::vector<double> values = values_at(usual.factory, coordinates, u);
        std::vector<std::string> overrides;
        for (std::size_t i = 0; i < values.size(); ++i) {
            const Parameter& p = usual.factory.parameters[i];
            if (p.low == p.high) continue;
            StudyDraw draw{
                {p.name, "", p.unit, ""}, StudyDraw::Kind::uniform, {values[i], values[i]}, {}, {}};
            overrides.push_back(override_of(p.name, value_at(draw, 0.5).written));
        }
        EXPECT_EQ(testing::every_bit(testing::usual_case(testing::parse(text, overrides))),
                  testing::every_bit(usual.factory.make(values)))
            << name;
    }
}

TEST(StudyFile, ShippedStudiesAreSoundAndSaySo) {
    std::size_t count = 0;
    for (const auto& entry : std::filesystem::directory_iterator("scenarios/studies")) {
        const StudyFile file = read_study(entry.path());
        EXPECT_EQ(file.text.rfind("# Question:", 0), 0u) << entry.path() << " opens with its question";
        const StudyPlan plan(file, "test", TieWidth{}, 1);
        EXPECT_GT(plan.cases(), 1u);
        for (const std::uint64_t number : {std::uint64_t{0}, plan.cases() / 2, plan.cases() - 1})
            EXPECT_NO_THROW((void)plan.scenario(number)) << entry.path() << " case " << number;
        ++count;
    }
    EXPECT_GE(count, 6u);
}

TEST(StudyFile, SamplesAreTheSameInEverySetting) {
    const StudyPlan plan(parse("[factors]\nmethod = [\"one person\", \"gravity\"]\n" + one_base +
                               "[design]\nkind = \"sobol\"\nsamples = 16\nbands = [\"lines.bore\"]\n"),
                         "test", std::nullopt, 1);
    ASSERT_EQ(plan.cases(), 32u);
    EXPECT_EQ(plan.coordinates(), (std::vector<std::string>{"lines.bore"}));
    for (const std::uint64_t k : {0u, 7u}) {
        const std::string a = plan.describe(k), b = plan.describe(k + 16);
        EXPECT_NE(a, b);
        EXPECT_EQ(a.substr(a.find("lines.bore")), b.substr(b.find("lines.bore")));
    }
    EXPECT_EQ(plan.part_of(0), 0u);
    EXPECT_EQ(plan.part_of(15), 7u);
    EXPECT_EQ(plan.part_of(16), 0u);
}

} // namespace
} // namespace clearstroke
