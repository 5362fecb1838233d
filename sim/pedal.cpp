#include "sim/pedal.hpp"

#include <algorithm>
#include <cmath>

#include "sim/layout.hpp"

namespace clearstroke {
namespace {

PedalPoint point(const PedalModel& model, double pad_force) {
    PedalState s = at_rest(model);
    const PedalReading r = press(model, s, pad_force);
    PedalPoint out{pad_force, r.travel, {}, r.at_stop};
    for (const CircuitState& c : s.circuits) out.pressure.push_back(model.medium.ambient + c.pressure);
    return out;
}

/// Rod travel per compression of piston j.
double rod_share(const Actuator& a, std::size_t j) {
    if (a.coupling != Coupling::balance_bar) return 1.0;
    return j == 0 ? a.bar_share : 1.0 - a.bar_share;
}

/// Collects shares of the travel; `scale` turns volume into travel at the pad.
class Split {
public:
    explicit Split(const Network& net) : net_(net) {}
    std::vector<TravelShare> shares;

    void circuit(const PedalCircuit& c, const Medium& m, const CircuitState& s, double per_rod,
                 double exponent) {
        const double scale = per_rod / c.piston.area;
        add(Gives::lost_motion, false, c.piston.chamber.index,
            per_rod * std::min(s.compression, c.piston.cut_off));
        if (s.compression < c.piston.cut_off) return;
        for (std::size_t i = 0; i < c.parts.size(); ++i) part(c.parts[i], m, s, i, scale, exponent);
        add(Gives::knocked_back, false, c.piston.chamber.index, scale * s.knocked);
        add(Gives::leaked, false, c.piston.chamber.index, scale * s.lost);
        add(Gives::left_over, false, c.piston.chamber.index, -scale * (s.left + s.driven));
    }

    void add(Gives cause, bool line, std::size_t index, double travel) {
        if (travel != 0.0) shares.push_back({cause, line, index, travel});
    }

private:
    const Network& net_;

    void part(const PedalPart& p, const Medium& m, const CircuitState& s, std::size_t i, double scale,
              double exponent) {
        const auto gives = [&](const PedalPart& alone) {
            const PedalCircuit only{{}, {}, {}, 0.0, {alone}};
            return scale * yielded(only, m, {s.memory[i]}, s.pressure, exponent).volume;
        };
        const auto walls = [&](auto keep) {
            PedalPart alone = p;
            alone.gas = alone.liquid = 0.0;
            ElasticLaw none = p.walls;
            none.compliance = none.settling_volume = none.take_up_volume = 0.0;
            alone.walls = keep(none);
            return gives(alone);
        };
        PedalPart air = p, fluid = p;
        air.liquid = fluid.gas = 0.0;
        air.walls = fluid.walls = {};
        add(Gives::air, p.line, p.index, gives(air));
        add(Gives::fluid, p.line, p.index, gives(fluid));
        const Gives linear = !p.line                            ? Gives::housing
                             : net_.lines[p.index].elastic_hose ? Gives::hose
                                                                : Gives::pipe;
        const double straight = walls([&](ElasticLaw law) {
            law.compliance = p.walls.compliance;
            return law;
        });
        const double settling = walls([&](ElasticLaw law) {
            law.settling_volume = p.walls.settling_volume;
            return law;
        });
        add(linear, p.line, p.index, p.line ? straight + settling : straight);
        if (!p.line) add(Gives::seals_and_pads, false, p.index, settling);
        add(Gives::slack, p.line, p.index, walls([&](ElasticLaw law) {
                law.take_up_volume = p.walls.take_up_volume;
                return law;
            }));
    }
};

} // namespace

PedalPoint pedal_at(const Simulation& simulation, const State& s, ActuatorId which, double pad_force) {
    return point(make_pedal_model(simulation, s, which), pad_force);
}

std::vector<PedalPoint> pedal_curve(const Simulation& simulation, const State& s, ActuatorId which,
                                    const std::vector<double>& pad_forces) {
    const PedalModel model = make_pedal_model(simulation, s, which);
    std::vector<PedalPoint> out;
    for (const double f : pad_forces) out.push_back(point(model, f));
    return out;
}

State without_air(const Simulation& simulation, const State& s) {
    const Network& net = simulation.network();
    const Layout layout = make_layout(net, {s.pitch, s.roll, s.volume_roll, s.volume_lift}, 1);
    State out = s;
    for (VolumeState& v : out.volumes) {
        const std::size_t i = static_cast<std::size_t>(&v - out.volumes.data());
        v.gas = v.theta = 0.0;
        v.liquid = liquid_to_fill(0.0, net.volumes[i].content, net.volumes[i].walls, v.play_memory,
                                  layout.medium, v.pressure);
    }
    for (auto& cells : out.lines)
        for (Cell& c : cells) {
            if (c.gas == 0.0) continue;
            c.liquid += gas_volume_at(c.gas, 0.0, c.pressure);
            c.gas = 0.0;
            c.train = Train({c.liquid, 0.0});
        }
    out.ledger = {};
    return out;
}

std::string_view name_of(Gives cause) {
    switch (cause) {
    case Gives::lost_motion:
        return "play and cut-off";
    case Gives::air:
        return "air";
    case Gives::fluid:
        return "fluid";
    case Gives::hose:
        return "hose";
    case Gives::pipe:
        return "pipe";
    case Gives::seals_and_pads:
        return "seals rolling, pads settling";
    case Gives::housing:
        return "pads and housing";
    case Gives::slack:
        return "slack";
    case Gives::knocked_back:
        return "pistons knocked back";
    case Gives::leaked:
        return "leaked";
    case Gives::left_over:
        return "left from the stroke before, driven in by a quick push";
    }
    return {};
}

std::vector<TravelShare> split_travel(const Network& net, const PedalModel& model, const PedalState& s,
                                      double gas_exponent) {
    Split split(net);
    const Actuator& a = model.actuator;
    bool moved = false;
    for (std::size_t j = 0; j < model.circuits.size(); ++j) {
        split.circuit(model.circuits[j], model.medium, s.circuits[j], a.ratio * rod_share(a, j),
                      gas_exponent);
        moved = moved || s.circuits[j].compression > 0.0;
    }
    if (moved)
        split.add(Gives::lost_motion, false, model.circuits.front().piston.chamber.index,
                  a.ratio * a.free_play);
    return std::move(split.shares);
}

} // namespace clearstroke
