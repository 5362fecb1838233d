#pragma once
/// Inside of Simulation (sim/run.hpp): acts on one side, visits and reports on the other. Internal to sim.
#include <numeric>

#include "models/gas.hpp"
#include "sim/engine.hpp"
#include "sim/run.hpp"

namespace clearstroke {

/// Liquid in all chambers of a reservoir [m^3].
[[nodiscard]] inline double held_in(const ReservoirState& r) {
    return std::accumulate(r.liquid.begin(), r.liquid.end(), 0.0);
}

/// Free air [m^3] in small bubbles that comes with `liquid` [m^3] when that is poured into a reservoir.
[[nodiscard]] inline double poured_with(const Conditions& c, double liquid) {
    return free_air_of(liquid * c.bubbles.poured / (1.0 - c.bubbles.poured), c.ambient_pressure);
}

/// Rod travel from rest to where stops or the floor end it [m].
[[nodiscard]] double full_rod_travel(const Actuator&);

struct Simulation::Impl {
    Network net;
    Settings settings;
    Circuits circuits;
    Engine engine;
    std::optional<Meter> meter;
    Observer observer;

    Impl(const Network& n, const Settings& s)
        : net(n), settings(s), circuits(find_circuits(net)), engine(net, settings, circuits) {}

    Meter* watch() { return meter ? &*meter : nullptr; }
    RunStatus pass(State& s, double seconds) {
        return engine.advance(s, {seconds, {}, {}, 0.0, false}, watch());
    }

    // sim/acts.cpp
    struct Performer;
    RunStatus perform(State&, const Act&, const Operator&, std::optional<ScrewId> here);
    [[nodiscard]] std::size_t actuator_for(std::optional<ActuatorId> chosen,
                                           std::optional<ScrewId> here) const;
    RunStatus press(State&, std::size_t actuator, const Operator&);
    RunStatus release(State&, std::size_t actuator, const Operator&);
    void top_up(State&);
    void draw_off(State&);
    void attach_hose(State&, ScrewId, bool full = false);
    void detach_hose(State&);

    StrokeRecord stroke(State&, const Visit&, const Procedure&, const Method&, int number, RunStatus&,
                        int& openings);
};

} // namespace clearstroke
