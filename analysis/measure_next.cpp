#include "analysis/measure_next.hpp"

#include <algorithm>
#include <atomic>
#include <cmath>

#include <tbb/parallel_for.h>

#include "analysis/orders.hpp"

namespace clearstroke {
namespace {

// Runs the two orders at changed values.
struct Bench {
    const CaseFactory& factory;
    const MeasureRequest& request;
    std::vector<double> usual = usual_values(factory);

    [[nodiscard]] Case with(std::size_t parameter, double value) const {
        std::vector<double> values = usual;
        if (parameter < values.size()) values[parameter] = value;
        return factory.make(values);
    }

    [[nodiscard]] PlanResult run(const Case& c, const std::vector<ScrewId>& order) const {
        const PlanRun one[] = {run_plan(c, visits_in_order(c.procedure, order), request.settings)};
        return judge(c, one[0], beyond_all(c.network, one));
    }

    [[nodiscard]] Winner winner(std::size_t parameter, double value) const {
        if (request.order == request.rival) return Winner::tie;
        const Case c = with(parameter, value);
        const PlanRun both[] = {run_plan(c, visits_in_order(c.procedure, request.order), request.settings),
                                run_plan(c, visits_in_order(c.procedure, request.rival), request.settings)};
        const BeyondAll beyond = beyond_all(c.network, both);
        const Standing standings[] = {standing_of(judge(c, both[0], beyond), request.cost),
                                      standing_of(judge(c, both[1], beyond), request.cost)};
        const std::vector<Place> places = rank(standings, request.tie);
        if (places[0].group == places[1].group) return Winner::tie;
        return places[0].index == 0 ? Winner::order : Winner::rival;
    }
};

double effect_of(const PlanResult& usual, const PlanResult& moved, double target) {
    double strokes = std::abs(moved.strokes - usual.strokes);
    if (usual.to_target && moved.to_target)
        strokes = std::max(strokes, std::abs(*moved.to_target - *usual.to_target));
    return strokes + std::abs(moved.air_left - usual.air_left) / std::max(target, 1e-9);
}

bool worth_trying(const Parameter& p) {
    return p.grade != SourceGrade::stated && !p.how_to_measure.empty() && p.low < p.high;
}

// Ends of a band may make an impossible case together with what the file states; such an end has no effect.
std::optional<PlanResult> try_at(const Bench& bench, std::size_t parameter, double value) {
    try {
        const PlanResult result = bench.run(bench.with(parameter, value), bench.request.order);
        return result.failed ? std::nullopt : std::optional(result);
    } catch (const std::invalid_argument&) {
        return std::nullopt;
    }
}

MeasureNext effect_at_ends(const Bench& bench, std::size_t parameter, const PlanResult& usual,
                           double target) {
    const Parameter& p = bench.factory.parameters[parameter];
    MeasureNext next{parameter, 0.0, usual.strokes, usual.strokes, usual.air_left, usual.air_left, {}, {},
                     {},        {}};
    if (const auto low = try_at(bench, parameter, p.low)) {
        next.effect = effect_of(usual, *low, target);
        next.strokes_low = low->strokes;
        next.air_low = low->air_left;
    }
    if (const auto high = try_at(bench, parameter, p.high)) {
        next.effect = std::max(next.effect, effect_of(usual, *high, target));
        next.strokes_high = high->strokes;
        next.air_high = high->air_left;
    }
    return next;
}

Winner winner_or(const Bench& bench, std::size_t parameter, double value, Winner otherwise) {
    try {
        return bench.winner(parameter, value);
    } catch (const std::invalid_argument&) {
        return otherwise;
    }
}

void find_change(const Bench& bench, MeasureNext& next, Winner at_usual) {
    const Parameter& p = bench.factory.parameters[next.parameter];
    next.at_usual = at_usual;
    next.at_low = winner_or(bench, next.parameter, p.low, at_usual);
    next.at_high = winner_or(bench, next.parameter, p.high, at_usual);
    const bool low_differs = next.at_low != at_usual;
    if (!low_differs && next.at_high == at_usual) return;
    next.changes_at = turning_point(p.usual, low_differs ? p.low : p.high, [&](double value) {
        return winner_or(bench, next.parameter, value, at_usual) == at_usual;
    });
}

/// Does it for every number below `count`, on all threads, and tells how many are done.
template <class Do> void for_each_value(std::size_t count, const Progress& progress, const Do& work) {
    std::atomic<std::size_t> done{0};
    tbb::parallel_for(std::size_t{0}, count, [&](std::size_t k) {
        work(k);
        if (progress) progress(++done, count);
    });
}

std::vector<MeasureNext> measure(const CaseFactory& factory, const MeasureRequest& request) {
    const Bench bench{factory, request};
    const Case usual_case = factory.make(bench.usual);
    const PlanResult usual = bench.run(usual_case, request.order);
    if (usual.failed) return {};
    std::vector<std::size_t> tried;
    for (std::size_t i = 0; i < factory.parameters.size(); ++i)
        if (worth_trying(factory.parameters[i])) tried.push_back(i);
    std::vector<MeasureNext> all(tried.size());
    for_each_value(tried.size(), request.progress, [&](std::size_t k) {
        all[k] = effect_at_ends(bench, tried[k], usual, usual_case.procedure.target.excess);
    });
    std::erase_if(all, [&](const MeasureNext& next) { return next.effect < request.least_effect; });
    std::ranges::stable_sort(all, std::greater{}, &MeasureNext::effect);
    if (all.size() > request.most) all.resize(request.most);
    const Winner at_usual = bench.winner(factory.parameters.size(), 0.0);
    for_each_value(all.size(), request.progress,
                   [&](std::size_t k) { find_change(bench, all[k], at_usual); });
    return all;
}

} // namespace

std::vector<MeasureNext> measure_next(const CaseFactory& factory, const MeasureRequest& request) {
    std::vector<MeasureNext> found;
    with_threads(request.threads, [&] { found = measure(factory, request); });
    return found;
}

double turning_point(double a, double b, const std::function<bool(double)>& same_as_a) {
    for (int halving = 0; halving < 6; ++halving) {
        const double middle = 0.5 * (a + b);
        (same_as_a(middle) ? a : b) = middle;
    }
    return 0.5 * (a + b);
}

} // namespace clearstroke
