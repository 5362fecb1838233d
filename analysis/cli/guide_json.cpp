#include <algorithm>

#include "analysis/act_text.hpp"
#include "analysis/cli/guide_view.hpp"
#include "analysis/cli/pedal_view.hpp"
#include "analysis/sheet/replay_json.hpp"
#include "models/constants.hpp"
#include "scenarios/record.hpp"
#include "scenarios/units.hpp"

namespace clearstroke {
namespace {

constexpr std::size_t most_rows = 24; ///< orders in the table of the sheet, beside the named ones
constexpr int curve_points = 12;

Json names_json(const Network& net, const std::vector<ScrewId>& screws) {
    Json names = Json::array();
    for (const ScrewId screw : screws) names.push_back(net.screws[screw.index].name);
    return names;
}

// Turns by which the method opens a screw; 0 when it opens none.
double turns_of(const Procedure& plan) {
    for (const auto* acts : {&plan.method.arrive, &plan.method.stroke})
        for (const Act& act : *acts)
            if (const auto* open = std::get_if<OpenScrew>(&act))
                return open->turns.value_or(plan.person.turns);
    return 0.0;
}

// Smallest and largest over the usual, low and high runs of the best order.
template <class Of> Json range_json(const OrdersReport& report, std::size_t visit, const Of& of) {
    auto low = of(report.best().result.visits[visit]), high = low;
    if (!report.spreads.empty())
        for (const PlanResult& run : report.spreads.front().results)
            if (visit < run.visits.size()) {
                low = std::min(low, of(run.visits[visit]));
                high = std::max(high, of(run.visits[visit]));
            }
    return {low, high};
}

Json visit_json(const GuideView& view, std::size_t i) {
    const OrdersReport& report = view.orders.report;
    const Network& net = report.usual.network;
    const VisitOutcome& visit = report.best().result.visits[i];
    const Screw& screw = net.screws[visit.screw.index];
    Json top_ups = Json::array();
    for (const ToppedUp& t : view.films.front().film.top_ups)
        if (t.visit == i) top_ups.push_back(t.stroke + 1);
    return {{"screw", screw.name},
            {"wheel", screw.wheel},
            {"strokes", visit.strokes},
            {"strokes_range", range_json(report, i, [](const VisitOutcome& v) { return v.strokes; })},
            {"last_bubble", visit.carried},
            {"last_bubble_range", range_json(report, i, [](const VisitOutcome& v) { return v.carried; })},
            {"clear_stroke_ml", in_ml(visit.clear_stroke)},
            {"ended_clear", visit.ended_clear},
            {"before", before_screw(net, report.usual.procedure, visit.screw)},
            {"top_up_before_strokes", top_ups}};
}

Json cautions_by_topic(const OrdersView& view) {
    Json list = Json::array();
    for (const Caution& c : cautions_of(view.report.usual, view.anti_lock, view.suggested()))
        list.push_back({{"topic", std::string(c.topic)}, {"text", std::string(c.text)}});
    return list;
}

// The job record that `new --record` writes, with the screws in the order of the work.
std::string record_of(const GuideView& view) {
    std::vector<ScrewId> screws;
    for (const VisitOutcome& visit : view.orders.report.best().result.visits) screws.push_back(visit.screw);
    return record_template(view.orders.report.usual.network, screws);
}

Json work_json(const GuideView& view) {
    const OrdersReport& report = view.orders.report;
    const Procedure& plan = report.usual.procedure;
    const Network& net = report.usual.network;
    Json prepare = Json::array(), visits = Json::array(), stroke = Json::array();
    for (const Act& act : plan.prepare) prepare.push_back(describe(net, act));
    for (const Act& act : plan.method.stroke) stroke.push_back(describe(net, act));
    for (std::size_t i = 0; i < report.best().result.visits.size(); ++i)
        visits.push_back(visit_json(view, i));
    const bool presses = std::ranges::any_of(
        plan.method.stroke, [](const Act& act) { return std::holds_alternative<Press>(act); });
    const bool hand = std::ranges::all_of(working_actuators(net),
                                          [&](ActuatorId id) { return net.actuators[id.index].hand; });
    return {{"fluid", net.conditions.fluid.name},
            {"temperature_degc", rounded(net.conditions.temperature - zero_celsius)},
            {"method", plan.method.name},
            {"by_hand", hand},
            {"turns", turns_of(plan)},
            {"presses", presses},
            {"stroke_share", plan.person.stroke_share},
            {"hold_s", plan.person.hold},
            {"dwell_s", plan.person.dwell},
            {"top_up_below", plan.person.top_up_below},
            {"clear_strokes", plan.stop.clear_strokes},
            {"hose_volumes", plan.stop.hose_volumes},
            {"new_colour", plan.stop.new_colour},
            {"fluid_at_hand_ml", in_ml(fluid_at_hand(report))},
            {"prepare", prepare},
            {"stroke", stroke},
            {"visits", visits},
            {"record", record_of(view)},
            {"cautions", cautions_by_topic(view.orders)}};
}

// The pedal test on the film's first and last state, by the public rule for light vehicles where one is held.
Json pedal_tests_json(const GuideView& view) {
    const Case& c = view.orders.report.usual;
    const Film& film = view.films.front().film;
    std::vector<double> forces;
    for (int i = 1; i <= curve_points; ++i)
        forces.push_back(c.procedure.target.pad_forces.back() * i / curve_points);
    Json list = Json::array();
    for (const ActuatorId id : working_actuators(c.network)) {
        const AcceptanceRule* rule = rule_held_for(c.network, id) ? find_acceptance_rule("570.5") : nullptr;
        Json one = pedal_test_json(
            test_pedal(c, {film.before, film.after, film.run.status}, id, forces, rule), c.network, rule);
        one["hand"] = c.network.actuators[id.index].hand;
        list.push_back(std::move(one));
    }
    return list;
}

// Values in the units that people read.
Json shown_json(const CaseFactory& factory, const MeasureNext& next) {
    const Parameter& p = factory.parameters[next.parameter];
    return {{"assumed", shown(p.usual, p.shown_unit)},
            {"band", shown_band(p.low, p.high, p.shown_unit)},
            {"changes_at", next.changes_at ? Json(shown(*next.changes_at, p.shown_unit)) : Json(nullptr)}};
}

// The whole comparison, of many orders the first, the named and the last.
Json comparison_json(const OrdersView& view) {
    Json json = orders_json(view, 0);
    Json& orders = json["orders"];
    Json kept = Json::array();
    for (std::size_t i = 0; i < orders.size(); ++i) {
        if (view.report.evidence) orders[i]["sampled"] = json["evidence"]["alternatives"][i];
        if (i < most_rows || i + 1 == orders.size() || !orders[i]["known_as"].empty())
            kept.push_back(orders[i]);
    }
    orders = std::move(kept);
    if (view.report.evidence) json["evidence"].erase("alternatives"); // each with its order
    for (std::size_t i = 0; i < view.measures.size(); ++i)
        json["measure_next"][i]["shown"] = shown_json(view.scenario.factory, view.measures[i]);
    json.erase("cautions"); // by topic, with the work
    return json;
}

Json air_at_start_json(const GuideView& view) {
    const Network& net = view.orders.report.usual.network;
    const BeyondAll none{
        std::vector<double>(net.volumes.size()), std::vector<double>(net.lines.size()), {}, 0.0};
    Json by = Json::object();
    for (const PlaceAir& air : air_by_place(net, view.films.front().film.run.air_start, none))
        by[air.place] = in_ml(air.left);
    return by;
}

Json films_json(const GuideView& view) {
    const OrdersReport& report = view.orders.report;
    Json list = Json::array();
    for (const FilmedOrder& filmed : view.films) {
        const RankedOrder& order = report.orders[filmed.order];
        Json one = {
            {"order", names_json(report.usual.network, order.screws)},
            {"known_as", order.known_as},
            {"best", filmed.order == 0},
            {"worst", filmed.order + 1 == report.orders.size() && order.group != report.best().group}};
        one.update(film_json(report.usual.network, filmed.film));
        list.push_back(std::move(one));
    }
    return list;
}

} // namespace

Json guide_json(const GuideView& view, const GuideArgs& args) {
    Json json;
    json["schema"] = "clearstroke/guide/1";
    json["version"] = args.version;
    json["date"] = args.date;
    json["exercise"] = args.exercise;
    json["scenario"] = scenario_json(view.orders.scenario);
    json["scenario_text"] = view.orders.scenario.text;
    json["work"] = work_json(view);
    json["comparison"] = comparison_json(view.orders);
    json["air_start_by_place_ml"] = air_at_start_json(view);
    json["pedal_tests"] = pedal_tests_json(view);
    json["layout"] = layout_json(view.orders.report.usual.network);
    json["films"] = films_json(view);
    return json;
}

} // namespace clearstroke
