// How much hangs on the temperature of gas in cavities: the file's own order with the real rule, all isothermal,
// and cavities adiabatic. Our own runs: regression, not validation. Prints the table of docs/validity.md.
#include <fmt/format.h>
#include <gtest/gtest.h>

#include <array>
#include <utility>

#include "analysis/plan_result.hpp"
#include "analysis/plan_run.hpp"
#include "scenarios/scenario.hpp"

namespace clearstroke {
namespace {

using GasLaw = Settings::GasLaw;

/// Between the bubbles of these runs: one near the smallest that is seen counts or not by the rounding of its run.
const std::string visible_bubble = "clear_hose.visible_bubble=0.02 mL";

struct Row {
    int strokes{};
    double to_target{};
};

Row row_of(const std::string& file, GasLaw law, const char* name) {
    const Scenario scenario = read_scenario("scenarios/" + file + ".toml", std::array{visible_bubble});
    const Case c = scenario.factory.make(usual_values(scenario.factory));
    Settings settings;
    settings.gas_law = law;
    const PlanRun run = run_plan(c, c.procedure.visits, settings);
    EXPECT_TRUE(run.status.usable()) << file << ", " << name << ": " << run.status.detail;
    const PlanResult r = judge(c, run, beyond_all(c.network, std::span(&run, 1)));
    fmt::print("| {} | {} | {} | {:.3f} | {:.3f} | {:.4f} | {:.1f} |\n", file, name, r.strokes,
               r.to_target.value_or(-1.0), r.to_99.value_or(-1.0), r.air_left * 1e6, r.drawn * 1e6);
    return {r.strokes, r.to_target.value_or(-1.0)};
}

class GasLaws : public ::testing::TestWithParam<const char*> {};

TEST_P(GasLaws, HardlyMoveTheStrokesToTarget) {
    const std::string file = GetParam();
    const Row usual = row_of(file, GasLaw::by_size, "by size");
    for (const auto& [law, name] :
         {std::pair{GasLaw::isothermal, "isothermal"}, std::pair{GasLaw::adiabatic, "adiabatic"}}) {
        const Row other = row_of(file, law, name);
        EXPECT_EQ(other.strokes, usual.strokes);
        EXPECT_NEAR(other.to_target / usual.to_target, 1.0, 0.01);
    }
}

INSTANTIATE_TEST_SUITE_P(Shipped, GasLaws,
                         ::testing::Values("front_rear_split", "diagonal_split", "hydraulic_clutch"),
                         [](const auto& one) { return std::string(one.param); });

/// Dry layouts: only that all three run to their end and meet the target.
TEST(DryGasLaws, RunADrySystemToItsEnd) {
    for (const auto& [law, name] :
         {std::pair{GasLaw::by_size, "by size"}, std::pair{GasLaw::isothermal, "isothermal"},
          std::pair{GasLaw::adiabatic, "adiabatic"}})
        EXPECT_GT(row_of("dry_system", law, name).to_target, 0.0);
}

} // namespace
} // namespace clearstroke
