#include "sim/state_difference.hpp"

#include <algorithm>
#include <cmath>

namespace clearstroke {
namespace {

void widen(double& most, double a, double b) { most = std::max(most, std::abs(a - b)); }

// The clear hose, where it is on an open screw; on a shut one it steers nothing and is fitted anew elsewhere.
const HoseState* hose_in_use(const State& s) {
    return s.hose && s.screw_turns[s.hose->screw.index] > 0.0 ? &*s.hose : nullptr;
}

// Everything that is either the same or not.
bool set_up_alike(const State& a, const State& b) {
    const auto ports_alike = [](const ActuatorState& x, const ActuatorState& y) {
        return x.port_open == y.port_open;
    };
    const HoseState *hose_a = hose_in_use(a), *hose_b = hose_in_use(b);
    const bool hoses = hose_a && hose_b ? hose_a->screw == hose_b->screw && hose_a->fresh == hose_b->fresh
                                        : hose_a == hose_b;
    return hoses && a.screw_turns == b.screw_turns && a.line_capped == b.line_capped &&
           a.hose_submerged == b.hose_submerged && a.hose_one_way == b.hose_one_way &&
           a.hose_gauge == b.hose_gauge && a.reservoir_gauge == b.reservoir_gauge &&
           a.valve_held == b.valve_held && a.volume_lift == b.volume_lift && a.volume_roll == b.volume_roll &&
           a.pitch == b.pitch && a.roll == b.roll &&
           std::ranges::equal(a.actuators, b.actuators, ports_alike);
}

void see_trains(StateDifference& d, const Train& a, const Train& b) {
    d.same_kind = d.same_kind && a.size() == b.size();
    for (std::size_t i = 0; d.same_kind && i < a.size(); ++i) {
        widen(d.liquid, a.parcels()[i].liquid, b.parcels()[i].liquid);
        widen(d.gas, a.parcels()[i].gas, b.parcels()[i].gas);
    }
}

void see_cells(StateDifference& d, const std::vector<Cell>& a, const std::vector<Cell>& b) {
    d.same_kind = d.same_kind && a.size() == b.size();
    for (std::size_t i = 0; d.same_kind && i < a.size(); ++i) {
        d.same_kind = a[i].begin == b[i].begin && a[i].end == b[i].end;
        widen(d.pressure, a[i].pressure, b[i].pressure);
        see_trains(d, a[i].train, b[i].train);
    }
}

void see_volumes(StateDifference& d, const State& a, const State& b) {
    for (std::size_t v = 0; v < a.volumes.size(); ++v) {
        const VolumeState &x = a.volumes[v], &y = b.volumes[v];
        widen(d.gas, x.gas, y.gas);
        widen(d.gas, x.held, y.held);
        widen(d.gas, x.dispersed, y.dispersed);
        widen(d.gas, x.given_up, y.given_up);
        widen(d.liquid, x.liquid, y.liquid);
        widen(d.pressure, x.pressure, y.pressure);
        widen(d.fresh, x.fresh, y.fresh);
        widen(d.theta, x.theta, y.theta);
    }
}

void see_reservoirs(StateDifference& d, const State& a, const State& b) {
    for (std::size_t r = 0; r < a.reservoirs.size(); ++r) {
        widen(d.fresh, a.reservoirs[r].fresh, b.reservoirs[r].fresh);
        widen(d.gas, a.reservoirs[r].dispersed, b.reservoirs[r].dispersed);
        for (std::size_t c = 0; c < a.reservoirs[r].liquid.size(); ++c)
            widen(d.liquid, a.reservoirs[r].liquid[c], b.reservoirs[r].liquid[c]);
    }
}

} // namespace

StateDifference difference(const State& a, const State& b) {
    StateDifference d;
    d.same_kind = set_up_alike(a, b);
    see_volumes(d, a, b);
    for (std::size_t l = 0; l < a.lines.size(); ++l) see_cells(d, a.lines[l], b.lines[l]);
    if (d.same_kind && hose_in_use(a)) see_cells(d, a.hose->cells, b.hose->cells);
    for (std::size_t l = 0; l < a.streams.size(); ++l)
        widen(d.fresh, a.streams[l].mean(), b.streams[l].mean());
    for (std::size_t k = 0; k < a.actuators.size(); ++k) {
        widen(d.travel, a.actuators[k].x, b.actuators[k].x);
        widen(d.travel, a.actuators[k].u, b.actuators[k].u);
    }
    see_reservoirs(d, a, b);
    return d;
}

StateDifference larger(const StateDifference& a, const StateDifference& b) {
    return {std::max(a.gas, b.gas),     std::max(a.liquid, b.liquid), std::max(a.pressure, b.pressure),
            std::max(a.fresh, b.fresh), std::max(a.theta, b.theta),   std::max(a.travel, b.travel),
            a.same_kind && b.same_kind};
}

bool within(const StateDifference& d, const StateDifference& limits) {
    return d.same_kind && larger(d, limits) == limits;
}

} // namespace clearstroke
