#include <algorithm>
#include <cmath>
#include <ostream>

#include <fmt/format.h>
#include <fmt/ranges.h>

#include "analysis/acceptance.hpp"
#include "analysis/cli/diagnosis.hpp"
#include "analysis/cli/pedal_view.hpp"
#include "analysis/cli/request.hpp"
#include "analysis/cli/text.hpp"
#include "analysis/orders.hpp"

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

Lines curve_lines(const PedalTest& test) {
    Table table({">force N", ">before 1st", ">2nd", ">3rd", ">after 1st", ">2nd", ">3rd", ">quick 1st",
                 ">2nd", ">easing", ">no air", ""});
    for (std::size_t i = 0; i < test.forces.size(); ++i) {
        std::vector<std::string> row{fmt::format("{:.0f}", test.forces[i])};
        for (const auto& curve : test.before.slow) row.push_back(mm_text(curve[i]));
        for (const auto& curve : test.after.slow) row.push_back(mm_text(curve[i]));
        for (const std::size_t n : {0U, 1U}) row.push_back(mm_text(test.after.quick[n][i]));
        row.push_back(mm_text(test.after.easing[i]));
        row.push_back(mm_text(test.without_air.slow[0][i]));
        row.emplace_back(test.after.at_stop[i] ? "at its stop" : "");
        table.row(std::move(row));
    }
    return table.lines();
}

Lines engine_lines(const PedalTest& test) {
    Table table({">force N", ">engine running", ">stopped 1st", ">2nd", ">3rd", ">no vacuum"});
    for (std::size_t i = 0; i < test.forces.size(); ++i) {
        std::vector<std::string> row{fmt::format("{:.0f}", test.forces[i]), mm_text(test.engine.running[i])};
        for (const auto& curve : test.engine.stopped) row.push_back(mm_text(curve[i]));
        row.push_back(mm_text(test.after.slow[0][i]));
        table.row(std::move(row));
    }
    return table.lines();
}

Lines split_lines(const PedalTest& test) {
    constexpr double shown = 0.05e-3; // [m]
    std::vector<std::string> headings{"what gives", "where"};
    for (const double force : test.forces) headings.push_back(fmt::format(">{:.0f} N", force));
    headings.emplace_back();
    Table table(headings);
    std::vector<double> rest(test.forces.size(), 0.0), all = rest;
    const auto add = [&](const std::string& cause, const std::string& place, const std::vector<double>& mm) {
        std::vector<std::string> row{cause, place};
        for (const double travel : mm) row.push_back(fmt::format("{:.1f}", 1e3 * travel));
        table.row(std::move(row));
    };
    for (const ShareByForce& share : test.split_by_force) {
        const bool small = std::ranges::all_of(share.travel, [](double x) { return std::abs(x) < shown; });
        for (std::size_t i = 0; i < all.size(); ++i) {
            all[i] += share.travel[i];
            if (small) rest[i] += share.travel[i];
        }
        if (!small) add(share.cause, share.place, share.travel);
    }
    add("the rest", "", rest);
    add("in all", "", all);
    Lines lines{"what the travel after bleeding is made of, no vacuum [mm]"};
    append(lines, table.lines());
    return lines;
}

Lines cost_lines(const PedalTest& test) {
    Lines lines{fmt::format("what air costs at {:.0f} N after bleeding", test.test_force)};
    Table table({"place", ">mm for 1 mL", "mL more to the limit"});
    for (const AirCost& cost : test.air_costs)
        table.row({cost.place, fmt::format("{:.1f}", 1e3 * cost.travel_per_ml),
                   cost.to_the_limit  ? ml_text(*cost.to_the_limit)
                   : test.limit_known ? "never: the cylinder's other chamber holds"
                                      : "not known"});
    append(lines, table.lines());
    return lines;
}

Lines lines_of(const PedalTest& test, const Network& net, const AcceptanceRule* rule) {
    const Actuator& actuator = net.actuators[test.actuator.index];
    Lines lines = wrap(pedal_verdict(test, net, rule).sentence, text_width);
    lines.push_back(fmt::format("{}: travel at the {} [mm], strokes {:.2g} s apart", actuator.name,
                                actuator.hand ? "grip" : "pad", test.pace.gap));
    append(lines, curve_lines(test));
    if (!test.engine.running.empty()) append(lines, engine_lines(test));
    lines.push_back(
        fmt::format("held {:.0f} s at {:.0f} N: sinks {} mm before, {} mm after; fresh stroke after it "
                    "{:+.1f} mm",
                    test.hold_seconds, test.hold_force, mm_text(test.sink_before), mm_text(test.sink),
                    1e3 * test.recovered));
    append(lines, split_lines(test));
    append(lines, cost_lines(test));
    lines.emplace_back();
    return lines;
}

} // namespace

int run_pedal(const PedalArgs& args, std::ostream& out, std::ostream& err) {
    return guarded(err, [&]() -> int {
        const AcceptanceRule* chosen = rule_from(args.rule);
        const Scenario scenario = load(args);
        if (!args.measured.empty() || args.trials > 0) {
            const DiagnosisReport report =
                args.trials > 0 ? trials_report(args, scenario) : diagnosis_report(args, scenario);
            emit(args, out, args.json ? document(report.json) : join(report.lines));
            return exit_done;
        }
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
            const PedalTest test = test_pedal(c, cases, id, forces_for(args, actuator), rule, {args.gap});
            append(lines, lines_of(test, c.network, rule));
            json["actuators"].push_back(pedal_test_json(test, c.network, rule));
        }
        json["cautions"] = cautions_json(c, anti_lock_of(scenario), {});
        emit(args, out, args.json ? document(json) : join(lines));
        return exit_done;
    });
}

} // namespace clearstroke
