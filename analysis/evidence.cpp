#include "analysis/evidence.hpp"

#include <algorithm>
#include <cmath>
#include <stdexcept>

namespace clearstroke {
namespace {

using Scramblings = std::vector<std::vector<double>>;
using Half = std::function<bool(std::size_t scrambling)>;

// A computed sample with its ranking.
struct Ranked {
    const Sample* sample{};
    std::vector<Standing> standings;
    std::vector<char> in_best; // per alternative
    double credit{};           // of each in the best group
};

struct Bench {
    Cost cost;
    TieWidth tie;
    std::vector<std::vector<Ranked>> scramblings;

    [[nodiscard]] Scramblings
    collect(const Half& half, const std::function<void(const Ranked&, std::vector<double>&)>& add) const {
        Scramblings all(scramblings.size());
        for (std::size_t r = 0; r < scramblings.size(); ++r)
            if (half(r))
                for (const Ranked& one : scramblings[r]) add(one, all[r]);
        return all;
    }

    [[nodiscard]] Estimate share(const Half& half, const std::function<double(const Ranked&)>& of) const {
        return estimate(
            collect(half, [&](const Ranked& one, std::vector<double>& to) { to.push_back(of(one)); }),
            [](const std::vector<double>& v) { return mean(v); });
    }
};

bool any(std::size_t) { return true; }
bool choosing(std::size_t r) { return r % 2 == 0; }
bool judging(std::size_t r) { return r % 2 == 1; }

Estimate quantile_of(const Scramblings& values, double p) {
    return estimate(values, [p](std::vector<double> v) { return quantile(std::move(v), p); });
}

Ranked ranked(const Sample& sample, Cost cost, const TieWidth& tie) {
    Ranked one{&sample, {}, std::vector<char>(sample.outcomes.size()), 0.0};
    for (const Outcome& o : sample.outcomes) one.standings.push_back(standing_of(o, cost));
    double best = 0.0;
    for (const Place& place : rank(one.standings, tie)) {
        if (place.group > 1) break;
        one.in_best[place.index] = 1;
        best += 1.0;
    }
    one.credit = 1.0 / best;
    return one;
}

Bench bench_of(const Samples& samples, Cost cost, const TieWidth& tie, Evidence& evidence) {
    Bench bench{cost, tie, std::vector<std::vector<Ranked>>(samples.scramblings.size())};
    for (std::size_t r = 0; r < samples.scramblings.size(); ++r)
        for (const Sample& sample : samples.scramblings[r]) {
            ++evidence.samples;
            if (!sample.outcomes.empty()) {
                bench.scramblings[r].push_back(ranked(sample, cost, tie));
                continue;
            }
            ++evidence.failed;
            if (std::ranges::find(evidence.failures, sample.failure) == evidence.failures.end())
                evidence.failures.push_back(sample.failure);
        }
    return bench;
}

AlternativeEvidence alone(const Bench& bench, std::size_t i) {
    AlternativeEvidence e;
    e.target_met = bench.share(any, [i](const Ranked& s) { return s.standings[i].target_met ? 1.0 : 0.0; });
    e.best = bench.share(any, [i](const Ranked& s) { return s.in_best[i] ? s.credit : 0.0; });
    e.as_good = bench.share(any, [i](const Ranked& s) { return s.in_best[i] ? 1.0 : 0.0; });
    e.mean_cost = bench.share(any, [i](const Ranked& s) { return s.standings[i].cost; });
    const auto quantiles = [&](const std::function<double(const Ranked&)>& of) {
        const Scramblings values = bench.collect(any, [&](const Ranked& s, std::vector<double>& to) {
            if (!s.standings[i].failed) to.push_back(of(s));
        });
        Quantiles q;
        for (std::size_t k = 0; k < q.size(); ++k) q[k] = quantile_of(values, quantile_levels[k]);
        return q;
    };
    e.cost = quantiles([i](const Ranked& s) { return s.standings[i].cost; });
    e.to_target = quantiles([i](const Ranked& s) { return s.sample->outcomes[i].to_target; });
    e.drawn = quantiles([i](const Ranked& s) { return s.sample->outcomes[i].drawn; });
    e.duration = quantiles([i](const Ranked& s) { return s.sample->outcomes[i].duration; });
    e.air_left = quantiles([i](const Ranked& s) { return s.sample->outcomes[i].air_left; });
    return e;
}

// -1: i is behind j, 1: ahead, 0: tied.
int compared(const Bench& bench, const Ranked& s, std::size_t i, std::size_t j) {
    const Standing both[] = {s.standings[i], s.standings[j]};
    const std::vector<Place> places = rank(both, bench.tie);
    if (places[0].group == places[1].group) return 0;
    return places[0].index == 0 ? 1 : -1;
}

bool both_meet(const Ranked& s, std::size_t i, std::size_t j) {
    return s.standings[i].target_met && s.standings[j].target_met;
}

Paired paired(const Bench& bench, std::size_t i, std::size_t chosen) {
    const auto share = [&](int sign) {
        return bench.share(judging, [&, sign](const Ranked& s) {
            return compared(bench, s, i, chosen) == sign ? 1.0 : 0.0;
        });
    };
    const Scramblings differences = bench.collect(judging, [&](const Ranked& s, std::vector<double>& to) {
        if (both_meet(s, i, chosen)) to.push_back(s.standings[i].cost - s.standings[chosen].cost);
    });
    return {share(-1),
            share(0),
            share(1),
            bench.share(judging, [&](const Ranked& s) { return both_meet(s, i, chosen) ? 1.0 : 0.0; }),
            quantile_of(differences, 0.025),
            quantile_of(differences, 0.5),
            quantile_of(differences, 0.975)};
}

std::size_t choose(const Bench& bench, std::size_t alternatives) {
    std::size_t chosen = 0;
    double best = -1.0, least = 0.0;
    for (std::size_t i = 0; i < alternatives; ++i) {
        const double good =
            bench.share(choosing, [i](const Ranked& s) { return s.in_best[i] ? 1.0 : 0.0; }).value;
        const double cost = bench.share(choosing, [i](const Ranked& s) { return s.standings[i].cost; }).value;
        if (good > best || (good == best && cost < least)) {
            chosen = i;
            best = good;
            least = cost;
        }
    }
    return chosen;
}

void find_drivers(Evidence& evidence, const Bench& bench, const Samples& samples) {
    std::vector<double> difference, cost;
    std::vector<const Sample*> at, at_difference;
    for (const auto& scrambling : bench.scramblings)
        for (const Ranked& s : scrambling) {
            at.push_back(s.sample);
            cost.push_back(s.standings[evidence.chosen].cost);
            if (!both_meet(s, evidence.rival, evidence.chosen)) continue;
            at_difference.push_back(s.sample);
            difference.push_back(s.standings[evidence.rival].cost - s.standings[evidence.chosen].cost);
        }
    const auto varies = [&](const std::vector<double>& y) {
        return !y.empty() && std::ranges::max(y) - std::ranges::min(y) > bench.tie.cost;
    };
    evidence.drivers_of_difference = 2 * difference.size() > cost.size() && varies(difference);
    const std::vector<double>& y = evidence.drivers_of_difference ? difference : cost;
    const std::vector<const Sample*>& where = evidence.drivers_of_difference ? at_difference : at;
    const std::size_t bins = std::clamp<std::size_t>(y.size() / 16, 2, 16);
    if (y.size() <= bins) return;
    evidence.by_chance = explained_by_chance(y.size(), bins);
    for (std::size_t k = 0; k < samples.names.size(); ++k) {
        std::vector<double> x;
        for (const Sample* s : where) x.push_back(s->u[k]);
        evidence.drivers.push_back({samples.names[k], explained_share(x, y, bins), correlation(x, y)});
    }
    std::ranges::stable_sort(evidence.drivers, std::greater{}, &Driver::share);
}

} // namespace

Evidence evidence_of(const Samples& samples, Cost cost, const TieWidth& tie, std::size_t rival) {
    Evidence evidence;
    evidence.scramblings = samples.scramblings.size();
    evidence.cost = cost;
    evidence.rival = rival;
    const Bench bench = bench_of(samples, cost, tie, evidence);
    const auto some = std::ranges::find_if(bench.scramblings, [](const auto& s) { return !s.empty(); });
    if (some == bench.scramblings.end())
        throw std::invalid_argument("no sample could be computed: " + (evidence.failures.empty()
                                                                           ? "none asked for"
                                                                           : evidence.failures.front()));
    const std::size_t alternatives = some->front().standings.size();
    evidence.chosen = choose(bench, alternatives);
    for (std::size_t i = 0; i < alternatives; ++i) {
        evidence.alternatives.push_back(alone(bench, i));
        evidence.alternatives.back().against_chosen = paired(bench, i, evidence.chosen);
    }
    evidence.all_tie = bench.share(any, [](const Ranked& s) {
        return std::ranges::all_of(s.in_best, [](char b) { return b; }) ? 1.0 : 0.0;
    });
    evidence.chosen_as_good =
        bench.share(judging, [&](const Ranked& s) { return s.in_best[evidence.chosen] ? 1.0 : 0.0; });
    if (evidence.chosen == rival) // nothing else is asked for: the one most often behind
        evidence.rival = static_cast<std::size_t>(
            std::ranges::min_element(evidence.alternatives, {},
                                     [](const AlternativeEvidence& a) { return a.as_good.value; }) -
            evidence.alternatives.begin());
    find_drivers(evidence, bench, samples);
    return evidence;
}

} // namespace clearstroke
