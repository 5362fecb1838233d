#include <fmt/format.h>

#include "analysis/cli/orders_view.hpp"

namespace clearstroke {
namespace {

const char* name_of(BestPlan::Verdict verdict) {
    switch (verdict) {
    case BestPlan::Verdict::gain:
        return "gain";
    case BestPlan::Verdict::gain_not_firm:
        return "gain, not in all low and high runs";
    case BestPlan::Verdict::no_target:
        return "no plan tried meets the target";
    case BestPlan::Verdict::no_gain:
        break;
    }
    return "no gain";
}

Json measures_json(const PlanResult& result) {
    return {{"strokes_total", result.strokes},       {"duration_s", rounded(result.duration)},
            {"fluid_drawn_ml", in_ml(result.drawn)}, {"lowest_level_ml", in_ml(result.lowest_level)},
            {"air_left_ml", in_ml(result.air_left)}, {"target_met", result.target_met}};
}

double cost_in_unit(double cost, Cost kind) { return kind == Cost::fluid ? in_ml(cost) : rounded(cost); }

} // namespace

Json best_plan_json(const Network& net, const BestPlan& plan, Cost cost) {
    Json visits = Json::array(), checks = Json::array();
    for (const Visit& v : plan.visits)
        visits.push_back({{"screw", net.screws[v.screw.index].name},
                          {"ends", v.strokes ? "counted" : "until clear"},
                          {"counted_strokes", v.strokes ? Json(*v.strokes) : Json(nullptr)}});
    for (const PlanCheck& c : plan.checks)
        checks.push_back({{"band", c.set.band},
                          {"run", c.set.name},
                          {"plan", measures_json(c.plan)},
                          {"best_order", measures_json(c.order)},
                          {"holds", c.holds}});
    return {{"sentence", plan.sentence},
            {"verdict", name_of(plan.verdict)},
            {"visits", visits},
            {"gain", cost_in_unit(plan.gain, cost)},
            {"resolution", cost_in_unit(plan.tie, cost)},
            {"worst_cost", cost_in_unit(plan.worst, cost)},
            {"worst_cost_of_best_order", cost_in_unit(plan.worst_of_order, cost)},
            {"low_usual_high", checks},
            {"same_bits_when_run", plan.same_bits},
            {"plans_that_reached_target", plan.complete},
            {"visits_run", plan.work.visits},
            {"strokes_run", plan.work.strokes},
            {"others_cost_at_least", plan.bound ? Json(cost_in_unit(*plan.bound, cost)) : Json(nullptr)},
            {"best_order", measures_json(plan.order)},
            {"result", plan_json(net, plan.result)}};
}

Lines best_plan_lines(const BestPlan& plan, Cost cost) {
    Lines lines = labelled("PLAN", plan.sentence);
    if (!plan.checks.empty())
        append(lines,
               labelled("", fmt::format("Dearest of low, usual and high runs: {}; the best order {}.",
                                        cost_text(plan.worst, cost), cost_text(plan.worst_of_order, cost))));
    append(lines, labelled("", fmt::format("{} strokes run to find it; {}.", plan.work.strokes,
                                           plan.bound ? "no plan left out takes less than " +
                                                            cost_text(*plan.bound, cost)
                                                      : "no bound on plans left out")));
    return lines;
}

} // namespace clearstroke
