// Extreme but legal inputs run to the end with closed balances.
#include <nlohmann/json.hpp>

#include "tests/cli/process.hpp"

namespace clearstroke::testing {
namespace {

class Extreme : public ::testing::TestWithParam<const char*> {};

TEST_P(Extreme, Runs) {
    const Ran ran = run("bleed scenarios/port_below_pocket.toml --json " + std::string(GetParam()));
    ASSERT_EQ(ran.status, 0) << ran.err;
    const auto j = nlohmann::json::parse(ran.out);
    EXPECT_LE(j["balance"]["liquid_relative"].get<double>(), 1e-12);
    EXPECT_LE(j["balance"]["air_relative"].get<double>(), 1e-12);
    EXPECT_NE(j["stopped_because"], "");
}

INSTANTIATE_TEST_SUITE_P(Inputs, Extreme,
                         ::testing::Values("--set \"conditions.temperature=-40 degC\"",
                                           "--set \"conditions.temperature=120 degC\"",
                                           "--set \"conditions.altitude=4000 m\"",
                                           "--set \"pipes.pipe.bore=0.1 mm\"",
                                           "--set \"pipes.pipe.length=100 m\"", "--condition full",
                                           "--condition dry", "--condition drained"));

} // namespace
} // namespace clearstroke::testing
