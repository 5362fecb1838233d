#include "analysis/cli/diagnosis_view.hpp"

#include <algorithm>
#include <cmath>

#include <fmt/format.h>
#include <fmt/ranges.h>

#include "analysis/acceptance.hpp"
#include "analysis/diagnosis_next.hpp"
#include "analysis/diagnosis_trials.hpp"
#include "analysis/pedal_test.hpp"
#include "analysis/reach.hpp"
#include "scenarios/record.hpp"

namespace clearstroke {
namespace {

constexpr double usual_force = 200.0, usual_gap = 0.5, usual_rest = 120.0, usual_hold = 60.0;

LineId hose_named(const Network& net, const JobRecord& record, const std::string& name) {
    for (std::size_t l = 0; l < net.lines.size(); ++l)
        if (net.lines[l].name == name && net.lines[l].elastic_hose) return {l};
    std::vector<std::string> known;
    for (const Line& l : net.lines)
        if (l.elastic_hose) known.push_back(l.name);
    throw RequestError(fmt::format("{}: clamped.travel.{}: no such hose; allowed: {}", record.path, name,
                                   fmt::join(known, ", ")));
}

/// What was measured, in the order of work.
std::vector<MeasuredReading> measured(const JobRecord& r, const Network& net) {
    std::vector<MeasuredReading> out;
    const double ruler = r.number_or("gauge.ruler", 1e-3), measure = r.number_or("gauge.measure", 1e-6);
    const auto add = [&](const char* value_key, Reading reading, double error) {
        if (const auto value = r.number(value_key)) out.push_back({reading, *value, error});
    };
    for (const auto& [force, travel] : r.travel.empty() ? r.travel_before : r.travel)
        out.push_back({{Reads::travel, force, 0.0, 1, {}}, travel, ruler});
    const double stroke_force = r.number_or("strokes.force", usual_force),
                 gap = r.number_or("strokes.gap", usual_gap);
    add("strokes.second", {Reads::stroke, stroke_force, gap, 2, {}}, ruler);
    add("strokes.third", {Reads::stroke, stroke_force, gap, 3, {}}, ruler);
    add("rested.travel",
        {Reads::rested,
         r.number_or("rested.force", usual_force),
         r.number_or("rested.after", usual_rest),
         1,
         {}},
        ruler);
    const double hold_force = r.number_or("hold.force", usual_force),
                 held = r.number_or("hold.seconds", usual_hold);
    add("hold.sink", {Reads::sink, hold_force, held, 1, {}}, ruler);
    add("hold.lost", {Reads::lost, hold_force, held, 1, {}}, measure);
    add("engine.goes_down", {Reads::engine, r.number_or("engine.force", usual_force), 0.0, 1, {}}, ruler);
    for (const auto& [hose, travel] : r.clamped)
        out.push_back(
            {{Reads::clamped, r.number_or("clamped.force", usual_force), 0.0, 1, hose_named(net, r, hose)},
             travel,
             ruler});
    add("hand_brake.travel", {Reads::hand_brake, r.number_or("hand_brake.force", usual_force), 0.0, 1, {}},
        ruler);
    in_order_of_work(out);
    return out;
}

Seen seen(const JobRecord& r) {
    Seen out;
    if (r.bubbles)
        out.bubbles = *r.bubbles == "none"       ? Bubbles::none
                      : *r.bubbles == "declined" ? Bubbles::declined
                                                 : Bubbles::did_not_decline;
    out.wet = r.wet;
    return out;
}

bool same(const Reading& a, const Reading& b) {
    return a.what == b.what && a.count == b.count &&
           (a.what != Reads::clamped || a.hose.index == b.hose.index);
}

/// Usual readings of kinds that were not taken, to choose the next test from.
std::vector<MeasuredReading> open_readings(const std::vector<MeasuredReading>& taken, const Network& net,
                                           ActuatorId id) {
    std::vector<MeasuredReading> out;
    for (const Reading& r : usual_readings(net, id, true))
        if (std::ranges::none_of(taken, [&](const MeasuredReading& m) { return same(m.reading, r); }))
            out.push_back({r, std::nan(""), usual_error(r)});
    return out;
}

std::string test_name(const Reading& r, const Network& net) {
    switch (r.what) {
    case Reads::travel:
        return "press slowly to three forces and read the travel at each";
    case Reads::stroke:
        return fmt::format("let go quickly and press again, twice, at {:.0f} N", r.force);
    case Reads::rested:
        return fmt::format("press again at {:.0f} N after {:.0f} s of rest", r.force, r.seconds);
    case Reads::sink:
    case Reads::lost:
        return fmt::format("hold {:.0f} N for {:.0f} s: what it sinks, what the reservoirs lose", r.force,
                           r.seconds);
    case Reads::engine:
        return fmt::format("start the engine with {:.0f} N on the pedal: how far it goes down", r.force);
    case Reads::clamped:
        return fmt::format("clamp the {} and press to {:.0f} N", net.lines[r.hose.index].name, r.force);
    case Reads::hand_brake:
        return fmt::format("pull the hand brake and press to {:.0f} N", r.force);
    }
    return {};
}

std::vector<FurtherTest> further_tests(const DiagnosisBank& bank, const std::vector<MeasuredReading>& all,
                                       const Seen& seen) {
    std::vector<FurtherTest> out;
    for (std::size_t i = 0; i < all.size(); ++i) {
        if (!std::isnan(all[i].value)) continue;
        const std::string name = test_name(all[i].reading, bank.network);
        if (out.empty() || out.back().name != name) out.push_back({name, {}, {}, false, false, 0.0});
        out.back().readings.push_back(i);
        out.back().error.push_back(all[i].error);
    }
    if (!seen.bubbles)
        out.push_back({"bleed some strokes at every screw and watch whether bubbles decline",
                       {},
                       {},
                       true,
                       false,
                       0.0});
    if (!seen.wet)
        out.push_back({"look for wetness at every joint, hose and wheel", {}, {}, false, true, 0.0});
    return out;
}

/// A sink or a failed reserve, as measured; dangerous causes that are not ruled out.
std::vector<std::string> reasons_not_to_drive(const JobRecord& record, const Weighed& w,
                                              const AcceptanceRule* rule) {
    std::vector<std::string> out;
    const double available = w.bank.network.actuators[w.bank.actuator.index].pad_travel;
    for (const MeasuredReading& m : w.readings) {
        if (m.reading.what == Reads::sink && m.value >= m.error)
            out.push_back(
                fmt::format("the pedal sank {} mm in {:.0f} s", mm_text(m.value), m.reading.seconds));
        if (m.reading.what == Reads::lost && m.value >= 2.0 * m.error)
            out.push_back(fmt::format("{} mL of fluid went", ml_text(m.value)));
        if (rule && available > 0.0 && m.reading.what == Reads::travel &&
            m.reading.force <= rule->travel_force && m.value > rule->travel_share * available)
            out.push_back(
                fmt::format("{} mm at {:.0f} N are more than {:.0f} % of the travel to the floor ({})",
                            mm_text(m.value), m.reading.force, 100.0 * rule->travel_share, rule->scope));
    }
    if (record.wet.value_or(false)) out.emplace_back("a part is wet");
    if (out.empty() && w.diagnosis.danger_probability >= no_drive_from)
        out.push_back(fmt::format("a cause that can fail the brake is {} (probability {:.0f} %)",
                                  w.diagnosis.danger_probability < 0.5 ? "not ruled out" : "likely",
                                  100.0 * w.diagnosis.danger_probability));
    return out;
}

/// What stays above the screws of the places where air of the first set can sit.
std::vector<PlaceAir> kept_by(const Network& net, const DiagnosisBank& bank, const WeighedSet& first) {
    constexpr double worth = 0.05e-6; // [m^3]
    std::vector<PlaceAir> out;
    for (const ScrewReach& reach : reach_of_screws(net)) {
        if (!reach.has_pocket || reach.level < worth) continue;
        const auto& port = std::get<PortRef>(net.screws[reach.screw.index].at);
        const std::string& place = net.volumes[port.volume.index].place;
        const bool suspected = std::ranges::any_of(first.suspects, [&](std::size_t h) {
            return is_air(bank.suspects[h].cause) && bank.suspects[h].place == place;
        });
        if (suspected) out.push_back({.place = place, .beyond = reach.level});
    }
    return out;
}

Weighed weigh(const JobRecord& record, const Scenario& scenario, ActuatorId id, const AcceptanceRule* rule) {
    Weighed out;
    const Network net = usual_case(scenario).network;
    out.readings = measured(record, net);
    std::vector<MeasuredReading> all = out.readings;
    const auto open = open_readings(out.readings, net, id);
    all.insert(all.end(), open.begin(), open.end());
    in_order_of_work(all);
    std::vector<Reading> readings;
    for (const MeasuredReading& m : all) readings.push_back(m.reading);
    BankSettings settings;
    settings.force_error = record.number_or("gauge.force_error", settings.force_error);
    out.bank = make_bank(scenario.factory, id, readings, settings);
    Taken taken;
    Eigen::VectorXd values(static_cast<Eigen::Index>(out.readings.size()));
    for (std::size_t i = 0; i < all.size(); ++i) {
        if (std::isnan(all[i].value)) continue;
        values[static_cast<Eigen::Index>(taken.readings.size())] = all[i].value;
        taken.readings.push_back(i);
        taken.error.push_back(all[i].error);
    }
    const Likelihood likelihood(out.bank, taken);
    const Seen looked = seen(record);
    out.diagnosis = diagnose(likelihood, values, looked);
    out.information = expected_information(likelihood, looked);
    out.tests = rank_tests(out.bank, taken, values, looked, further_tests(out.bank, all, looked));
    out.kept = kept_by(net, out.bank, out.diagnosis.sets.front());
    out.leads = reasons_not_to_drive(record, out, rule);
    return out;
}

/// Strokes and fluid of the record beside those of the file's own procedure.
Lines screw_lines(const JobRecord& record, const Case& c) {
    if (std::ranges::none_of(record.screws,
                             [](const ScrewRecord& s) { return s.strokes || s.last_bubble || s.fluid; }))
        return {};
    Simulation sim(c.network);
    State state = prepare(sim, c).state;
    Table table(
        {"screw", ">strokes", ">last bubble", ">fluid mL", ">model: strokes", ">last bubble", ">fluid mL"});
    for (const Visit& visit : c.procedure.visits) {
        const VisitOutcome told = outcome_of(sim.visit(state, visit, c.procedure), c.procedure.stop);
        const std::string& name = c.network.screws[visit.screw.index].name;
        const auto at = std::ranges::find(record.screws, name, &ScrewRecord::name);
        if (at == record.screws.end()) continue;
        const auto count = [](const std::optional<int>& n) {
            return n ? std::to_string(*n) : std::string("-");
        };
        table.row({name, count(at->strokes), count(at->last_bubble), at->fluid ? ml_text(*at->fluid) : "-",
                   std::to_string(told.strokes), std::to_string(told.carried), ml_text(told.discarded)});
    }
    Lines out{"", "the bleed as recorded, and as the model has it from the file"};
    append(out, table.lines());
    return out;
}

} // namespace

DiagnosisReport diagnosis_report(const PedalArgs& args, const Scenario& scenario) {
    const JobRecord record = read_record(args.measured);
    const Case c = usual_case(scenario);
    const auto actuators = working_actuators(c.network);
    const ActuatorId id = actuators.front();
    const AcceptanceRule* rule = rule_held_for(c.network, id) ? find_acceptance_rule(args.rule) : nullptr;
    const Weighed w = weigh(record, scenario, id, rule);
    if (w.readings.empty() && !record.bubbles && !record.wet)
        throw RequestError(fmt::format(
            "{}: holds no reading of the pedal; allowed: at least [travel] or another test", record.path));
    DiagnosisReport out{wrap(scenario.title, text_width), {}};
    for (const auto& [key, text] : record.facts) out.lines.push_back(fmt::format("{}: {}", key, text));
    if (record.travel.empty() && !record.travel_before.empty())
        out.lines.emplace_back("read: the pedal before the work");
    out.lines.emplace_back();
    append(out.lines, text_of(w));
    append(out.lines, screw_lines(record, c));
    out.json = {{"schema", "clearstroke/diagnosis/1"},
                {"scenario", scenario_json(scenario)},
                {"record", record.path}};
    out.json.update(json_of(w));
    out.json["cautions"] = cautions_json(c, anti_lock_of(scenario), {});
    return out;
}

} // namespace clearstroke
