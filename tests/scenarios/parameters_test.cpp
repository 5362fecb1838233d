// What is uncertain is a Parameter with a band, and the factory is pure.
#include <thread>

#include "tests/scenarios/support.hpp"

namespace clearstroke::testing {
namespace {

const Parameter* find(const Scenario& s, const std::string& name) {
    const auto at = std::ranges::find(s.factory.parameters, name, &Parameter::name);
    return at == s.factory.parameters.end() ? nullptr : &*at;
}

TEST(Parameters, HoldTheBandsThatMatterMost) {
    const Scenario s = read_scenario("scenarios/front_rear_split.toml");
    for (const char* name : {"model.run_ahead",
                             "model.drawdown",
                             "model.separation",
                             "master_cylinder.cup_cracking",
                             "master_cylinder.cup_opening",
                             "operator.dwell",
                             "operator.push_speed",
                             "master_cylinder.preload_primary",
                             "master_cylinder.preload_secondary",
                             "master_cylinder.seal_friction",
                             "conditions.temperature",
                             "fluid_properties.surface_tension",
                             "work.air_in_renewed_part",
                             "hoses.expansion",
                             "calipers.front.give",
                             "calipers.front.roll_back",
                             "lines.bore",
                             "calipers.rear.gap",
                             "master_cylinder.cut_off",
                             "calipers.rear.screw_at"}) {
        const Parameter* p = find(s, name);
        ASSERT_NE(p, nullptr) << name;
        EXPECT_LT(p->low, p->high) << name;
        EXPECT_LE(p->low, p->usual) << name;
        EXPECT_LE(p->usual, p->high) << name;
        EXPECT_NE(p->grade, SourceGrade::stated) << name;
    }
    const Parameter& run_ahead = *find(s, "model.run_ahead");
    EXPECT_EQ(run_ahead.low, 0.5);
    EXPECT_EQ(run_ahead.high, 1.2);
    const Parameter& drawdown = *find(s, "model.drawdown");
    EXPECT_EQ(drawdown.low, 0.5);
    EXPECT_EQ(drawdown.high, 1.5);
}

TEST(Parameters, AStatedValueHasNoBandUnlessTheFileGivesOne) {
    const Scenario s = parse(
        "[master_cylinder]\nbore = \"7/8 in\"\n[calipers]\nfront = { bore = \"54 mm, 53 to 55 mm\" }\n");
    const Parameter& bore = *find(s, "master_cylinder.bore");
    EXPECT_EQ(bore.grade, SourceGrade::stated);
    EXPECT_EQ(bore.low, bore.high);
    EXPECT_NEAR(bore.usual, 0.022225, 1e-12);
    EXPECT_EQ(bore.shown_unit, "mm");
    const Parameter& piston = *find(s, "calipers.front.bore");
    EXPECT_NEAR(piston.low, 0.053, 1e-12);
    EXPECT_NEAR(piston.high, 0.055, 1e-12);
}

TEST(Parameters, UnstatedLengthsAndBoresSayHowToMeasureThem) {
    const Scenario s = read_scenario("scenarios/minimal.toml");
    for (const char* name :
         {"lines.front.LF", "lines.rear.to_tee", "lines.bore", "calipers.front.bore", "calipers.front.gap",
          "calipers.front.screw_at", "master_cylinder.bore", "master_cylinder.cut_off", "pedal.ratio"}) {
        const Parameter* p = find(s, name);
        ASSERT_NE(p, nullptr) << name;
        EXPECT_FALSE(p->how_to_measure.empty()) << name;
        EXPECT_LT(p->low, p->high) << name;
    }
}

class EveryScenario : public ::testing::TestWithParam<std::filesystem::path> {};

/// Every parameter alone, and all of them together, at the ends of their bands.
TEST_P(EveryScenario, BandsGiveCircuitsThatHoldTogether) {
    const Scenario s = read_scenario(GetParam());
    const std::vector<double> usual = usual_values(s.factory);
    const Case base = s.factory.make(usual);
    const auto try_values = [&](const std::vector<double>& values, const std::string& what) {
        const Case c = s.factory.make(values);
        EXPECT_NO_THROW(check(c.network, c.contents)) << what;
        EXPECT_EQ(c.network.lines.size(), base.network.lines.size()) << what;
        ASSERT_EQ(c.procedure.visits.size(), base.procedure.visits.size()) << what;
        for (std::size_t i = 0; i < c.procedure.visits.size(); ++i)
            EXPECT_EQ(c.procedure.visits[i].screw, base.procedure.visits[i].screw) << what;
    };
    std::vector<double> low, high;
    for (std::size_t i = 0; i < usual.size(); ++i) {
        const Parameter& p = s.factory.parameters[i];
        low.push_back(p.low);
        high.push_back(p.high);
        for (const double end : {p.low, p.high}) {
            std::vector<double> values = usual;
            values[i] = end;
            try_values(values, p.name);
        }
    }
    try_values(low, "all low");
    try_values(high, "all high");
}

std::string test_name(const ::testing::TestParamInfo<std::filesystem::path>& info) {
    return info.param.stem().string();
}

INSTANTIATE_TEST_SUITE_P(Files, EveryScenario, ::testing::ValuesIn(toml_files("scenarios")), test_name);

TEST(Factory, IsPureAndMayBeCalledFromManyThreads) {
    const CaseFactory factory = read_scenario("scenarios/two_screw_calipers.toml").factory;
    const std::vector<double> values = usual_values(factory);
    const std::string once = every_bit(factory.make(values));
    std::vector<std::string> seen(4);
    std::vector<std::thread> threads;
    for (std::string& mine : seen) threads.emplace_back([&] { mine = every_bit(factory.make(values)); });
    for (std::thread& t : threads) t.join();
    for (const std::string& mine : seen) EXPECT_EQ(mine, once);
    EXPECT_THROW((void)factory.make(std::vector<double>{1.0}), std::invalid_argument);
}

/// Volume that the walls of a part take up at 100 bar [m^3].
double take_up(const Case& c, const std::string& part) {
    return elastic_volume(volume_named(c, part).walls, 1e7, 0.0).volume;
}

// Bands of typical values from memory: front 1 to 3.5 mL, rear 0.6 to 1.8 mL at 100 bar.
TEST(Defaults, CaliperTakeUpIsOfTheUsualSize) {
    const Case c = usual_case(parse(""));
    EXPECT_GT(take_up(c, "LF caliper"), 1.0e-6);
    EXPECT_LT(take_up(c, "LF caliper"), 3.5e-6);
    EXPECT_GT(take_up(c, "LR caliper"), 0.6e-6);
    EXPECT_LT(take_up(c, "LR caliper"), 1.8e-6);
}

// Common practice: 10 to 30 mL behind the piston of a sliding front caliper.
TEST(Defaults, CaliperContentIsOfTheUsualSize) {
    const Case c = usual_case(parse(""));
    EXPECT_GT(volume_named(c, "LF caliper").content, 10e-6);
    EXPECT_LT(volume_named(c, "LF caliper").content, 30e-6);
}

TEST(Defaults, ThePrimarySpringIsStifferThanTheSecondaryOverTheirWholeBands) {
    const Scenario s = parse("");
    EXPECT_GT(find(s, "master_cylinder.preload_primary")->low,
              find(s, "master_cylinder.preload_secondary")->high);
}

} // namespace
} // namespace clearstroke::testing
