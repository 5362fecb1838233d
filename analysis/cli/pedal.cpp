#include <ostream>

#include <fmt/format.h>
#include <fmt/ranges.h>

#include "analysis/acceptance.hpp"
#include "analysis/cli/json.hpp"
#include "analysis/cli/request.hpp"
#include "analysis/cli/text.hpp"
#include "analysis/orders.hpp"
#include "analysis/pedal_test.hpp"

namespace clearstroke {
namespace {

constexpr double usual_foot_forces[] = {50.0, 100.0, 150.0, 222.0, 300.0, 400.0, 500.0};
constexpr double usual_hand_forces[] = {20.0, 40.0, 60.0, 80.0, 100.0, 150.0, 200.0};

const AcceptanceRule* rule_from(const std::string& name) {
    if (const AcceptanceRule* rule = find_acceptance_rule(name)) return rule;
    std::vector<std::string_view> known;
    for (const AcceptanceRule& rule : acceptance_rules()) known.push_back(rule.name);
    throw RequestError(fmt::format("--rule: {}; allowed: {}", name, fmt::join(known, ", ")));
}

std::vector<double> forces_for(const PedalArgs& args, const Actuator& actuator) {
    if (!args.forces.empty()) return args.forces;
    if (actuator.hand) return {std::begin(usual_hand_forces), std::end(usual_hand_forces)};
    return {std::begin(usual_foot_forces), std::end(usual_foot_forces)};
}

Acceptance verdict_of(const PedalTest& test, const Network& net, const AcceptanceRule* rule) {
    const Actuator& actuator = net.actuators[test.actuator.index];
    const std::optional<double> available =
        actuator.pad_travel > 0.0 ? std::optional(actuator.pad_travel) : std::nullopt;
    return accept(rule, {test.travel_at_rule, test.without_air_at_rule, available, test.sink});
}

Lines lines_of(const PedalTest& test, const Network& net, const AcceptanceRule* rule) {
    const Actuator& actuator = net.actuators[test.actuator.index];
    Lines lines{fmt::format("{}: travel at the {} [mm]", actuator.name, actuator.hand ? "grip" : "pad")};
    Table table({">force N", ">before", ">after", ">without air", ""});
    for (std::size_t i = 0; i < test.forces.size(); ++i)
        table.row({fmt::format("{:.0f}", test.forces[i]), mm_text(test.before[i]), mm_text(test.after[i]),
                   mm_text(test.without_air[i]), test.at_stop[i] ? "at its stop" : ""});
    append(lines, table.lines());
    const auto strokes = [](const std::vector<double>& travel) {
        Lines cells;
        for (const double t : travel) cells.push_back(mm_text(t));
        return fmt::format("{}", fmt::join(cells, ", "));
    };
    lines.push_back(fmt::format("three quick strokes at {:.0f} N: before {}; after {}", test.test_force,
                                strokes(test.strokes_before), strokes(test.strokes_after)));
    lines.push_back(fmt::format("held {:.0f} s at {:.0f} N: sinks {} mm", test.hold_seconds, test.hold_force,
                                mm_text(test.sink)));
    append(lines, wrap(verdict_of(test, net, rule).sentence, text_width));
    lines.emplace_back();
    return lines;
}

Json curve_json(const std::vector<double>& travel) {
    Json list = Json::array();
    for (const double t : travel) list.push_back(in_mm(t));
    return list;
}

Json json_of(const PedalTest& test, const Network& net, const AcceptanceRule* rule) {
    const Acceptance verdict = verdict_of(test, net, rule);
    return {{"actuator", net.actuators[test.actuator.index].name},
            {"force_n", test.forces},
            {"before_mm", curve_json(test.before)},
            {"after_mm", curve_json(test.after)},
            {"without_air_mm", curve_json(test.without_air)},
            {"test_force_n", test.test_force},
            {"three_strokes_before_mm", curve_json(test.strokes_before)},
            {"three_strokes_after_mm", curve_json(test.strokes_after)},
            {"hold_force_n", test.hold_force},
            {"hold_s", test.hold_seconds},
            {"sink_mm", in_mm(test.sink)},
            {"rule", rule ? Json(std::string(rule->scope)) : Json(nullptr)},
            {"verdict", std::string(name_of(verdict.verdict))},
            {"sentence", verdict.sentence}};
}

} // namespace

int run_pedal(const PedalArgs& args, std::ostream& out, std::ostream& err) {
    return guarded(err, [&]() -> int {
        const AcceptanceRule* chosen = rule_from(args.rule);
        const Scenario scenario = load(args);
        const Case c = usual_case(scenario);
        const PedalCases cases = bled_state(c);
        if (!cases.status.usable()) throw ComputationError(cases.status.detail);
        Lines lines = wrap(scenario.title, text_width);
        lines.emplace_back("before: as the work left it; after: bled by the file's own order");
        lines.emplace_back();
        Json json = {{"schema", "clearstroke/pedal/1"},
                     {"scenario", scenario_json(scenario)},
                     {"actuators", Json::array()}};
        for (const ActuatorId id : working_actuators(c.network)) {
            const Actuator& actuator = c.network.actuators[id.index];
            const AcceptanceRule* rule = rule_held_for(c.network, id) ? chosen : nullptr;
            const PedalTest test = test_pedal(c, cases, id, forces_for(args, actuator), rule);
            append(lines, lines_of(test, c.network, rule));
            json["actuators"].push_back(json_of(test, c.network, rule));
        }
        json["cautions"] = cautions_json(c, anti_lock_of(scenario), {});
        emit(args, out, args.json ? document(json) : join(lines));
        return exit_done;
    });
}

} // namespace clearstroke
