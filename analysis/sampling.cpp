#include "analysis/sampling.hpp"

#include <algorithm>
#include <atomic>
#include <limits>
#include <stdexcept>

#include <tbb/parallel_for.h>
#include <tbb/task_arena.h>

#include "analysis/sobol_points.hpp"

namespace clearstroke {
namespace {

// What all samples share.
struct Plan {
    const std::vector<const CaseFactory*>& factories;
    const Alternatives& run;
    std::vector<std::vector<Coordinate>> coordinates; // of each scenario
    std::vector<std::string> names;
    std::vector<SobolPoints> scramblings;

    [[nodiscard]] std::vector<double> values(std::size_t scenario, const std::vector<double>& u) const {
        std::vector<double> own;
        for (const Coordinate& c : coordinates[scenario])
            own.push_back(u[static_cast<std::size_t>(std::ranges::find(names, c.name) - names.begin())]);
        return values_at(*factories[scenario], coordinates[scenario], own);
    }

    [[nodiscard]] Sample sample(std::size_t scrambling, std::size_t point) const {
        Sample s;
        if (!scramblings.empty()) s.u = scramblings[scrambling].point(point);
        std::vector<std::vector<double>> all;
        for (std::size_t i = 0; i < factories.size(); ++i) all.push_back(values(i, s.u));
        try {
            s.outcomes = run(all);
        } catch (const std::invalid_argument& e) {
            s.failure = e.what();
        }
        return s;
    }
};

} // namespace

Outcome outcome_of(const PlanResult& r) {
    return {r.failed,
            r.target_met,
            static_cast<double>(r.strokes),
            r.to_target.value_or(std::numeric_limits<double>::infinity()),
            r.drawn,
            r.duration,
            r.air_left,
            r.excess};
}

Standing standing_of(const Outcome& o, Cost cost) {
    const double paid = cost == Cost::time ? o.duration : cost == Cost::fluid ? o.drawn : o.strokes;
    return {o.failed, o.target_met, paid, o.excess};
}

Samples run_samples(const std::vector<const CaseFactory*>& factories, const Alternatives& run,
                    const SampleRequest& request) {
    Plan plan{factories, run, {}, {}, {}};
    for (const CaseFactory* factory : factories) plan.coordinates.push_back(coordinates_of(*factory));
    plan.names = shared_names(plan.coordinates);
    if (!plan.names.empty())
        for (std::size_t r = 0; r < request.scramblings; ++r)
            plan.scramblings.emplace_back(plan.names.size(), scrambling_seed(request.seed, r));
    const std::size_t points = (request.samples + request.scramblings - 1) / request.scramblings;
    const std::size_t total = points * request.scramblings;
    Samples samples{plan.names, {request.scramblings, std::vector<Sample>(points)}};
    std::atomic<std::size_t> done{0};
    with_threads(request.threads, [&] {
        tbb::parallel_for(std::size_t{0}, total, [&](std::size_t i) {
            // A waiting thread must not begin another sample: memory would grow with the samples in flight.
            tbb::this_task_arena::isolate(
                [&] { samples.scramblings[i / points][i % points] = plan.sample(i / points, i % points); });
            if (request.progress) request.progress(++done, total);
        });
    });
    return samples;
}

} // namespace clearstroke
