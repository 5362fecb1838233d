// What writing costs a study, and how it scales with threads. Run from the project's root. Times are reported,
// never judged.
#include <chrono>
#include <filesystem>

#include <benchmark/benchmark.h>
#include <unistd.h>

#include "analysis/cli/study_plan.hpp"
#include "analysis/study_run.hpp"

namespace clearstroke {
namespace {

/// A file that is gone afterwards.
struct Output {
    std::string path =
        (std::filesystem::temp_directory_path() / ("study_bench_" + std::to_string(getpid()) + ".h5"))
            .string();
    ~Output() { std::filesystem::remove(path); }
};

double seconds(const auto& work) {
    const auto begin = std::chrono::steady_clock::now();
    work();
    return std::chrono::duration<double>(std::chrono::steady_clock::now() - begin).count();
}

StudyPlan plan_of(const std::string& name) {
    return {read_study("scenarios/studies/" + name + ".toml"), "bench", std::nullopt, 1};
}

/// Every row computed and written on one thread.
void writing(benchmark::State& state, const std::string& name) {
    const StudyPlan plan = plan_of(name);
    const StoreLayout layout = plan.layout();
    double computed = 0.0, written = 0.0;
    for (auto _ : state)
        with_threads(1, [&] {
            const Output output;
            std::optional<Store> store;
            written += seconds([&] { store.emplace(output.path, layout); });
            for (std::uint64_t k = 0; k < plan.cases(); ++k) {
                Row row;
                computed += seconds([&] { row = plan.row(layout, k); });
                written += seconds([&] { store->write(k, row); });
            }
            written += seconds([&] { store->finish({}, {}); });
        });
    state.counters["writing, us a row"] = 1e6 * written / (double(state.iterations()) * double(plan.cases()));
    state.counters["rows"] = static_cast<double>(plan.cases());
    state.counters["writing, % of the run"] = 100.0 * written / (computed + written);
}

/// The same study on one thread and on two.
void threads(benchmark::State& state, const std::string& name) {
    const StudyPlan plan = plan_of(name);
    const StoreLayout layout = plan.layout();
    const auto run = [&](int count) {
        const Output output;
        Store store(output.path, layout);
        return seconds([&] {
            run_missing(store, layout, [&](std::uint64_t number) { return plan.row(layout, number); }, count,
                        {});
        });
    };
    double one = 0.0, two = 0.0;
    for (auto _ : state) {
        one += run(1);
        two += run(2);
    }
    state.counters["one thread / two"] = one / two;
}

BENCHMARK_CAPTURE(writing, what_drives_strokes, "what_drives_strokes")
    ->Iterations(1)
    ->Unit(benchmark::kMillisecond);
BENCHMARK_CAPTURE(writing, stroke_speed, "stroke_speed")->Unit(benchmark::kMillisecond);
BENCHMARK_CAPTURE(threads, what_drives_strokes, "what_drives_strokes")
    ->Iterations(1)
    ->Unit(benchmark::kMillisecond);

} // namespace
} // namespace clearstroke
