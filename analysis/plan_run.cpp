#include "analysis/plan_run.hpp"

#include <algorithm>
#include <cmath>
#include <limits>

namespace clearstroke {
namespace {

PedalTravel travel_of(const Simulation& sim, const State& state, const State& full, ActuatorId actuator,
                      const std::vector<double>& forces) {
    const auto settled = [&](const PedalModel& model, double force) {
        PedalState used = used_before(model);
        return press(model, used, force);
    };
    const PedalModel bled = make_pedal_model(sim, state, actuator),
                     without = make_pedal_model(sim, full, actuator);
    PedalTravel travel{actuator, forces, {}, {}, {}};
    for (const double force : forces) {
        const PedalReading reading = settled(bled, force);
        travel.travel.push_back(reading.travel);
        travel.at_stop.push_back(reading.at_stop);
        travel.without_air.push_back(settled(without, force).travel);
    }
    return travel;
}

} // namespace

std::vector<ActuatorId> working_actuators(const Network& net) {
    const Circuits circuits = find_circuits(net);
    std::vector<ActuatorId> working;
    for (std::size_t i = 0; i < net.actuators.size(); ++i) {
        const bool feeds = std::ranges::any_of(net.actuators[i].pistons, [&](const Piston& piston) {
            const int circuit = circuits.of_volume[piston.chamber.index];
            return std::ranges::find(circuits.of_screw, circuit) != circuits.of_screw.end();
        });
        if (feeds) working.push_back(ActuatorId{i});
    }
    return working;
}

Prepared prepare(Simulation& sim, const Case& c) {
    Prepared ready{sim.start(c.contents), {}, 0.0, {}};
    for (const Act& act : c.procedure.prepare) {
        ready.status = sim.act(ready.state, act, c.procedure.person);
        if (!ready.status.usable()) break;
    }
    ready.time = ready.state.t;
    ready.air = sim.air(ready.state);
    return ready;
}

PlanRun record_run(Simulation& sim, const State& state, const Prepared& ready, DoneVisits visits) {
    PlanRun run;
    run.visits = std::move(visits);
    run.air_start = ready.air;
    run.air_end = sim.air(state);
    run.beyond = sim.beyond_reach(state).geometric;
    for (std::size_t v = 0; v < run.beyond.size(); ++v) {
        double least = std::numeric_limits<double>::infinity();
        for (const auto& visit : run.visits) least = std::min(least, visit->beyond.this_procedure[v]);
        if (std::isfinite(least)) run.beyond[v] = least;
    }
    run.ledger = state.ledger;
    run.balance = sim.balance(state);
    run.fresh_of_volume = sim.fresh_of_volume(state);
    run.prepare_time = ready.time;
    run.status = ready.status;
    for (const auto& visit : run.visits)
        if (run.status.usable()) run.status = visit->record.status;
    return run;
}

PlanRun finish_run(Simulation& sim, const State& state, const Case& c, const Prepared& ready,
                   DoneVisits visits) {
    PlanRun run = record_run(sim, state, ready, std::move(visits));
    if (!run.status.usable()) return run;
    const State full = without_air(sim, state);
    for (const ActuatorId actuator : working_actuators(c.network))
        run.pedals.push_back(travel_of(sim, state, full, actuator, c.procedure.target.pad_forces));
    return run;
}

std::shared_ptr<const DoneVisit> make_visit(Simulation& sim, State& state, const Visit& visit,
                                            const Procedure& procedure) {
    auto done = std::make_shared<DoneVisit>();
    done->record = sim.visit(state, visit, procedure);
    done->air = sim.air(state);
    done->beyond = sim.beyond_reach(state);
    return done;
}

PlanRun run_plan(const Case& c, const std::vector<Visit>& visits, const Settings& settings) {
    Simulation sim(c.network, settings);
    const Prepared ready = prepare(sim, c);
    State state = ready.state;
    DoneVisits records;
    bool going = ready.status.usable();
    for (const Visit& visit : visits) {
        if (!going) break;
        records.push_back(make_visit(sim, state, visit, c.procedure));
        going = records.back()->record.status.usable();
    }
    return finish_run(sim, state, c, ready, std::move(records));
}

} // namespace clearstroke
