// Every shipped scenario runs its own procedure, at most six strokes a visit, and keeps both phases.
#include "tests/cases/support.hpp"
#include "tests/scenarios/support.hpp"

namespace clearstroke::testing {
namespace {

class ShippedWork : public ::testing::TestWithParam<std::filesystem::path> {};

TEST_P(ShippedWork, RunsAndConserves) {
    const Case c = usual_case(read_scenario(GetParam()));
    Job job(c.network, c.contents);
    job.plan = c.procedure;
    job.plan.stop.most_strokes = 6;
    job.act(job.plan.prepare);
    for (const Visit& v : c.procedure.visits) {
        const VisitRecord done = job.sim.visit(job.state, v, job.plan);
        ASSERT_TRUE(done.status.usable())
            << c.network.screws[v.screw.index].name << ": " << done.status.detail;
    }
    EXPECT_LE(job.sim.balance(job.state).liquid, 1e-12);
    EXPECT_LE(job.sim.balance(job.state).gas, 1e-12);
}

std::string name_of_file(const ::testing::TestParamInfo<std::filesystem::path>& file) {
    return file.param.stem().string();
}

INSTANTIATE_TEST_SUITE_P(Files, ShippedWork, ::testing::ValuesIn(toml_files("scenarios")), name_of_file);

} // namespace
} // namespace clearstroke::testing
