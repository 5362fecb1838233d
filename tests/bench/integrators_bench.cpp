// Our step against CVODE and rosenbrock4 on the same right-hand side: a stroke on trees of 25, 121 and 481
// nodes, without stops and with one every 20 ms. Behind the usual report a table of work and precision, the ratios
// at equal error, and how cost grows with the network. Times are reported, never judged.
#include <benchmark/benchmark.h>
#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <ctime>
#include <map>
#include <optional>
#include <stdexcept>
#include <string>

#include "tests/bench/integrators.hpp"

namespace clearstroke::bench {
namespace {

constexpr double wanted = 1e-4; // error at which integrators are compared
constexpr std::array lumps{3, 19, 79};
constexpr std::array stops{0.0, 0.02};

struct Method {
    std::string name;
    Integrator run;
    bool contracted;
    int most_lumps;
    std::vector<double> tolerances;
};

/// Ten tolerances a decade, so that the one that just meets an error is near it.
std::vector<double> ladder(double loosest, double tightest) {
    std::vector<double> rungs;
    for (int i = 0; rungs.empty() || rungs.back() > 1.01 * tightest; ++i)
        rungs.push_back(loosest * std::pow(10.0, -0.1 * i));
    return rungs;
}

const std::vector<Method>& methods() {
    static const std::vector<Method> all{{"ours", by_rodas3, false, 79, ladder(1e-2, 2e-5)},
                                         {"ours, contracted", by_rodas3, true, 79, ladder(1e-2, 2e-5)},
                                         {"CVODE", by_cvode, false, 79, ladder(1e-2, 1e-6)},
                                         {"rosenbrock4", by_rosenbrock4, false, 19, ladder(1e-2, 2e-5)}};
    return all;
}

struct Point {
    double tolerance{}, error{}, defect{}, time{1e300};
    long rates{}, jacobians{};
};
/// Points by method, lumps a line and stop, the loosest tolerance first.
using Curves = std::map<std::tuple<std::size_t, int, double>, std::vector<Point>>;
Curves& curves() {
    static Curves all;
    return all;
}

/// By CVODE at a tolerance of 1e-10, on the whole tree or the contracted one.
const Course& reference(int each, bool contracted) {
    static std::map<std::pair<int, bool>, Course> known;
    const auto [at, is_new] = known.try_emplace({each, contracted});
    if (is_new) {
        TreeCircuit circuit(each, contracted);
        at->second = by_cvode(circuit, 1e-10, 0.0);
    }
    return at->second;
}

void stroke(benchmark::State& state, std::size_t method, int each, double stop, double tolerance) {
    const Method& m = methods()[method];
    Point point{tolerance};
    for (auto _ : state) {
        TreeCircuit circuit(each, m.contracted);
        const double before = circuit.held(circuit.start());
        const std::clock_t begin = std::clock();
        Course course;
        try {
            course = m.run(circuit, tolerance, stop);
        } catch (const std::runtime_error& gave_up) {
            state.SkipWithError(gave_up.what());
            return;
        }
        const double time = double(std::clock() - begin) / CLOCKS_PER_SEC;
        state.SetIterationTime(time);
        point.time = std::min(point.time, time);
        point.error = difference(course, reference(each, m.contracted));
        point.defect = std::abs(course.held / before - 1.0);
        point.rates = circuit.rates;
        point.jacobians = circuit.jacobians;
    }
    state.counters["error"] = point.error;
    state.counters["best_us"] = point.time * 1e6;
    curves()[{method, each, stop}].push_back(point);
}

/// Time of one call of the right-hand side, best of ten batches [s].
double time_of_a_call(int each, bool contracted) {
    TreeCircuit circuit(each, contracted);
    const Eigen::VectorXd y = circuit.start();
    Eigen::VectorXd f;
    double best = 1e300;
    const int calls = 200000 / each;
    for (int batch = 0; batch < 10; ++batch) {
        const std::clock_t begin = std::clock();
        for (int i = 0; i < calls; ++i) {
            circuit.rate(y, f);
            benchmark::DoNotOptimize(f.data());
        }
        best = std::min(best, double(std::clock() - begin) / CLOCKS_PER_SEC / calls);
    }
    return best;
}

/// The loosest tolerance from which on the error stays below the wanted one.
std::optional<Point> at_wanted_error(const std::vector<Point>& curve) {
    std::optional<Point> found;
    for (auto p = curve.rbegin(); p != curve.rend() && p->error <= wanted; ++p) found = *p;
    return found;
}

void print_curves() {
    fmt::print("\n| integrator | nodes | stop every | tolerance | error | right-hand sides | Jacobians | "
               "time [us] | defect |\n|---|---|---|---|---|---|---|---|---|\n");
    for (const auto& [key, curve] : curves()) {
        const auto [method, each, stop] = key;
        for (const Point& p : curve)
            fmt::print("| {} | {} | {:.0f} ms | {:.1e} | {:.1e} | {} | {} | {:.0f} | {:.0e} |\n",
                       methods()[method].name, TreeCircuit(each, methods()[method].contracted).nodes(),
                       stop * 1e3, p.tolerance, p.error, p.rates, p.jacobians, p.time * 1e6, p.defect);
    }
}

/// Work at the wanted error, others over ours, and the exponent of time in the number of nodes.
void print_ratios() {
    fmt::print(
        "\nAt errors of at most {:.0e}:\n| integrator | nodes | stop every | tolerance | error | right-hand "
        "sides | Jacobians | time [us] | one call [us] | its calls / ours | its time / ours |\n"
        "|---|---|---|---|---|---|---|---|---|---|---|\n",
        wanted);
    std::map<std::pair<std::size_t, double>, std::vector<std::pair<double, double>>> growth;
    for (const auto& [key, curve] : curves()) {
        const auto [method, each, stop] = key;
        const Method& m = methods()[method];
        const auto p = at_wanted_error(curve), ours = at_wanted_error(curves()[{0, each, stop}]);
        if (!p || !ours) {
            fmt::print("| {} | {} lumps a line | {:.0f} ms | not reached |\n", m.name, each, stop * 1e3);
            continue;
        }
        growth[{method, stop}].emplace_back(std::log(double(TreeCircuit(each).nodes())), std::log(p->time));
        fmt::print(
            "| {} | {} | {:.0f} ms | {:.1e} | {:.1e} | {} | {} | {:.0f} | {:.2f} | {:.2f} | {:.2f} |\n",
            m.name, TreeCircuit(each, m.contracted).nodes(), stop * 1e3, p->tolerance, p->error, p->rates,
            p->jacobians, p->time * 1e6, time_of_a_call(each, m.contracted) * 1e6,
            double(p->rates) / double(ours->rates), p->time / ours->time);
    }
    fmt::print(
        "\n| integrator | stop every | exponent of time in the nodes of the whole tree |\n|---|---|---|\n");
    for (const auto& [key, points] : growth) {
        double n = 0.0, sx = 0.0, sy = 0.0, sxx = 0.0, sxy = 0.0;
        for (const auto& [x, y] : points) {
            n += 1.0;
            sx += x;
            sy += y;
            sxx += x * x;
            sxy += x * y;
        }
        if (n > 1.0)
            fmt::print("| {} | {:.0f} ms | {:.2f} |\n", methods()[key.first].name, key.second * 1e3,
                       (n * sxy - sx * sy) / (n * sxx - sx * sx));
    }
    fmt::print("\n");
    for (const int each : lumps)
        fmt::print(
            "References without and with a stop every 20 ms, {} nodes: {:.1e} apart; by our step at 1e-7: "
            "{:.1e}; contraction moves results by {:.1e}.\n",
            TreeCircuit(each).nodes(),
            [&] {
                TreeCircuit c(each);
                return difference(by_cvode(c, 1e-10, 0.02), reference(each, false));
            }(),
            [&] {
                TreeCircuit c(each);
                return difference(by_rodas3(c, 1e-7, 0.0), reference(each, false));
            }(),
            difference(reference(each, true), reference(each, false)));
}

void register_all() {
    for (std::size_t method = 0; method < methods().size(); ++method)
        for (const int each : lumps)
            for (const double stop : stops)
                for (const double tolerance : methods()[method].tolerances) {
                    const Method& m = methods()[method];
                    if (each > m.most_lumps) continue;
                    const std::string name = fmt::format("{}/lumps:{}/stop_ms:{:.0f}/tolerance:{:.1e}",
                                                         m.name, each, stop * 1e3, tolerance);
                    const int times = m.run == by_rosenbrock4 && each > 3 ? 2 : 7;
                    benchmark::RegisterBenchmark(
                        name.c_str(), [=](benchmark::State& s) { stroke(s, method, each, stop, tolerance); })
                        ->Iterations(times)
                        ->UseManualTime()
                        ->Unit(benchmark::kMicrosecond);
                }
}

} // namespace
} // namespace clearstroke::bench

int main(int argc, char** argv) {
    benchmark::Initialize(&argc, argv);
    clearstroke::bench::register_all();
    benchmark::RunSpecifiedBenchmarks();
    clearstroke::bench::print_curves();
    clearstroke::bench::print_ratios();
    return 0;
}
