#include "analysis/resolution.hpp"

#include <algorithm>
#include <cmath>

#include <tbb/parallel_for.h>

namespace clearstroke {
namespace {

Settings refined(Settings settings) {
    settings.tolerance *= 0.5;
    settings.lump_factor *= 2;
    return settings;
}

} // namespace

std::vector<Visit> with_fixed_strokes(std::vector<Visit> visits, const PlanRun& run) {
    for (std::size_t i = 0; i < visits.size() && i < run.visits.size(); ++i)
        visits[i].strokes = static_cast<int>(run.visits[i]->record.strokes.size());
    return visits;
}

Resolution measure_resolution(const Case& c, const std::vector<Visit>& visits, const PlanRun& base,
                              const BeyondAll& beyond, const Settings& settings) {
    const std::vector<Visit> plans[] = {with_fixed_strokes(visits, base), visits};
    PlanResult results[2];
    tbb::parallel_for(std::size_t{0}, std::size_t{2}, [&](std::size_t i) {
        results[i] = judge(c, run_plan(c, plans[i], refined(settings)), beyond);
    });
    const PlanResult coarse = judge(c, base, beyond);
    const PlanResult &fixed = results[0], &free = results[1];
    Resolution r;
    if (coarse.to_target && fixed.to_target) r.to_target = std::abs(*coarse.to_target - *fixed.to_target);
    r.air = std::abs(coarse.air_left - fixed.air_left);
    r.strokes = std::abs(coarse.strokes - free.strokes);
    r.duration = std::abs(coarse.duration - free.duration);
    r.drawn = std::abs(coarse.drawn - free.drawn);
    return r;
}

Resolution larger(const Resolution& a, const Resolution& b) {
    return {std::max(a.to_target, b.to_target), std::max(a.air, b.air), std::max(a.strokes, b.strokes),
            std::max(a.duration, b.duration), std::max(a.drawn, b.drawn)};
}

TieWidth tie_width(const Resolution& r, Cost cost) {
    switch (cost) {
    case Cost::time:
        return {r.duration, r.air};
    case Cost::fluid:
        return {r.drawn, r.air};
    case Cost::strokes:
        break;
    }
    return {std::max(r.strokes, r.to_target), r.air};
}

std::vector<ConvergenceRow> convergence_table(const Case& c, const std::vector<Visit>& fixed,
                                              std::span<const double> tolerances,
                                              std::span<const int> lump_factors, const Settings& settings) {
    std::vector<PlanRun> runs(tolerances.size());
    std::vector<ConvergenceRow> rows(tolerances.size());
    tbb::parallel_for(std::size_t{0}, rows.size(), [&](std::size_t i) {
        Settings own = settings;
        own.tolerance = tolerances[i];
        own.lump_factor = lump_factors[i];
        runs[i] = run_plan(c, fixed, own);
    });
    const BeyondAll beyond = beyond_all(c.network, runs);
    for (std::size_t i = 0; i < rows.size(); ++i) {
        const PlanResult result = judge(c, runs[i], beyond);
        rows[i] = {tolerances[i], lump_factors[i], result.to_target, result.air_left};
    }
    return rows;
}

std::optional<double> observed_order(double a, double b, double c) {
    if (b == c) return std::nullopt;
    return std::log2(std::abs(a - b) / std::abs(b - c));
}

} // namespace clearstroke
