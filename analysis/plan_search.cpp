#include "analysis/plan_search.hpp"

#include <algorithm>
#include <cmath>

#include <fmt/format.h>
#include <fmt/ranges.h>
#include <tbb/parallel_for.h>

#include "analysis/finding.hpp"
#include "analysis/order_search.hpp"
#include "analysis/plan_beam.hpp"

namespace clearstroke {
namespace {

constexpr double ml = 1e-6;

// Topped up before each stroke that would begin too low, a reservoir is never lower than one stroke takes it.
bool level_kept(const Case& c, const PlanRun& run) {
    double stroke = 0.0;
    for (const auto& visit : run.visits)
        for (const StrokeRecord& s : visit->record.strokes) stroke = std::max(stroke, s.drawn);
    return std::ranges::all_of(c.network.reservoirs, [&](const Reservoir& r) {
        return run.ledger.lowest_level >= c.procedure.person.top_up_below * r.capacity - stroke;
    });
}

// A plan and the best order side by side.
struct Pair {
    PlanRun plan, order;
    PlanResult plan_result, order_result;
    LeastAir least;
};

Pair side_by_side(const Case& c, const std::vector<Visit>& plan, const std::vector<Visit>& order,
                  const LeastAir& known, const Settings& settings) {
    Pair pair{run_plan(c, plan, settings), run_plan(c, order, settings), {}, {}, known};
    pair.least.add(pair.plan);
    pair.least.add(pair.order);
    const BeyondAll beyond = pair.least.beyond(c.network);
    pair.plan_result = judge(c, pair.plan, beyond);
    pair.order_result = judge(c, pair.order, beyond);
    return pair;
}

// Does the last visit to every screw end in clear fluid?
bool ends_clear(const PlanResult& result) {
    std::vector<std::pair<ScrewId, bool>> last;
    for (const VisitOutcome& visit : result.visits) {
        std::erase_if(last, [&](const auto& l) { return l.first == visit.screw; });
        last.emplace_back(visit.screw, visit.ended_clear);
    }
    return std::ranges::all_of(last, [](const auto& l) { return l.second; });
}

PlanCheck check_on(const CaseFactory& factory, const ValueSet& set, const std::vector<Visit>& plan,
                   const std::vector<Visit>& order, const BestPlan& about, Cost cost,
                   const Settings& settings) {
    const Case c = factory.make(set.values);
    const Pair pair = side_by_side(c, plan, order, {}, settings);
    const PlanResult &mine = pair.plan_result, &theirs = pair.order_result;
    const bool dearer = theirs.target_met && cost_of(mine, cost) > cost_of(theirs, cost) + about.tie;
    const bool holds = !mine.failed && (mine.target_met || !theirs.target_met) && !dearer &&
                       ends_clear(mine) && level_kept(c, pair.plan);
    return {set, mine, theirs, holds};
}

bool saves(const BestPlan& plan) {
    return plan.result.target_met && (!plan.order.target_met || plan.gain > plan.tie);
}

class Finder {
public:
    Finder(const CaseFactory& factory, const OrdersReport& report, const PlanRequest& request)
        : factory_(factory), report_(report), request_(request),
          order_(visits_in_order(report.usual.procedure, report.best().screws)) {}

    BestPlan find() {
        const Case& c = report_.usual;
        const Beam beam = search_plans(c, report_.beyond, beam_request(), request_.settings);
        BestPlan best = plain();
        for (std::size_t i = 0; i < std::min(beam.complete.size(), request_.most_checked); ++i) {
            BestPlan plan = judged(beam.complete[i]);
            if (!saves(plan) || !plan.same_bits) continue;
            check(plan);
            if (best.verdict == BestPlan::Verdict::gain_not_firm && plan.verdict == best.verdict) continue;
            best = std::move(plan);
            if (best.verdict == BestPlan::Verdict::gain) break;
        }
        best.complete = beam.complete.size();
        best.work = beam.work;
        best.bound = beam.bound;
        best.sentence = sentence(best);
        return best;
    }

private:
    const CaseFactory& factory_;
    const OrdersReport& report_;
    const PlanRequest& request_;
    std::vector<Visit> order_;

    [[nodiscard]] double cost(const PlanResult& result) const { return cost_of(result, report_.cost); }

    [[nodiscard]] BeamRequest beam_request() const {
        const Procedure& procedure = report_.usual.procedure;
        const PlanResult& best = report_.best().result;
        BeamRequest beam;
        beam.visits = visits_in_order(procedure, report_.points);
        beam.most_visits = request_.most_visits;
        beam.width = request_.width;
        beam.cost = report_.cost;
        if (best.target_met) beam.known = cost(best);
        beam.least_gain = report_.tie.cost;
        double least = 0.0;
        for (const Visit& v : beam.visits) least += least_cost(v, procedure, report_.cost);
        const double air = std::max(best.air_start - best.beyond_reach, 1.0 * ml);
        beam.lambda = std::max(cost(best) - least, 0.0) / air;
        return beam;
    }

    // The best order itself, as a plan.
    [[nodiscard]] BestPlan plain() const {
        BestPlan plan;
        plan.visits = order_;
        plan.result = plan.order = report_.best().result;
        plan.tie = report_.tie.cost;
        plan.same_bits = true;
        plan.verdict = plan.result.target_met ? BestPlan::Verdict::no_gain : BestPlan::Verdict::no_target;
        for (std::size_t s = 0; s < report_.sets.size(); ++s) {
            const PlanResult& result = report_.spreads.front().results[s];
            plan.checks.push_back({report_.sets[s], result, result, true});
        }
        add_worst(plan);
        return plan;
    }

    [[nodiscard]] BestPlan judged(const PartPlan& found) const {
        BestPlan plan = plain();
        plan.visits = found.visits;
        const LeastAir known{report_.beyond.of_volume, report_.beyond.of_line};
        const Pair pair = side_by_side(report_.usual, plan.visits, order_, known, request_.settings);
        plan.result = pair.plan_result;
        plan.order = pair.order_result;
        plan.gain = cost(plan.order) - cost(plan.result);
        plan.same_bits = pair.plan.air_end.of_volume == found.air.of_volume &&
                         pair.plan.air_end.of_line == found.air.of_line;
        if (pair.plan.status.usable()) {
            const Resolution own =
                measure_resolution(report_.usual, plan.visits, pair.plan,
                                   pair.least.beyond(report_.usual.network), request_.settings);
            plan.tie = tie_width(larger(own, report_.resolution), report_.cost).cost;
        }
        return plan;
    }

    void check(BestPlan& plan) const {
        const std::vector<ValueSet> sets = low_and_high(factory_);
        plan.checks.assign(sets.size(), {});
        tbb::parallel_for(std::size_t{0}, sets.size(), [&](std::size_t s) {
            plan.checks[s] =
                check_on(factory_, sets[s], plan.visits, order_, plan, report_.cost, request_.settings);
        });
        const bool firm = ends_clear(plan.result) && std::ranges::all_of(plan.checks, &PlanCheck::holds);
        plan.verdict = firm ? BestPlan::Verdict::gain : BestPlan::Verdict::gain_not_firm;
        add_worst(plan);
    }

    void add_worst(BestPlan& plan) const {
        plan.worst = cost(plan.result);
        plan.worst_of_order = cost(plan.order);
        for (const PlanCheck& c : plan.checks) {
            plan.worst = std::max(plan.worst, cost(c.plan));
            plan.worst_of_order = std::max(plan.worst_of_order, cost(c.order));
        }
    }

    [[nodiscard]] std::string no_gain(const BestPlan& plan) const {
        const std::string kind =
            fmt::format("No gain: no plan tried with up to {} visits a screw ", request_.most_visits);
        if (plan.verdict == BestPlan::Verdict::no_target) return kind + "meets the target, as no order does.";
        return kind + fmt::format("saves more than what cannot be told apart from the best order's {}.",
                                  cost_text(cost(plan.result), report_.cost));
    }

    // Where it takes fewer strokes than the best order and where more.
    [[nodiscard]] std::string why(const BestPlan& plan) const {
        if (!plan.order.target_met) return "a return moves air that the best order leaves";
        std::vector<std::string> fewer, more;
        const auto mine = strokes_by_screw(plan.result), theirs = strokes_by_screw(plan.order);
        for (std::size_t i = 0; i < mine.size(); ++i) {
            const int saved = theirs[i].second - mine[i].second;
            const std::string& name = report_.usual.network.screws[mine[i].first.index].name;
            if (saved > 0) fewer.push_back(fmt::format("{} at {}", saved, name));
            if (saved < 0) more.push_back(fmt::format("{} at {}", -saved, name));
        }
        return fmt::format("strokes saved: {}; spent: {}",
                           fewer.empty() ? "none" : fmt::format("{}", fmt::join(fewer, ", ")),
                           more.empty() ? "none" : fmt::format("{}", fmt::join(more, ", ")));
    }

    [[nodiscard]] std::string sentence(const BestPlan& plan) const {
        if (plan.verdict == BestPlan::Verdict::no_gain || plan.verdict == BestPlan::Verdict::no_target)
            return no_gain(plan);
        std::string text = fmt::format("Best plan: {}: {}, ", plan_text(report_.usual.network, plan.visits),
                                       cost_text(cost(plan.result), report_.cost));
        text += plan.order.target_met
                    ? fmt::format("{} less than the best order", cost_text(plan.gain, report_.cost))
                    : std::string("and it meets the target, which no order does");
        const RankedOrder* rule = find_known(report_, "farthest first");
        if (rule && rule->result.target_met && rule->group != report_.best().group)
            text += fmt::format(", {} less than farthest first",
                                cost_text(cost(rule->result) - cost(plan.result), report_.cost));
        const double later = plan.result.duration - plan.order.duration;
        if (report_.cost != Cost::time)
            text += fmt::format(", {} {} with its moves", cost_text(std::abs(later), Cost::time),
                                later > 0.0 ? "longer" : "shorter");
        text += "; " + why(plan);
        if (plan.verdict == BestPlan::Verdict::gain_not_firm) {
            std::vector<std::string> not_so;
            for (const PlanCheck& c : plan.checks)
                if (!c.holds) not_so.push_back(c.set.name);
            text += fmt::format("; not so where {}", not_so.empty()
                                                         ? "it does not end clear"
                                                         : fmt::format("{}", fmt::join(not_so, ", or ")));
        }
        return text + ".";
    }
};

} // namespace

BestPlan find_best_plan(const CaseFactory& factory, const OrdersReport& report, const PlanRequest& request) {
    BestPlan best;
    with_threads(request.threads, [&] { best = Finder(factory, report, request).find(); });
    return best;
}

std::string plan_text(const Network& net, const std::vector<Visit>& visits) {
    std::vector<std::string> parts;
    for (const Visit& visit : visits)
        parts.push_back(fmt::format("{} {}", net.screws[visit.screw.index].name,
                                    visit.strokes ? strokes_text(*visit.strokes) : "until clear"));
    return fmt::format("{}", fmt::join(parts, ", "));
}

} // namespace clearstroke
