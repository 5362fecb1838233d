#include "analysis/cli/diagnosis.hpp"

#include <algorithm>
#include <array>
#include <cmath>

#include <fmt/format.h>
#include <fmt/ranges.h>

#include "analysis/acceptance.hpp"
#include "analysis/diagnosis_next.hpp"
#include "analysis/diagnosis_trials.hpp"
#include "analysis/pedal_test.hpp"
#include "scenarios/record.hpp"

namespace clearstroke {
namespace {

constexpr double usual_force = 200.0, usual_gap = 0.5, usual_rest = 120.0, usual_hold = 60.0;
constexpr double least_shown = 0.005;      // probability
constexpr double least_information = 0.05; // [bit]
constexpr double no_drive_from = 0.05;     // probability of a dangerous cause
constexpr std::size_t most_tests = 3;

LineId hose_named(const Network& net, const JobRecord& record, const std::string& name) {
    for (std::size_t l = 0; l < net.lines.size(); ++l)
        if (net.lines[l].name == name && net.lines[l].elastic_hose) return {l};
    std::vector<std::string> known;
    for (const Line& l : net.lines)
        if (l.elastic_hose) known.push_back(l.name);
    throw RequestError(fmt::format("{}: clamped.travel.{}: no such hose; allowed: {}", record.path, name, fmt::join(known, ", ")));
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
    const double stroke_force = r.number_or("strokes.force", usual_force), gap = r.number_or("strokes.gap", usual_gap);
    add("strokes.second", {Reads::stroke, stroke_force, gap, 2, {}}, ruler);
    add("strokes.third", {Reads::stroke, stroke_force, gap, 3, {}}, ruler);
    add("rested.travel", {Reads::rested, r.number_or("rested.force", usual_force), r.number_or("rested.after", usual_rest), 1, {}}, ruler);
    const double hold_force = r.number_or("hold.force", usual_force), held = r.number_or("hold.seconds", usual_hold);
    add("hold.sink", {Reads::sink, hold_force, held, 1, {}}, ruler);
    add("hold.lost", {Reads::lost, hold_force, held, 1, {}}, measure);
    add("engine.goes_down", {Reads::engine, r.number_or("engine.force", usual_force), 0.0, 1, {}}, ruler);
    for (const auto& [hose, travel] : r.clamped)
        out.push_back({{Reads::clamped, r.number_or("clamped.force", usual_force), 0.0, 1, hose_named(net, r, hose)}, travel, ruler});
    add("hand_brake.travel", {Reads::hand_brake, r.number_or("hand_brake.force", usual_force), 0.0, 1, {}}, ruler);
    in_order_of_work(out);
    return out;
}

Seen seen(const JobRecord& r) {
    Seen out;
    if (r.bubbles) out.bubbles = *r.bubbles == "none" ? Bubbles::none : *r.bubbles == "declined" ? Bubbles::declined : Bubbles::did_not_decline;
    out.wet = r.wet;
    return out;
}

/// Everything that a report speaks of.
struct Weighed {
    DiagnosisBank bank;
    std::vector<MeasuredReading> readings;
    Diagnosis diagnosis;
    std::vector<FurtherTest> tests;
    std::vector<std::string> leads;  ///< why not to drive
};

bool same(const Reading& a, const Reading& b) {
    return a.what == b.what && a.count == b.count && (a.what != Reads::clamped || a.hose.index == b.hose.index);
}

/// Usual readings of kinds that were not taken, to choose the next test from.
std::vector<MeasuredReading> open_readings(const std::vector<MeasuredReading>& taken, const Network& net, ActuatorId id) {
    std::vector<MeasuredReading> out;
    for (const Reading& r : usual_readings(net, id, true))
        if (std::ranges::none_of(taken, [&](const MeasuredReading& m) { return same(m.reading, r); }))
            out.push_back({r, std::nan(""), usual_error(r)});
    return out;
}

std::string test_name(const Reading& r, const Network& net) {
    switch (r.what) {
    case Reads::travel: return "press slowly to three forces and read the travel at each";
    case Reads::stroke: return fmt::format("let go quickly and press again, twice, at {:.0f} N", r.force);
    case Reads::rested: return fmt::format("press again at {:.0f} N after {:.0f} s of rest", r.force, r.seconds);
    case Reads::sink:
    case Reads::lost: return fmt::format("hold {:.0f} N for {:.0f} s: what it sinks, what the reservoirs lose", r.force, r.seconds);
    case Reads::engine: return fmt::format("start the engine with {:.0f} N on the pedal: how far it goes down", r.force);
    case Reads::clamped: return fmt::format("clamp the {} and press to {:.0f} N", net.lines[r.hose.index].name, r.force);
    case Reads::hand_brake: return fmt::format("pull the hand brake and press to {:.0f} N", r.force);
    }
    return {};
}

std::vector<FurtherTest> further_tests(const DiagnosisBank& bank, const std::vector<MeasuredReading>& all, const Seen& seen) {
    std::vector<FurtherTest> out;
    for (std::size_t i = 0; i < all.size(); ++i) {
        if (!std::isnan(all[i].value)) continue;
        const std::string name = test_name(all[i].reading, bank.network);
        if (out.empty() || out.back().name != name) out.push_back({name, {}, {}, false, false, 0.0});
        out.back().readings.push_back(i);
        out.back().error.push_back(all[i].error);
    }
    if (!seen.bubbles) out.push_back({"bleed some strokes at every screw and watch whether bubbles decline", {}, {}, true, false, 0.0});
    if (!seen.wet) out.push_back({"look for wetness at every joint, hose and wheel", {}, {}, false, true, 0.0});
    return out;
}

/// A sink or a failed reserve, as measured; dangerous causes that are not ruled out.
std::vector<std::string> reasons_not_to_drive(const JobRecord& record, const Weighed& w, const AcceptanceRule* rule) {
    std::vector<std::string> out;
    const double available = w.bank.network.actuators[w.bank.actuator.index].pad_travel;
    for (const MeasuredReading& m : w.readings) {
        if (m.reading.what == Reads::sink && m.value >= m.error)
            out.push_back(fmt::format("the pedal sank {} mm in {:.0f} s", mm_text(m.value), m.reading.seconds));
        if (m.reading.what == Reads::lost && m.value >= 2.0 * m.error)
            out.push_back(fmt::format("{} mL of fluid went", ml_text(m.value)));
        if (rule && available > 0.0 && m.reading.what == Reads::travel && m.reading.force <= rule->travel_force &&
            m.value > rule->travel_share * available)
            out.push_back(fmt::format("{} mm at {:.0f} N are more than {:.0f} % of the travel to the floor ({})",
                                      mm_text(m.value), m.reading.force, 100.0 * rule->travel_share, rule->scope));
    }
    if (record.wet.value_or(false)) out.emplace_back("a part is wet");
    if (out.empty() && w.diagnosis.danger_probability >= no_drive_from)
        out.push_back(fmt::format("a cause that can fail the brake is not ruled out (probability {:.0f} %)", 100.0 * w.diagnosis.danger_probability));
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
    out.diagnosis = diagnose(out.bank, likelihood, separate(out.bank, likelihood, looked), values, looked);
    out.tests = rank_tests(out.bank, taken, values, looked, further_tests(out.bank, all, looked));
    out.leads = reasons_not_to_drive(record, out, rule);
    return out;
}

/// Causes of a set with their places, each with its probability when there are several.
std::string set_text(const Weighed& w, const WeighedSet& set) {
    std::array<double, causes_in_all> probability{};
    std::array<std::vector<std::string>, causes_in_all> places;
    std::vector<std::size_t> causes;
    for (const std::size_t h : set.suspects) {
        const auto cause = static_cast<std::size_t>(w.bank.suspects[h].cause);
        if (std::ranges::find(causes, cause) == causes.end()) causes.push_back(cause);
        probability[cause] += w.diagnosis.suspect_probability[h];
        if (!w.bank.suspects[h].place.empty()) places[cause].push_back(w.bank.suspects[h].place);
    }
    std::ranges::stable_sort(causes, std::greater{}, [&](std::size_t c) { return probability[c]; });
    std::vector<std::string> out;
    for (const std::size_t c : causes) {
        std::string text(name_of(static_cast<Cause>(c)));
        if (!places[c].empty()) text += fmt::format(" ({})", fmt::join(places[c], ", "));
        if (causes.size() > 1) text += fmt::format(" {:.0f} %", 100.0 * probability[c]);
        out.push_back(std::move(text));
    }
    return fmt::format("{}", fmt::join(out, ", or "));
}

std::string sentence(const Weighed& w) {
    const Diagnosis& d = w.diagnosis;
    const WeighedSet& first = d.sets.front();
    switch (d.finding) {
    case Finding::told:
        return fmt::format("Most likely {}: {:.0f} %.", set_text(w, first), 100.0 * first.probability);
    case Finding::no_fault:
        return fmt::format("These readings are those of a sound pedal of this layout: {:.0f} %. Little air, or what was not "
                           "measured, can still be there.", 100.0 * first.probability);
    case Finding::cannot_tell:
        return first.probability < 0.5
                   ? fmt::format("Cannot tell: these readings fit {} best, but only with {:.0f} %.", set_text(w, first), 100.0 * first.probability)
                   : fmt::format("Cannot tell: these readings do not separate {}.", set_text(w, first));
    case Finding::none_fits:
        return "Cannot tell: no single cause explains these readings. Read them again, check the layout; it may be two faults at once.";
    }
    return {};
}

std::string value_text(const Reading& r, double value) {
    if (std::abs(value) < 1e-9) value = 0.0;
    return r.what == Reads::lost ? fmt::format("{:.1f} mL", 1e6 * value) : fmt::format("{:.1f} mm", 1e3 * value);
}

Lines text_of(const Weighed& w) {
    const Diagnosis& d = w.diagnosis;
    Lines out;
    if (!w.leads.empty()) append(out, wrap(fmt::format("Do not drive: {}.", fmt::join(w.leads, "; ")), text_width));
    append(out, wrap(sentence(w), text_width));
    if (d.air && d.air_probability >= no_drive_from)
        append(out, wrap(fmt::format("If it is air (probability {:.0f} %): {} mL, 90 % between {} and {} mL.", 100.0 * d.air_probability,
                                     ml_text((*d.air)[1]), ml_text((*d.air)[0]), ml_text((*d.air)[2])), text_width));
    out.emplace_back();
    Table sets({">%", "what the readings cannot tell apart is one line"});
    for (const WeighedSet& set : d.sets)
        if (set.probability >= least_shown) sets.row({fmt::format("{:.0f}", 100.0 * set.probability), set_text(w, set)});
    append(out, sets.lines());
    out.emplace_back();
    Table readings({"reading", ">measured", ">predicted from the others"});
    for (std::size_t i = 0; i < w.readings.size(); ++i)
        readings.row({text_of(w.readings[i].reading, w.bank.network), value_text(w.readings[i].reading, w.readings[i].value),
                      fmt::format("{} +- {}", value_text(w.readings[i].reading, d.predicted[i]),
                                  value_text(w.readings[i].reading, d.predicted_error[i]))});
    append(out, readings.lines());
    out.emplace_back();
    std::vector<Cause> done;
    for (const std::size_t h : d.sets.front().suspects) {
        const Cause cause = w.bank.suspects[h].cause;
        if (cause == Cause::none || std::ranges::find(done, cause) != done.end()) continue;
        done.push_back(cause);
        append(out, labelled("cure", fmt::format("{}: {}", name_of(cause), cure_of(cause))));
    }
    for (std::size_t i = 0; i < std::min(most_tests, w.tests.size()); ++i)
        if (w.tests[i].information >= least_information)
            append(out, labelled(i == 0 ? "next" : "or", fmt::format("{} ({:.1f} bit)", w.tests[i].name, w.tests[i].information)));
    append(out, wrap("Vehicle stationary and chocked, nobody beneath, a second person reads the scale; stop at any wetness.", text_width));
    return out;
}

Json json_of(const Weighed& w) {
    static constexpr std::array findings{"told", "no fault", "cannot tell", "none fits"};
    const Diagnosis& d = w.diagnosis;
    Json sets = Json::array(), readings = Json::array(), tests = Json::array();
    for (const WeighedSet& set : d.sets) {
        Json members = Json::array();
        for (const std::size_t h : set.suspects)
            members.push_back({{"cause", std::string(name_of(w.bank.suspects[h].cause))},
                               {"place", w.bank.suspects[h].place},
                               {"probability", rounded(d.suspect_probability[h])},
                               {"cure", std::string(cure_of(w.bank.suspects[h].cause))}});
        sets.push_back({{"probability", rounded(set.probability)}, {"suspects", members}});
    }
    for (std::size_t i = 0; i < w.readings.size(); ++i) {
        const bool volume = w.readings[i].reading.what == Reads::lost;
        const auto shown = [&](double x) { return volume ? in_ml(x) : in_mm(x); };
        readings.push_back({{"reading", text_of(w.readings[i].reading, w.bank.network)},
                            {"unit", volume ? "mL" : "mm"},
                            {"measured", shown(w.readings[i].value)},
                            {"predicted", shown(d.predicted[i])},
                            {"predicted_error", shown(d.predicted_error[i])}});
    }
    for (const FurtherTest& test : w.tests) tests.push_back({{"test", test.name}, {"information_bit", rounded(test.information)}});
    return {{"do_not_drive", w.leads},
            {"sentence", sentence(w)},
            {"finding", findings[static_cast<std::size_t>(d.finding)]},
            {"sets", sets},
            {"air_probability", rounded(d.air_probability)},
            {"air_ml", d.air ? Json{in_ml((*d.air)[0]), in_ml((*d.air)[1]), in_ml((*d.air)[2])} : Json(nullptr)},
            {"readings", readings},
            {"next_tests", tests},
            {"information", rounded(d.information)}};
}

/// Strokes and fluid of the record beside those of the file's own procedure.
Lines screw_lines(const JobRecord& record, const Case& c) {
    if (std::ranges::none_of(record.screws, [](const ScrewRecord& s) { return s.strokes || s.last_bubble || s.fluid; })) return {};
    Simulation sim(c.network);
    State state = prepare(sim, c).state;
    Table table({"screw", ">strokes", ">last bubble", ">fluid mL", ">model: strokes", ">last bubble", ">fluid mL"});
    for (const Visit& visit : c.procedure.visits) {
        const VisitOutcome told = outcome_of(sim.visit(state, visit, c.procedure), c.procedure.stop);
        const std::string& name = c.network.screws[visit.screw.index].name;
        const auto at = std::ranges::find(record.screws, name, &ScrewRecord::name);
        if (at == record.screws.end()) continue;
        const auto count = [](const std::optional<int>& n) { return n ? std::to_string(*n) : std::string("-"); };
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
        throw RequestError(fmt::format("{}: holds no reading of the pedal; allowed: at least [travel] or another test", record.path));
    DiagnosisReport out{wrap(scenario.title, text_width), {}};
    for (const auto& [key, text] : record.facts) out.lines.push_back(fmt::format("{}: {}", key, text));
    if (record.travel.empty() && !record.travel_before.empty()) out.lines.emplace_back("read: the pedal before the work");
    out.lines.emplace_back();
    append(out.lines, text_of(w));
    append(out.lines, screw_lines(record, c));
    out.json = {{"schema", "clearstroke/diagnosis/1"}, {"scenario", scenario_json(scenario)}, {"record", record.path}};
    out.json.update(json_of(w));
    out.json["cautions"] = cautions_json(c, anti_lock_of(scenario), {});
    return out;
}

DiagnosisReport trials_report(const PedalArgs& args, const Scenario& scenario) {
    const Case c = usual_case(scenario);
    const ActuatorId id = working_actuators(c.network).front();
    DiagnosisReport out{wrap(scenario.title, text_width), {{"schema", "clearstroke/pedal_trials/1"}, {"scenario", scenario_json(scenario)}, {"suites", Json::array()}}};
    static constexpr std::array<const char*, 3> names{"without clamps", "with clamps", "with clamps, mismatched"};
    for (std::size_t suite = 0; suite < names.size(); ++suite) {
        TrialSettings settings;
        settings.per_cause = static_cast<std::size_t>(args.trials);
        settings.clamps = suite > 0;
        settings.mismatched = suite == 2;
        settings.seed = static_cast<std::uint64_t>(args.seed);
        const TrialTable table = run_trials(scenario.factory, id, settings);
        out.lines.emplace_back();
        out.lines.push_back(fmt::format("{}: {} pedals for each row; expected information {:.0f} %", names[suite], args.trials, 100.0 * table.separation.information));
        Table text({"truth", ">first %", ">first two %", ">no fault %", ">cannot tell %", ">none fits %", ">air in 90 % interval %"});
        Json rows = Json::array();
        for (const TrialRow& r : table.rows) {
            const auto share = [&](std::size_t n) { return static_cast<double>(n) / static_cast<double>(r.trials); };
            const auto percent = [&](std::size_t n) { return fmt::format("{:.1f}", 100.0 * share(n)); };
            const bool air = r.cause == Cause::air || r.cause == Cause::air_entry;
            const std::string name = Suspect{r.cause, r.place, {}, 0.0}.name();
            text.row({name, percent(r.first), percent(r.among_two), percent(r.no_fault), percent(r.cannot_tell),
                      percent(r.none_fits), air ? percent(r.air_inside) : "-"});
            Json weights = Json::object();
            for (std::size_t k = 0; k < causes_in_all; ++k)
                weights[std::string(name_of(static_cast<Cause>(k)))] = rounded(r.weight[k]);
            rows.push_back({{"truth", name}, {"trials", r.trials}, {"first", rounded(share(r.first))},
                            {"among_first_two", rounded(share(r.among_two))}, {"no_fault", rounded(share(r.no_fault))},
                            {"cannot_tell", rounded(share(r.cannot_tell))}, {"none_fits", rounded(share(r.none_fits))},
                            {"air_in_interval", air ? Json(rounded(share(r.air_inside))) : Json(nullptr)},
                            {"mean_probability", weights}});
        }
        append(out.lines, text.lines());
        out.json["suites"].push_back({{"suite", names[suite]}, {"information", rounded(table.separation.information)}, {"rows", rows}});
    }
    return out;
}

} // namespace clearstroke
