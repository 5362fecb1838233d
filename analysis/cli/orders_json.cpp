#include "analysis/cli/orders_view.hpp"

#include <algorithm>

#include "analysis/cli/evidence_view.hpp"

namespace clearstroke {
namespace {

Json names_json(const Network& net, const std::vector<ScrewId>& screws) {
    Json names = Json::array();
    for (const ScrewId screw : screws) names.push_back(net.screws[screw.index].name);
    return names;
}

Json order_json(const Network& net, const RankedOrder& order) {
    Json json = {{"order", names_json(net, order.screws)},
                 {"known_as", order.known_as},
                 {"group", order.group},
                 {"place", order.place}};
    json.update(plan_json(net, order.result));
    return json;
}

Json resolution_json(const OrdersReport& report) {
    const Resolution& r = report.resolution;
    return {{"strokes_to_target", rounded(r.to_target)},
            {"strokes_counted", rounded(r.strokes)},
            {"air_left_ml", in_ml(r.air)},
            {"duration_s", rounded(r.duration)},
            {"fluid_drawn_ml", in_ml(r.drawn)},
            {"how",
             "best order and first usual rule with half the tolerance and twice the lumps; at fixed strokes "
             "per screw for strokes to target and air left"}};
}

Json search_json(const OrdersSearch& search) {
    const bool searched = search.how == OrdersSearch::How::searched;
    Json json = {{"how", search.how == OrdersSearch::How::all ? "all orders"
                         : searched                           ? "searched"
                                                              : "listed orders"},
                 {"orders_possible", search.possible > 0.0 ? Json(search.possible) : Json(nullptr)},
                 {"orders_run", search.run},
                 {"visits_run", search.work.visits},
                 {"strokes_run", search.work.strokes},
                 {"strokes_apart", rounded(search.strokes_apart)},
                 {"strokes_apart_estimated", searched},
                 {"left_out", search.left_out}};
    if (search.joining)
        json["joined"] = {{"beginnings", search.joining->beginnings},
                          {"gas_apart_ml", in_ml(search.joining->apart.gas)},
                          {"liquid_apart_ml", in_ml(search.joining->apart.liquid)}};
    if (!searched) return json;
    json["beginnings_kept"] = search.width;
    json["others_cost_at_least"] = optional_json(search.bound);
    return json;
}

Json low_high_json(const OrdersReport& report) {
    Json list = Json::array();
    for (std::size_t s = 0; s < report.sets.size(); ++s) {
        Json orders = Json::array();
        for (const OrderSpread& spread : report.spreads) {
            const PlanResult& result = spread.results[s];
            orders.push_back({{"order", names_json(report.usual.network, report.orders[spread.order].screws)},
                              {"strokes_total", result.strokes},
                              {"strokes_to_target", optional_json(result.to_target)},
                              {"air_left_ml", in_ml(result.air_left)},
                              {"target_met", result.target_met}});
        }
        list.push_back({{"band", report.sets[s].band}, {"run", report.sets[s].name}, {"orders", orders}});
    }
    return list;
}

Json prediction_json(const OrdersView& view) {
    const Prediction& p = view.prediction;
    return {{"sentence", p.sentence},
            {"screw", view.report.usual.network.screws[p.screw.index].name},
            {"last_bubble_in_stroke", p.last_bubble},
            {"low", p.low},
            {"high", p.high},
            {"clear_stroke_ml", in_ml(p.stroke)}};
}

const char* name_of(Cost cost) {
    switch (cost) {
    case Cost::time:
        return "time";
    case Cost::fluid:
        return "fluid";
    case Cost::strokes:
        break;
    }
    return "strokes";
}

} // namespace

Json orders_json(const OrdersView& view, int top) {
    const OrdersReport& report = view.report;
    const Network& net = report.usual.network;
    Json json;
    json["schema"] = "clearstroke/orders/1";
    json["scenario"] = scenario_json(view.scenario);
    json["finding"] = view.finding;
    json["cost"] = name_of(report.cost);
    json["bleed_points"] = names_json(net, report.points);
    json["orders_total"] = report.orders.size() + report.others.size();
    json["search"] = search_json(report.search);
    json["orders"] = Json::array();
    const std::size_t shown = top > 0
                                  ? std::min<std::size_t>(static_cast<std::size_t>(top), report.orders.size())
                                  : report.orders.size();
    for (std::size_t i = 0; i < shown; ++i) json["orders"].push_back(order_json(net, report.orders[i]));
    json["resolution"] = resolution_json(report);
    json["balance"] = balance_json(report.balance);
    json["low_usual_high"] = low_high_json(report);
    if (report.evidence) json["evidence"] = evidence_json(*report.evidence, view.names(), view.seed);
    if (view.plan) json["plan"] = best_plan_json(net, *view.plan, report.cost);
    json["prediction"] = prediction_json(view);
    json["fluid_to_have_at_hand_ml"] = in_ml(fluid_at_hand(report));
    json["advice"] = Json::array();
    for (const Advice& advice : view.advice) json["advice"].push_back(advice.sentence);
    json["measure_next"] = measure_json(view.scenario.factory, view.measures);
    json["assumptions"] = assumptions_json(view.scenario);
    json["warnings"] = view.notes();
    json["cautions"] = cautions_json(report.usual, view.anti_lock, view.suggested());
    return json;
}

} // namespace clearstroke
