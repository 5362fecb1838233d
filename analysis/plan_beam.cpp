#include "analysis/plan_beam.hpp"

#include <algorithm>
#include <cmath>
#include <limits>
#include <tuple>

#include <tbb/enumerable_thread_specific.h>
#include <tbb/parallel_for.h>

#include "analysis/order_search.hpp"

namespace clearstroke {
namespace {

constexpr double same_air = 1e-10; // less than this more does not save a plan from being dominated [m^3]
constexpr int every_count = 8;     // counted visits: each number of strokes up to here, then every fourth

bool tried(int strokes) { return strokes <= every_count || strokes % 4 == 0; }

// Every visit that may follow a part plan at one screw.
struct Visited {
    std::vector<PartPlan> plans;
    std::size_t strokes{};
    bool thinned{};
};

class PlanBeam {
public:
    PlanBeam(const Case& c, const BeyondAll& beyond, const BeamRequest& request, const Settings& settings)
        : case_(c), beyond_(beyond), request_(request),
          sims_([&c, settings] { return Simulation(c.network, settings); }) {
        for (const Visit& v : request.visits) least_.push_back(least_cost(v, c.procedure, request.cost));
    }

    Beam run() {
        const Prepared ready = prepare(sims_.local(), case_);
        if (!ready.status.usable()) return {};
        drawn_before_ = ready.state.ledger.drawn;
        std::vector<PartPlan> level(1);
        PartPlan& start = level[0];
        start.made.assign(request_.visits.size(), 0);
        start.clear.assign(request_.visits.size(), 0);
        start.last = request_.visits.size();
        settle(start, sims_.local(), ready.state, 0);
        while (!level.empty()) level = keep(expand(level));
        std::ranges::stable_sort(found_.complete, {},
                                 [](const PartPlan& p) { return std::pair(p.spent, p.air.total); });
        if (request_.cost != Cost::fluid && std::isfinite(dropped_)) found_.bound = dropped_;
        return std::move(found_);
    }

private:
    const Case& case_;
    const BeyondAll& beyond_;
    const BeamRequest& request_;
    tbb::enumerable_thread_specific<Simulation> sims_;
    std::vector<double> least_;
    Beam found_;
    double drawn_before_{};
    double dropped_ = std::numeric_limits<double>::infinity();

    [[nodiscard]] double bound(const PartPlan& p) const {
        double sum = p.spent;
        for (std::size_t i = 0; i < least_.size(); ++i)
            if (!p.clear[i]) sum += least_[i];
        return sum;
    }

    // Can it still save more than the least gain?
    [[nodiscard]] bool may_gain(const PartPlan& p) const {
        return !request_.known || bound(p) < *request_.known - request_.least_gain;
    }

    void settle(PartPlan& p, Simulation& sim, State state, std::size_t strokes) const {
        p.air = sim.air(state);
        p.excess = 0.0;
        for (std::size_t i = 0; i < p.air.of_circuit.size(); ++i)
            p.excess = std::max(p.excess, p.air.of_circuit[i] - beyond_.of_circuit[i]);
        p.spent = request_.cost == Cost::time    ? state.t
                  : request_.cost == Cost::fluid ? state.ledger.drawn - drawn_before_
                                                 : p.spent + static_cast<double>(strokes);
        p.state = std::make_shared<const State>(std::move(state));
    }

    [[nodiscard]] PartPlan after(const PartPlan& from, std::size_t screw, std::optional<int> strokes) const {
        PartPlan next = from;
        next.visits.push_back(request_.visits[screw]);
        if (strokes) next.visits.back().strokes = strokes;
        ++next.made[screw];
        next.clear[screw] = !strokes;
        next.last = screw;
        return next;
    }

    // One visit until clear, and the counted ones that it passes through.
    Visited visit(const PartPlan& from, std::size_t screw) {
        Simulation& sim = sims_.local();
        std::vector<State> passed;
        sim.observe([&](const State& s, Moment moment) {
            if (moment == Moment::stroke) passed.push_back(s);
        });
        State state = *from.state;
        const Visit& planned = request_.visits[screw];
        const VisitRecord record = sim.visit(state, planned, case_.procedure);
        sim.observe({});
        Visited out{{}, record.strokes.size(), false};
        const bool clear = record.status.why == RunEnd::seen_clear || record.status.why == RunEnd::done;
        if (clear) {
            out.plans.push_back(after(from, screw, {}));
            settle(out.plans.back(), sim, std::move(state), record.strokes.size());
        }
        if (!record.status.usable() || from.made[screw] + 1 >= request_.most_visits) return out;
        const Method& method = planned.method ? *planned.method : case_.procedure.method;
        const int most = static_cast<int>(passed.size()) - (clear ? 1 : 0); // at the limit: all of them
        for (int k = 1; k <= most; ++k) {
            out.thinned = out.thinned || !tried(k);
            if (!tried(k)) continue;
            State left = std::move(passed[static_cast<std::size_t>(k) - 1]);
            bool usable = true;
            for (const Act& act : method.leave)
                usable = usable && sim.act(left, act, case_.procedure.person, planned.screw).usable();
            if (!usable) continue;
            out.plans.push_back(after(from, screw, k));
            settle(out.plans.back(), sim, std::move(left), static_cast<std::size_t>(k));
        }
        return out;
    }

    std::vector<PartPlan> expand(const std::vector<PartPlan>& level) {
        std::vector<std::pair<const PartPlan*, std::size_t>> steps;
        for (const PartPlan& from : level)
            for (std::size_t screw = 0; screw < least_.size(); ++screw)
                if (screw != from.last && from.made[screw] < request_.most_visits)
                    steps.emplace_back(&from, screw);
        std::vector<Visited> visited(steps.size());
        tbb::parallel_for(std::size_t{0}, steps.size(),
                          [&](std::size_t i) { visited[i] = visit(*steps[i].first, steps[i].second); });
        std::vector<PartPlan> next;
        for (std::size_t i = 0; i < steps.size(); ++i) {
            ++found_.work.visits;
            found_.work.strokes += visited[i].strokes;
            if (visited[i].thinned) dropped_ = std::min(dropped_, bound(*steps[i].first));
            for (PartPlan& p : visited[i].plans) take(std::move(p), next);
        }
        return next;
    }

    void take(PartPlan p, std::vector<PartPlan>& next) {
        const bool all_clear = std::ranges::all_of(p.clear, [](char c) { return c != 0; });
        if (!may_gain(p)) {
            dropped_ = std::min(dropped_, bound(p));
        } else if (all_clear && p.excess <= case_.procedure.target.excess) {
            p.state.reset();
            found_.complete.push_back(std::move(p));
        } else {
            next.push_back(std::move(p));
        }
    }

    [[nodiscard]] static bool dominates(const PartPlan& a, const PartPlan& b) {
        const auto no_more = [](double x, double y) { return x <= y + same_air; };
        return a.last == b.last && a.made == b.made && a.clear == b.clear && a.spent <= b.spent &&
               std::ranges::equal(a.air.of_volume, b.air.of_volume, no_more) &&
               std::ranges::equal(a.air.of_line, b.air.of_line, no_more);
    }

    std::vector<PartPlan> keep(std::vector<PartPlan> all) {
        std::vector<std::tuple<double, double, std::size_t>> sorted;
        for (std::size_t i = 0; i < all.size(); ++i)
            sorted.emplace_back(bound(all[i]) + request_.lambda * std::max(all[i].excess, 0.0),
                                all[i].air.total, i);
        std::ranges::sort(sorted);
        std::vector<PartPlan> kept;
        for (const auto& [estimate, air, i] : sorted) {
            const bool stays =
                kept.size() < request_.width &&
                std::ranges::none_of(kept, [&](const PartPlan& k) { return dominates(k, all[i]); });
            if (stays)
                kept.push_back(std::move(all[i]));
            else
                dropped_ = std::min(dropped_, bound(all[i]));
        }
        return kept;
    }
};

} // namespace

Beam search_plans(const Case& c, const BeyondAll& beyond, const BeamRequest& request,
                  const Settings& settings) {
    return PlanBeam(c, beyond, request, settings).run();
}

} // namespace clearstroke
