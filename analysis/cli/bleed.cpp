#include <algorithm>
#include <ostream>

#include <fmt/format.h>

#include "analysis/act_text.hpp"
#include "analysis/cli/orders_view.hpp"
#include "analysis/cli/request.hpp"
#include "analysis/comparison.hpp"
#include "analysis/renewal.hpp"

namespace clearstroke {
namespace {

// One run of the file's own procedure.
struct Bled {
    Case c;
    PlanRun run;
    PlanResult result;
    std::vector<Advice> advice;
};

Bled bleed(const Scenario& scenario) {
    Bled bled{usual_case(scenario), {}, {}, {}};
    bled.run = run_plan(bled.c, bled.c.procedure.visits);
    bled.result = judge_alone(bled.c, bled.run);
    bled.advice = advice_for(bled.c.network, bled.result);
    return bled;
}

std::string per_circuit(const std::vector<double>& air) {
    std::string text;
    for (const double a : air) text += (text.empty() ? "" : " / ") + ml_text(a);
    return text;
}

// The places that hold most, as many as fit a column.
std::string places_text(const Network& net, const AirInside& air) {
    const BeyondAll none{
        std::vector<double>(net.volumes.size()), std::vector<double>(net.lines.size()), {}, 0.0};
    const std::vector<PlaceAir> places = air_by_place(net, air, none);
    std::string text;
    for (std::size_t i = 0; i < places.size() && i < 3; ++i)
        text += fmt::format("{}{} {}", i == 0 ? "" : ", ", places[i].place, ml_text(places[i].left));
    return text.empty() ? "none" : text;
}

// Of a stroke that brought air alone there is no colour.
std::string colour_text(const StrokeRecord& s) {
    return s.liquid_out < 0.05e-6 && s.bubble_seen ? "-" : percent_text(s.colour_seen);
}

void add_rows(Table& table, const Bled& bled, const Visit& visit, const DoneVisit& done) {
    const Network& net = bled.c.network;
    const Method& method = bled.c.procedure.method;
    const std::string& screw = net.screws[done.record.screw.index].name;
    for (const Act& act : visit.before) table.row({screw, describe(net, act)});
    table.row({screw, "fit the hose"});
    for (const Act& act : method.arrive) table.row({screw, describe(net, act)});
    for (const StrokeRecord& s : done.record.strokes)
        table.row({screw, fmt::format("stroke {}", s.number), s.bubble_seen ? ml_text(s.gas_seen) : "clear",
                   colour_text(s), ml_text(s.liquid_out), ml_text(s.lowest_level),
                   fmt::format("{:.0f}", s.pad_travel * 1e3), fmt::format("{:.0f}", s.peak_pad_force),
                   per_circuit(s.air_by_circuit)});
    for (const Act& act : method.leave) table.row({screw, describe(net, act)});
    table.row({screw, "done", "", "", ml_text(done.record.fluid_discarded), "", "", "",
               places_text(net, done.air)});
}

Lines legend() {
    return wrap(
        "bubbles: free air seen in the clear hose; new: share of new fluid in what entered the hose (- air "
        "alone); fluid: what came through the screw; level: lowest yet in any reservoir; pad: how far "
        "and how hard the pedal or lever went",
        text_width);
}

Lines protocol(const Scenario& scenario, const Bled& bled) {
    const Network& net = bled.c.network;
    Lines lines = wrap(scenario.title, text_width);
    lines.push_back(fmt::format("{}; each stroke: {}", bled.c.procedure.method.name,
                                describe(net, bled.c.procedure.method.stroke)));
    Table table({"screw", "act", ">bubbles mL", ">new", ">fluid mL", ">level mL", ">pad mm", ">pad N",
                 "air per circuit mL"});
    for (const Act& act : bled.c.procedure.prepare) table.row({"", describe(net, act)});
    table.row({"", "start", "", "", "", "", "", "", places_text(net, bled.run.air_start)});
    for (std::size_t i = 0; i < bled.run.visits.size(); ++i)
        add_rows(table, bled, bled.c.procedure.visits[i], *bled.run.visits[i]);
    append(lines, table.lines());
    append(lines, legend());
    return lines;
}

// Fluid that goes back from the clear hose shows with a minus.
bool went_back(const Bled& bled) {
    return std::ranges::any_of(bled.run.visits, [](const auto& visit) {
        return std::ranges::any_of(visit->record.strokes,
                                   [](const StrokeRecord& s) { return s.liquid_out < -0.005e-6; });
    });
}

constexpr double well_renewed = 0.95; // share of new fluid at a wheel

/// In a change of fluid: what it takes to renew every wheel in this order, colour or not.
std::vector<RenewalVisit> renewal_of(const Bled& bled) {
    return bled.c.contents.fresh_fraction < well_renewed ? renew(bled.c, well_renewed)
                                                         : std::vector<RenewalVisit>{};
}

Lines renewal_lines(const Bled& bled) {
    const std::vector<RenewalVisit> visits = renewal_of(bled);
    if (visits.empty()) return {};
    double all = 0.0;
    std::vector<std::string> each;
    for (const RenewalVisit& v : visits) {
        all += v.drawn;
        each.push_back(fmt::format(
            "{} {} mL ({})", bled.c.network.screws[v.screw.index].name, ml_text(v.drawn),
            v.share >= well_renewed ? strokes_text(v.strokes)
                                    : fmt::format("{:.0f} % only, stopped at limit", 100.0 * v.share)));
    }
    return labelled("RENEWAL", fmt::format("{:.0f} % new fluid at every wheel takes {} mL: {}.",
                                           100.0 * well_renewed, ml_text(all), fmt::join(each, ", ")));
}

Lines summary(const Scenario& scenario, const Bled& bled) {
    const PlanResult& r = bled.result;
    if (r.failed) return labelled("RESULT", fmt::format("Not computed to the end: {}.", r.stopped_because));
    Lines lines = labelled(
        "RESULT",
        fmt::format(
            "{}, {} of them carried air; {} mL drawn, {}, {}. {}: {}.", strokes_text(r.strokes), r.carried,
            ml_text(r.drawn),
            r.top_ups == 0 ? "no top-up" : fmt::format("{} top-up{}", r.top_ups, r.top_ups == 1 ? "" : "s"),
            minutes_text(r.duration), r.target_met ? "Target met" : "Target missed", r.stopped_because));
    if (went_back(bled))
        append(lines, labelled("", "A minus before fluid: more went back from the clear hose than came."));
    append(
        lines,
        labelled("AIR",
                 fmt::format(
                     "{} mL at the start, {} mL air left; air this procedure can't move: {} mL{}. Target {}.",
                     ml_text(r.air_start), ml_text(r.air_left), ml_text(r.beyond_reach), rest_text(r),
                     r.to_target ? "reached in stroke " + stroke_text(*r.to_target)
                                 : std::string("never reached"))));
    append(lines, leak_lines(r));
    for (const Advice& item : bled.advice) append(lines, labelled("", "To move it: " + item.sentence + "."));
    for (const PedalTravel& p : r.pedals)
        for (std::size_t i = 0; i < p.forces.size(); ++i)
            append(lines,
                   labelled(i == 0 ? "PEDAL" : "",
                            fmt::format("{}, settled: {} mm at {:.0f} N, {} without that air",
                                        bled.c.network.actuators[p.actuator.index].name, mm_text(p.travel[i]),
                                        p.forces[i], mm_text(p.without_air[i]))));
    append(lines, renewal_lines(bled));
    for (const std::string& warning : scenario.warnings) append(lines, labelled("NOTE", warning));
    return lines;
}

std::vector<Act> suggested(const Bled& bled) {
    std::vector<Act> acts;
    for (const Advice& item : bled.advice)
        if (item.act) acts.push_back(*item.act);
    return acts;
}

Json stroke_json(const Network& net, const VisitRecord& visit, const StrokeRecord& s) {
    Json air = Json::array();
    for (const double a : s.air_by_circuit) air.push_back(in_ml(a));
    return {{"screw", net.screws[visit.screw.index].name},
            {"stroke", s.number},
            {"t_s", rounded(s.t_end)},
            {"bubble_seen", s.bubble_seen},
            {"bubbles_ml", in_ml(s.gas_seen)},
            {"new_fluid_seen_percent", in_percent(s.colour_seen)},
            {"fluid_out_ml", in_ml(s.liquid_out)},
            {"air_out_ml", in_ml(s.gas_out)},
            {"drawn_ml", in_ml(s.drawn)},
            {"lowest_level_ml", in_ml(s.lowest_level)},
            {"lowest_pressure_bar", rounded(1e-5 * s.lowest_pressure)},
            {"pad_travel_mm", in_mm(s.pad_travel)},
            {"peak_pad_force_n", rounded(s.peak_pad_force)},
            {"air_by_circuit_ml", air}};
}

Json bleed_json(const Scenario& scenario, const Bled& bled) {
    const Network& net = bled.c.network;
    Json json = {{"schema", "clearstroke/bleed/1"},
                 {"scenario", scenario_json(scenario)},
                 {"method", bled.c.procedure.method.name}};
    json.update(plan_json(net, bled.result));
    json["strokes_in_order"] = Json::array();
    for (const auto& visit : bled.run.visits)
        for (const StrokeRecord& s : visit->record.strokes)
            json["strokes_in_order"].push_back(stroke_json(net, visit->record, s));
    json["for_95_percent_renewal"] = Json::array();
    for (const RenewalVisit& v : renewal_of(bled))
        json["for_95_percent_renewal"].push_back({{"screw", net.screws[v.screw.index].name},
                                                  {"strokes", v.strokes},
                                                  {"drawn_ml", in_ml(v.drawn)},
                                                  {"renewed_percent", in_percent(v.share)}});
    json["balance"] = balance_json(bled.result.balance);
    json["advice"] = Json::array();
    for (const Advice& item : bled.advice) json["advice"].push_back(item.sentence);
    json["assumptions"] = assumptions_json(scenario);
    json["warnings"] = scenario.warnings;
    json["cautions"] = cautions_json(bled.c, anti_lock_of(scenario), suggested(bled));
    return json;
}

} // namespace

int run_bleed(const BleedArgs& args, std::ostream& out, std::ostream& err) {
    return guarded(err, [&]() -> int {
        const Scenario scenario = load(args);
        const Bled bled = bleed(scenario);
        if (args.json) {
            emit(args, out, document(bleed_json(scenario, bled)));
        } else {
            Lines lines = protocol(scenario, bled);
            lines.emplace_back();
            append(lines, summary(scenario, bled));
            lines.emplace_back();
            append(lines, all_cautions(bled.c, anti_lock_of(scenario), suggested(bled)));
            emit(args, out, join(lines));
        }
        if (bled.result.failed) throw ComputationError(bled.result.stopped_because);
        return exit_done;
    });
}

} // namespace clearstroke
