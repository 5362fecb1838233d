// Strokes per second on one core by layout and condition, and what sharing prefixes saves over all orders.
// Run from the project's root. Times are reported, never judged.
#include <benchmark/benchmark.h>

#include <algorithm>

#include "analysis/candidates.hpp"
#include "analysis/joined_orders.hpp"
#include "analysis/order_search.hpp"
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

/// Cavities and lumps of line: the volumes of the network where no full stretch is condensed.
double volumes_of(const Case& c) {
    const State s = Simulation(c.network).start(c.contents);
    std::size_t sum = s.volumes.size();
    for (const auto& line : s.lines) sum += line.size();
    return static_cast<double>(sum);
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
    state.counters["volumes"] = volumes_of(c);
    state.counters["steps/stroke"] = static_cast<double>(work.steps) / per_run;
    state.counters["rates/stroke"] = static_cast<double>(work.evaluations) / per_run;
}

enum class Orders { shared, plain, searched };

/// All orders of four screws on one thread: with shared prefixes, each from its start, or searched with half
/// the visits of the tree.
void orders(benchmark::State& state, Orders how) {
    const Case c = case_of("minimal", "little air");
    std::vector<Visit> visits = c.procedure.visits;
    for (Visit& v : visits) v.strokes = 2;
    const OrderRules rules({}, visited_screws(c.procedure));
    const std::vector<OrderOfVisits> all = rules.every();
    const SearchRequest half{
        rules.count().visits / 2.0, Cost::strokes, {}, std::vector<double>(visits.size(), 2.0)};
    std::size_t strokes = 0, run = 0;
    for (auto _ : state)
        with_threads(1, [&] {
            run = all.size();
            strokes = 0;
            if (how == Orders::shared)
                strokes = walk_order_tree(c, visits, all, false, [](std::size_t, const PlanRun&) {}).strokes;
            if (how == Orders::searched) {
                const SearchedOrders found = search_orders(c, visits, rules, half);
                strokes = found.work.strokes;
                run = found.orders.size();
            }
            if (how != Orders::plain) return;
            for (const OrderOfVisits& order : all) {
                std::vector<Visit> plan;
                for (const std::size_t i : order) plan.push_back(visits[i]);
                strokes += static_cast<std::size_t>(row_of(run_plan(c, plan)).strokes);
            }
        });
    state.counters["orders"] = static_cast<double>(run);
    state.counters["strokes run"] = static_cast<double>(strokes);
}

/// All orders of a layout, ways that left the circuit alike run on as one; visits as the file has them, all cores.
void joined(benchmark::State& state, const std::string& name) {
    const Case c = case_of(name, "little air");
    std::vector<ScrewId> screws = visited_screws(c.procedure);
    std::ranges::sort(screws);
    const OrderRules rules({}, screws);
    JoinedOrders found;
    for (auto _ : state) found = join_orders(c, visits_in_order(c.procedure, screws), rules, 14000.0);
    state.counters["orders"] = static_cast<double>(found.orders.size());
    state.counters["strokes run"] = static_cast<double>(found.work.strokes);
}

BENCHMARK_CAPTURE(strokes, front_rear_split_little_air, "front_rear_split", "little air")
    ->Unit(benchmark::kMillisecond);
BENCHMARK_CAPTURE(strokes, diagonal_split_little_air, "diagonal_split", "little air")
    ->Unit(benchmark::kMillisecond);
BENCHMARK_CAPTURE(strokes, front_rear_split_fluid_change, "front_rear_split", "fluid change")
    ->Unit(benchmark::kMillisecond);
BENCHMARK_CAPTURE(strokes, front_rear_split_dry, "front_rear_split", "dry")->Unit(benchmark::kMillisecond);
BENCHMARK_CAPTURE(strokes, two_screw_calipers_little_air, "two_screw_calipers", "little air")
    ->Unit(benchmark::kMillisecond);
BENCHMARK_CAPTURE(strokes, linked_motorcycle_little_air, "linked_motorcycle", "little air")
    ->Unit(benchmark::kMillisecond);
BENCHMARK_CAPTURE(strokes, trailer_little_air, "trailer_upside_down", "little air")
    ->Unit(benchmark::kMillisecond);
BENCHMARK_CAPTURE(orders, shared_prefixes, Orders::shared)->Unit(benchmark::kMillisecond);
BENCHMARK_CAPTURE(orders, plain, Orders::plain)->Unit(benchmark::kMillisecond);
BENCHMARK_CAPTURE(orders, searched, Orders::searched)->Unit(benchmark::kMillisecond);
BENCHMARK_CAPTURE(joined, front_rear_split, "front_rear_split")->Unit(benchmark::kMillisecond)->UseRealTime();
BENCHMARK_CAPTURE(joined, two_screw_calipers, "two_screw_calipers")
    ->Unit(benchmark::kMillisecond)
    ->Iterations(1)
    ->UseRealTime();

} // namespace
} // namespace clearstroke
