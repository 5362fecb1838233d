#include "analysis/cli/pedal_view.hpp"

namespace clearstroke {
namespace {

Json curve_json(const std::vector<double>& travel) {
    Json list = Json::array();
    for (const double t : travel) list.push_back(in_mm(t));
    return list;
}

Json curves_json(const std::vector<std::vector<double>>& curves) {
    Json list = Json::array();
    for (const auto& curve : curves) list.push_back(curve_json(curve));
    return list;
}

Json strokes_json(const StrokeCurves& c) {
    return {{"slow_strokes_mm", curves_json(c.slow)},
            {"quick_strokes_mm", curves_json(c.quick)},
            {"easing_mm", curve_json(c.easing)}};
}

} // namespace

Acceptance pedal_verdict(const PedalTest& test, const Network& net, const AcceptanceRule* rule) {
    const Actuator& actuator = net.actuators[test.actuator.index];
    const std::optional<double> available =
        actuator.pad_travel > 0.0 ? std::optional(actuator.pad_travel) : std::nullopt;
    return accept(rule, {test.travel_at_rule, test.without_air_at_rule, available, test.sink,
                         actuator.booster.gain > 1.0});
}

Json pedal_test_json(const PedalTest& test, const Network& net, const AcceptanceRule* rule) {
    const Acceptance verdict = pedal_verdict(test, net, rule);
    Json split = Json::array(), by_force = Json::array(), costs = Json::array();
    for (const ShareByForce& s : test.split_by_force)
        by_force.push_back({{"cause", s.cause}, {"place", s.place}, {"travel_mm", curve_json(s.travel)}});
    for (const NamedShare& s : test.split)
        split.push_back({{"cause", s.cause}, {"place", s.place}, {"travel_mm", in_mm(s.travel)}});
    for (const AirCost& cost : test.air_costs)
        costs.push_back(
            {{"place", cost.place},
             {"travel_mm_per_ml", in_mm(cost.travel_per_ml)},
             {"air_ml_to_the_limit", cost.to_the_limit ? Json(in_ml(*cost.to_the_limit)) : Json(nullptr)}});
    return {{"actuator", net.actuators[test.actuator.index].name},
            {"sentence", verdict.sentence},
            {"verdict", std::string(name_of(verdict.verdict))},
            {"rule", rule ? Json(std::string(rule->scope)) : Json(nullptr)},
            {"force_n", test.forces},
            {"before_mm", curve_json(test.before.slow[0])},
            {"after_mm", curve_json(test.after.slow[0])},
            {"without_air_mm", curve_json(test.without_air.slow[0])},
            {"gap_s", test.pace.gap},
            {"before", strokes_json(test.before)},
            {"after", strokes_json(test.after)},
            {"without_air", strokes_json(test.without_air)},
            {"engine_running_mm", curve_json(test.engine.running)},
            {"engine_stopped_mm", curves_json(test.engine.stopped)},
            {"hold_force_n", test.hold_force},
            {"hold_s", test.hold_seconds},
            {"sink_before_mm", in_mm(test.sink_before)},
            {"sink_mm", in_mm(test.sink)},
            {"recovered_mm", in_mm(test.recovered)},
            {"split_force_n", test.test_force},
            {"split", split},
            {"split_by_force", by_force},
            {"air_cost", costs}};
}

} // namespace clearstroke
