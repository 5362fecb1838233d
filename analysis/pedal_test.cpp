#include "analysis/pedal_test.hpp"

#include <algorithm>
#include <set>

namespace clearstroke {
namespace {

constexpr int quick_strokes = 3;
constexpr double quick_gap = 0.5;   // released between quick strokes [s]
constexpr double usual_hold = 10.0; // [s]

std::vector<double> travel(const std::vector<PedalPoint>& points) {
    std::vector<double> lengths;
    for (const PedalPoint& p : points) lengths.push_back(p.pad_travel);
    return lengths;
}

} // namespace

PedalCases bled_state(const Case& c, const Settings& settings) {
    Simulation sim(c.network, settings);
    const Prepared ready = prepare(sim, c);
    PedalCases cases{ready.state, ready.state, ready.status};
    for (const Visit& visit : c.procedure.visits) {
        if (!cases.status.usable()) break;
        cases.status = sim.visit(cases.after, visit, c.procedure).status;
    }
    return cases;
}

PedalTest test_pedal(const Case& c, const PedalCases& cases, ActuatorId actuator, std::vector<double> forces,
                     const AcceptanceRule* rule, const Settings& settings) {
    Simulation sim(c.network, settings);
    const double reference =
        c.procedure.target.pad_forces.empty() ? 100.0 : c.procedure.target.pad_forces.front();
    PedalTest test;
    test.actuator = actuator;
    test.forces = std::move(forces);
    test.test_force = rule ? rule->travel_force : reference;
    test.hold_force = rule ? rule->hold_force : reference;
    test.hold_seconds = rule ? rule->hold_seconds : usual_hold;
    const State full = without_air(sim, cases.after);
    test.before = travel(pedal_curve(sim, cases.before, actuator, test.forces));
    for (const PedalPoint& p : pedal_curve(sim, cases.after, actuator, test.forces)) {
        test.after.push_back(p.pad_travel);
        test.at_stop.push_back(p.at_stop);
    }
    test.without_air = travel(pedal_curve(sim, full, actuator, test.forces));
    test.strokes_before =
        successive_strokes(sim, cases.before, actuator, test.test_force, quick_strokes, quick_gap);
    test.strokes_after =
        successive_strokes(sim, cases.after, actuator, test.test_force, quick_strokes, quick_gap);
    test.sink = sink_under_hold(sim, cases.after, actuator, test.hold_force, test.hold_seconds);
    test.travel_at_rule = pedal_at(sim, cases.after, actuator, test.test_force).pad_travel;
    test.without_air_at_rule = pedal_at(sim, full, actuator, test.test_force).pad_travel;
    return test;
}

bool rule_held_for(const Network& net, ActuatorId id) {
    const Actuator& actuator = net.actuators[id.index];
    if (actuator.hand) return false;
    const Circuits circuits = find_circuits(net);
    std::set<std::string> wheels;
    for (const Piston& piston : actuator.pistons)
        for (std::size_t i = 0; i < net.screws.size(); ++i)
            if (circuits.of_screw[i] == circuits.of_volume[piston.chamber.index])
                wheels.insert(net.screws[i].wheel);
    return wheels.size() > 1;
}

} // namespace clearstroke
