#include "analysis/pedal_test.hpp"

#include <algorithm>
#include <map>
#include <set>

namespace clearstroke {
namespace {

constexpr int strokes_in_a_row = 3;
constexpr double usual_hold = 10.0;   // [s]
constexpr double settling_time = 2.0; // held before a sink is counted [s]
constexpr double long_rest = 300.0;   // [s]
constexpr double millilitre = 1e-6;   // [m^3]
constexpr double most_air = 100e-6;   // looked for [m^3]

/// Travels of strokes in a row at one force.
std::vector<double> row_of(PedalModel model, double force, const PedalPace& pace, bool quick) {
    PedalState s = at_rest(model);
    std::vector<double> travel;
    for (int i = 0; i < strokes_in_a_row; ++i) {
        const PedalReading read = press(model, s, force, quick ? Push{quick_gas, pace.quick_push} : Push{});
        travel.push_back(read.travel);
        let_go(model, s, read, quick ? pace.quick_return : pace.slow_return, pace.gap);
    }
    return travel;
}

StrokeCurves curves(const PedalModel& model, const std::vector<double>& forces, const PedalPace& pace) {
    StrokeCurves out;
    out.slow.resize(strokes_in_a_row);
    out.quick.resize(strokes_in_a_row);
    for (const double force : forces)
        for (const bool quick : {false, true}) {
            const std::vector<double> row = row_of(model, force, pace, quick);
            auto& curve = quick ? out.quick : out.slow;
            for (std::size_t i = 0; i < row.size(); ++i) curve[i].push_back(row[i]);
        }
    PedalState s = at_rest(model);
    for (const double force : forces) out.at_stop.push_back(press(model, s, force).at_stop);
    for (std::size_t i = forces.size(); i-- > 0;)
        out.easing.insert(out.easing.begin(), ease(model, s, forces[i]).travel);
    return out;
}

EngineCurves engine_curves(const PedalModel& model, const std::vector<double>& forces,
                           const PedalPace& pace) {
    EngineCurves out;
    out.stopped.resize(strokes_in_a_row);
    for (const double force : forces) {
        PedalModel own = model;
        PedalState s = at_rest(own);
        s.vacuum = 1.0;
        PedalReading read = press(own, s, force);
        out.running.push_back(read.travel);
        let_go(own, s, read, pace.slow_return, long_rest, true);
        for (auto& curve : out.stopped) {
            read = press(own, s, force);
            curve.push_back(read.travel);
            let_go(own, s, read, pace.slow_return, long_rest);
        }
    }
    return out;
}

double first_travel(const PedalModel& model, double force, double vacuum) {
    PedalState s = at_rest(model);
    s.vacuum = vacuum;
    return press(model, s, force).travel;
}

struct Hold {
    double sink{}, recovered{};
};
Hold held(PedalModel model, double force, double seconds) {
    PedalState s = at_rest(model);
    const double first = press(model, s, force).travel, before = hold(model, s, force, settling_time).travel;
    const PedalReading after = hold(model, s, force, seconds);
    let_go(model, s, after, PedalPace{}.slow_return, long_rest);
    return {after.travel - before, press(model, s, force).travel - first};
}

std::vector<NamedShare> named_split(const Network& net, const PedalModel& model, double force) {
    PedalState s = at_rest(model);
    (void)press(model, s, force);
    std::map<std::pair<Gives, std::string>, double> sums;
    for (const TravelShare& share : split_travel(net, model, s)) {
        const bool no_place = share.cause == Gives::lost_motion || share.cause == Gives::fluid;
        const std::string& place =
            share.of_line ? net.lines[share.index].place : net.volumes[share.index].place;
        sums[{share.cause, no_place ? std::string() : place}] += share.travel;
    }
    std::vector<NamedShare> out;
    for (const auto& [key, travel] : sums)
        out.push_back({std::string(name_of(key.first)), key.second, travel});
    std::ranges::stable_sort(out, std::greater{}, &NamedShare::travel);
    return out;
}

/// The largest at the greatest force first.
std::vector<ShareByForce> split_by_force(const Network& net, const PedalModel& model,
                                         const std::vector<double>& forces) {
    std::vector<ShareByForce> out;
    for (std::size_t i = 0; i < forces.size(); ++i)
        for (const NamedShare& share : named_split(net, model, forces[i])) {
            auto row = std::ranges::find_if(
                out, [&](const ShareByForce& r) { return r.cause == share.cause && r.place == share.place; });
            if (row == out.end())
                row = out.insert(row, {share.cause, share.place, std::vector<double>(forces.size(), 0.0)});
            row->travel[i] = share.travel;
        }
    std::ranges::stable_sort(out, std::greater{}, [](const ShareByForce& r) { return r.travel.back(); });
    return out;
}

/// The model with `air` more of free air in the first part of `place`.
PedalModel with_air(PedalModel model, const Network& net, const std::string& place, double air) {
    for (PedalCircuit& c : model.circuits)
        for (PedalPart& p : c.parts)
            if ((p.line ? net.lines[p.index].place : net.volumes[p.index].place) == place) {
                p.gas += air;
                return model;
            }
    return model;
}

std::vector<AirCost> air_costs(const Network& net, const PedalModel& model, double force, double vacuum,
                               double limit) {
    std::set<std::string> places;
    std::vector<AirCost> out;
    const double now = first_travel(model, force, vacuum);
    const auto travel = [&](const std::string& place, double air) {
        return first_travel(with_air(model, net, place, air), force, vacuum);
    };
    for (const PedalCircuit& c : model.circuits)
        for (const PedalPart& p : c.parts) {
            const std::string& place = p.line ? net.lines[p.index].place : net.volumes[p.index].place;
            if (!places.insert(place).second) continue;
            AirCost cost{place, travel(place, millilitre) - now, std::nullopt};
            if (limit > now && travel(place, most_air) > limit) {
                double low = 0.0, high = most_air;
                while (high - low > 1e-3 * high)
                    (travel(place, 0.5 * (low + high)) > limit ? high : low) = 0.5 * (low + high);
                cost.to_the_limit = high;
            }
            out.push_back(std::move(cost));
        }
    return out;
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
                     const AcceptanceRule* rule, const PedalPace& pace, const Settings& settings) {
    const Simulation sim(c.network, settings);
    const double reference =
        c.procedure.target.pad_forces.empty() ? 100.0 : c.procedure.target.pad_forces.front();
    PedalTest test;
    test.actuator = actuator;
    test.pace = pace;
    test.forces = std::move(forces);
    test.test_force = rule ? rule->travel_force : reference;
    test.hold_force = rule ? rule->hold_force : reference;
    test.hold_seconds = rule ? rule->hold_seconds : usual_hold;
    const PedalModel before = make_pedal_model(sim, cases.before, actuator),
                     after = make_pedal_model(sim, cases.after, actuator),
                     full = make_pedal_model(sim, without_air(sim, cases.after), actuator);
    test.before = curves(before, test.forces, pace);
    test.after = curves(after, test.forces, pace);
    test.without_air = curves(full, test.forces, pace);
    const bool booster = after.actuator.booster.gain > 1.0;
    if (booster) test.engine = engine_curves(after, test.forces, pace);
    test.sink_before = held(before, test.hold_force, test.hold_seconds).sink;
    const Hold still = held(after, test.hold_force, test.hold_seconds);
    test.sink = still.sink;
    test.recovered = still.recovered;
    const double vacuum = booster ? 1.0 : 0.0; // the rules run the engine of a boosted brake
    test.travel_at_rule = first_travel(after, test.test_force, vacuum);
    test.without_air_at_rule = first_travel(full, test.test_force, vacuum);
    test.split = named_split(c.network, after, test.test_force);
    test.split_by_force = split_by_force(c.network, after, test.forces);
    const double limit = (rule ? rule->travel_share : 1.0) * after.actuator.pad_travel;
    test.limit_known = limit > 0.0;
    test.air_costs = air_costs(c.network, after, test.test_force, vacuum, limit);
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
