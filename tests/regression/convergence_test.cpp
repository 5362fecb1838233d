// Convergence of whole jobs from the shipped defaults, at fixed strokes per screw. Derived by our own runs:
// regression, not validation. The table it prints is the one of docs/convergence.md.
#include <fmt/format.h>
#include <gtest/gtest.h>

#include <cmath>

#include "analysis/plan_run.hpp"
#include "analysis/resolution.hpp"
#include "scenarios/scenario.hpp"

namespace clearstroke {
namespace {

const std::vector<double> tolerances{2e-3, 1e-3, 5e-4, 2.5e-4, 5e-4};
const std::vector<int> lump_factors{1, 1, 1, 1, 2};
constexpr std::size_t defaults = 1, refined = 4; // halved tolerance and doubled lumps

std::vector<ConvergenceRow> table_of(const std::string& file, const std::string& condition) {
    const std::vector<std::string> overrides{"condition=" + condition};
    const Scenario scenario = read_scenario(file, overrides);
    const Case c = scenario.factory.make(usual_values(scenario.factory));
    const std::vector<Visit>& visits = c.procedure.visits;
    return convergence_table(c, with_fixed_strokes(visits, run_plan(c, visits)), tolerances, lump_factors);
}

void print(const std::string& name, const std::vector<ConvergenceRow>& rows) {
    for (const ConvergenceRow& r : rows)
        fmt::print("| {} | {:g} | {} | {:.4f} | {:.5f} |\n", name, r.tolerance, r.lump_factor,
                   r.to_target.value_or(-1.0), r.air_left * 1e6);
    if (const auto order = observed_order(rows[1].air_left, rows[2].air_left, rows[3].air_left);
        order && std::isfinite(*order))
        fmt::print("observed order in the tolerance, air left: {:.1f}\n", *order);
}

class Convergence : public ::testing::TestWithParam<std::tuple<const char*, const char*>> {};

TEST_P(Convergence, StrokesToTargetWithinOnePercentOfTheRefinedRun) {
    const auto& [file, condition] = GetParam();
    const auto rows = table_of(file, condition);
    print(std::string(file) + ", " + condition, rows);
    for (const ConvergenceRow& row : rows) ASSERT_TRUE(row.to_target.has_value());
    EXPECT_NEAR(*rows[defaults].to_target / *rows[refined].to_target, 1.0, 0.01);
    EXPECT_NEAR(rows[defaults].air_left, rows[refined].air_left, 2e-8); // 0.02 mL
}

INSTANTIATE_TEST_SUITE_P(Shipped, Convergence,
                         ::testing::Values(std::tuple{"scenarios/front_rear_split.toml", "little air"},
                                           std::tuple{"scenarios/diagonal_split.toml", "little air"},
                                           std::tuple{"scenarios/dry_system.toml", "dry"}),
                         [](const auto& one) {
                             const std::string file = std::get<0>(one.param);
                             return file.substr(10, file.size() - 15); // between "scenarios/" and ".toml"
                         });

} // namespace
} // namespace clearstroke
