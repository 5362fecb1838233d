#include "analysis/comparison.hpp"

#include <cmath>

#include <fmt/format.h>
#include <fmt/ranges.h>
#include <tbb/parallel_for.h>

#include "analysis/order_tree.hpp"
#include "analysis/resolution.hpp"

namespace clearstroke {
namespace {

constexpr double ml = 1e-6;
constexpr double same_air = 0.02 * ml; // smaller differences are not worth a word, ours

std::string more_or_less(double difference, const char* unit) {
    return fmt::format("{:.3g} {} {}", std::abs(difference), unit, difference > 0.0 ? "more" : "less");
}

std::string against(const Compared& other, const Compared& first) {
    if (other.result.failed || first.result.failed)
        return fmt::format("{}: {}", other.label,
                           (other.result.failed ? other : first).result.stopped_because);
    const int strokes = other.result.strokes - first.result.strokes;
    const double air = other.result.air_left - first.result.air_left;
    const std::string work = strokes == 0
                                 ? "as many strokes"
                                 : more_or_less(strokes, std::abs(strokes) == 1 ? "stroke" : "strokes");
    const std::string left = std::abs(air) < same_air ? "as much air" : more_or_less(air / ml, "mL of air");
    return fmt::format("{} takes {} and leaves {}{}", other.label, work, left,
                       other.result.target_met == first.result.target_met ? ""
                       : other.result.target_met                          ? " (it alone meets the target)"
                                                                          : " (it misses the target)");
}

} // namespace

PlanResult judge_alone(const Case& c, const PlanRun& run) {
    return judge(c, run, beyond_all(c.network, std::span(&run, 1)));
}

std::vector<Compared> compare_cases(std::vector<std::pair<std::string, Case>> cases, int threads,
                                    const Settings& settings) {
    std::vector<Compared> compared(cases.size());
    with_threads(threads, [&] {
        tbb::parallel_for(std::size_t{0}, cases.size(), [&](std::size_t i) {
            const Case& c = cases[i].second;
            compared[i] = {cases[i].first, c, judge_alone(c, run_plan(c, c.procedure.visits, settings))};
        });
    });
    return compared;
}

TieWidth widest_tie(const std::vector<const CaseFactory*>& factories, Cost cost, int threads,
                    const Settings& settings) {
    std::vector<Resolution> each(factories.size());
    with_threads(threads, [&] {
        tbb::parallel_for(std::size_t{0}, each.size(), [&](std::size_t i) {
            const Case c = factories[i]->make(usual_values(*factories[i]));
            const PlanRun run = run_plan(c, c.procedure.visits, settings);
            if (run.status.usable())
                each[i] = measure_resolution(c, c.procedure.visits, run,
                                             beyond_all(c.network, std::span(&run, 1)), settings);
        });
    });
    Resolution all;
    for (const Resolution& r : each) all = larger(all, r);
    return tie_width(all, cost);
}

Evidence sample_scenarios(const std::vector<const CaseFactory*>& factories, const SampleRequest& request,
                          const Settings& settings) {
    const auto run = [&](const std::vector<std::vector<double>>& values) {
        std::vector<Outcome> outcomes;
        for (std::size_t i = 0; i < factories.size(); ++i) {
            const Case c = factories[i]->make(values[i]);
            outcomes.push_back(outcome_of(judge_alone(c, run_plan(c, c.procedure.visits, settings))));
        }
        return outcomes;
    };
    const Samples samples = run_samples(factories, run, request);
    return evidence_of(samples, Cost::strokes,
                       widest_tie(factories, Cost::strokes, request.threads, settings), 0);
}

std::string comparison_sentence(const std::vector<Compared>& compared) {
    std::vector<std::string> parts;
    for (std::size_t i = 1; i < compared.size(); ++i) parts.push_back(against(compared[i], compared.front()));
    if (parts.empty()) return "Nothing to compare with.";
    return fmt::format("Against {}: {}.", compared.front().label, fmt::join(parts, "; "));
}

} // namespace clearstroke
