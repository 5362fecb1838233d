// Strokes per second on one core by layout and condition, and what sharing prefixes saves over all orders.
// Run from the project's root. Times are reported, never judged.
#include <benchmark/benchmark.h>

#include "analysis/order_tree.hpp"
#include "analysis/plan_run.hpp"
#include "scenarios/scenario.hpp"
#include "sim/run.hpp"

namespace clearstroke {
namespace {

Case case_of(const std::string& name, const std::string& condition) {
    const std::vector<std::string> overrides{"condition=" + condition};
    const Scenario scenario = read_scenario("scenarios/" + name + ".toml", overrides);
    return scenario.factory.make(usual_values(scenario.factory));
}

/// Three strokes at every screw in the file's order, whatever is seen.
void strokes(benchmark::State& state, const std::string& name, const std::string& condition) {
    constexpr int each = 3;
    const Case c = case_of(name, condition);
    long done = 0;
    Work work;
    for (auto _ : state) {
        Simulation sim(c.network);
        State s = sim.start(c.contents);
        for (Visit v : c.procedure.visits) {
            v.strokes = each;
            done += static_cast<long>(sim.visit(s, v, c.procedure).strokes.size());
        }
        work = sim.work();
    }
    const double per_run = static_cast<double>(done) / static_cast<double>(state.iterations());
    state.counters["strokes/s"] = benchmark::Counter(static_cast<double>(done), benchmark::Counter::kIsRate);
    state.counters["steps/stroke"] = static_cast<double>(work.steps) / per_run;
    state.counters["rates/stroke"] = static_cast<double>(work.evaluations) / per_run;
}

/// All orders of four screws on one thread: with shared prefixes, or each from its start.
void all_orders_of(benchmark::State& state, bool shared) {
    const Case c = case_of("minimal", "little air");
    std::vector<Visit> visits = c.procedure.visits;
    for (Visit& v : visits) v.strokes = 2;
    const auto orders = all_orders(visits.size());
    for (auto _ : state)
        with_threads(1, [&] {
            if (shared) {
                benchmark::DoNotOptimize(run_order_tree(c, visits, orders));
                return;
            }
            for (const OrderOfVisits& order : orders) {
                std::vector<Visit> plan;
                for (const std::size_t i : order) plan.push_back(visits[i]);
                benchmark::DoNotOptimize(run_plan(c, plan));
            }
        });
    state.counters["orders"] = static_cast<double>(orders.size());
}

BENCHMARK_CAPTURE(strokes, front_rear_split_little_air, "front_rear_split", "little air")->Unit(benchmark::kMillisecond);
BENCHMARK_CAPTURE(strokes, diagonal_split_little_air, "diagonal_split", "little air")->Unit(benchmark::kMillisecond);
BENCHMARK_CAPTURE(strokes, front_rear_split_fluid_change, "front_rear_split", "fluid change")->Unit(benchmark::kMillisecond);
BENCHMARK_CAPTURE(strokes, front_rear_split_dry, "front_rear_split", "dry")->Unit(benchmark::kMillisecond);
BENCHMARK_CAPTURE(strokes, two_screw_calipers_little_air, "two_screw_calipers", "little air")->Unit(benchmark::kMillisecond);
BENCHMARK_CAPTURE(all_orders_of, shared_prefixes, true)->Unit(benchmark::kMillisecond);
BENCHMARK_CAPTURE(all_orders_of, plain, false)->Unit(benchmark::kMillisecond);

} // namespace
} // namespace clearstroke
