#include "analysis/cli/json.hpp"

#include <fmt/format.h>

namespace clearstroke {
namespace {

Json visits_json(const Network& net, const PlanResult& result) {
    Json visits = Json::array();
    for (const VisitOutcome& visit : result.visits)
        visits.push_back({{"screw", net.screws[visit.screw.index].name},
                          {"strokes", visit.strokes},
                          {"openings", visit.openings},
                          {"fluid_ml", in_ml(visit.discarded)},
                          {"strokes_that_carried_air", visit.carried},
                          {"strokes_that_confirmed", visit.strokes - visit.carried},
                          {"clear_stroke_ml", in_ml(visit.clear_stroke)},
                          {"ended_clear", visit.ended_clear}});
    return visits;
}

Json by_force(const PedalTravel& pedal, const std::vector<double>& travel) {
    Json by = Json::object();
    for (std::size_t i = 0; i < travel.size(); ++i)
        by[fmt::format("{:g}", pedal.forces[i])] = in_mm(travel[i]);
    return by;
}

Json reserve_json(const Network& net, const PedalTravel& pedal) {
    const auto reserve = pedal_reserve(net, pedal);
    return reserve ? Json(in_percent(*reserve)) : Json(nullptr);
}

void add_pedals(Json& json, const Network& net, const PlanResult& result) {
    const bool known = !result.pedals.empty();
    json["pedal_travel_mm"] =
        known ? by_force(result.pedals.front(), result.pedals.front().travel) : Json(nullptr);
    json["pedal_travel_without_air_mm"] =
        known ? by_force(result.pedals.front(), result.pedals.front().without_air) : Json(nullptr);
    json["pedal_reserve_percent"] = known ? reserve_json(net, result.pedals.front()) : Json(nullptr);
    json["pedals"] = Json::array();
    for (const PedalTravel& pedal : result.pedals)
        json["pedals"].push_back({{"actuator", net.actuators[pedal.actuator.index].name},
                                  {"travel_mm", by_force(pedal, pedal.travel)},
                                  {"travel_without_air_mm", by_force(pedal, pedal.without_air)},
                                  {"reserve_percent", reserve_json(net, pedal)}});
}

Json circuits_json(const std::vector<double>& volumes) {
    Json list = Json::array();
    for (const double v : volumes) list.push_back(in_ml(v));
    return list;
}

void add_air(Json& json, const PlanResult& result) {
    json["air_start_ml"] = in_ml(result.air_start);
    json["air_left_ml"] = in_ml(result.air_left);
    json["air_left_by_place_ml"] = Json::object();
    json["air_beyond_reach_by_place_ml"] = Json::object();
    for (const PlaceAir& air : result.air_by_place) {
        json["air_left_by_place_ml"][air.place] = in_ml(air.left);
        json["air_beyond_reach_by_place_ml"][air.place] = in_ml(air.beyond);
    }
    json["air_beyond_reach_ml"] = in_ml(result.beyond_reach);
    json["air_beyond_reach_by_circuit_ml"] = circuits_json(result.beyond_by_circuit);
    json["excess_by_circuit_ml"] = circuits_json(result.excess_by_circuit);
    json["air_leaked_in_ml"] = in_ml(result.leaked_in);
    json["air_leaked_to_hose_ml"] = in_ml(result.leaked_to_hose);
    json["air_moved_by_last_strokes_ml"] = in_ml(result.last_moved);
}

const char* name_of(Winner winner) {
    switch (winner) {
    case Winner::order:
        return "the order";
    case Winner::rival:
        return "the rival";
    case Winner::tie:
        break;
    }
    return "no difference";
}

} // namespace

double rounded(double x) {
    if (x == 0.0 || !std::isfinite(x)) return x;
    return std::strtod(fmt::format("{:.5e}", x).c_str(), nullptr);
}

Json optional_json(const std::optional<double>& x) { return x ? Json(rounded(*x)) : Json(nullptr); }

Json scenario_json(const Scenario& scenario) {
    return {{"title", scenario.title}, {"file", scenario.path}, {"set", scenario.overrides}};
}

Json assumptions_json(const Scenario& scenario) {
    Json list = Json::array();
    for (const Assumption& a : scenario.assumptions)
        list.push_back({{"key", a.key},
                        {"meaning", a.meaning},
                        {"value", a.value},
                        {"band", a.band},
                        {"grade", std::string(name_of(a.grade))},
                        {"source", a.source},
                        {"how_to_measure", a.how_to_measure}});
    return list;
}

Json cautions_json(const Case& c, AntiLockUnit unit, const std::vector<Act>& suggested) {
    Json list = Json::array();
    for (const Caution& caution : cautions_of(c, unit, suggested)) list.push_back(to_text(caution));
    return list;
}

Json measure_json(const CaseFactory& factory, const std::vector<MeasureNext>& measures) {
    Json list = Json::array();
    for (const MeasureNext& next : measures) {
        const Parameter& p = factory.parameters[next.parameter];
        list.push_back({{"key", p.name},
                        {"how_to_measure", p.how_to_measure},
                        {"assumed", rounded(p.usual)},
                        {"low", rounded(p.low)},
                        {"high", rounded(p.high)},
                        {"unit", p.unit},
                        {"effect_strokes", rounded(next.effect)},
                        {"strokes_at_low", next.strokes_low},
                        {"strokes_at_high", next.strokes_high},
                        {"air_left_at_low_ml", in_ml(next.air_low)},
                        {"air_left_at_high_ml", in_ml(next.air_high)},
                        {"better_at_low", name_of(next.at_low)},
                        {"better_as_assumed", name_of(next.at_usual)},
                        {"better_at_high", name_of(next.at_high)},
                        {"finding_changes_at", optional_json(next.changes_at)}});
    }
    return list;
}

Json balance_json(const Balance& balance) {
    return {{"liquid_relative", std::abs(balance.liquid)}, {"air_relative", std::abs(balance.gas)}};
}

Json plan_json(const Network& net, const PlanResult& result) {
    Json json;
    json["visits"] = visits_json(net, result);
    json["strokes"] = Json::object();
    for (const auto& [screw, strokes] : strokes_by_screw(result))
        json["strokes"][net.screws[screw.index].name] = strokes;
    json["strokes_total"] = result.strokes;
    json["strokes_that_carried_air"] = result.carried;
    json["strokes_that_confirmed"] = result.confirmed;
    json["strokes_to_target"] = optional_json(result.to_target);
    json["strokes_to_99_percent"] = optional_json(result.to_99);
    json["fluid_drawn_ml"] = in_ml(result.drawn);
    json["fluid_discarded_ml"] = in_ml(result.discarded);
    json["duration_s"] = rounded(result.duration);
    json["top_ups"] = result.top_ups;
    json["lowest_level_ml"] = in_ml(result.lowest_level);
    add_air(json, result);
    add_pedals(json, net, result);
    json["renewed_percent"] = Json::object();
    for (const auto& [wheel, share] : result.renewed) json["renewed_percent"][wheel] = in_percent(share);
    json["seen_clear"] = result.seen_clear;
    json["target_met"] = result.target_met;
    json["stopped_because"] = result.stopped_because;
    return json;
}

std::string document(const Json& json) {
    return json.dump(2, ' ', false, Json::error_handler_t::replace) + "\n";
}

} // namespace clearstroke
