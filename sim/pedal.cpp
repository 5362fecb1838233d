#include "sim/pedal.hpp"

#include <algorithm>
#include <cmath>

#include "models/closure.hpp"
#include "sim/actuator.hpp"
#include "sim/layout.hpp"

namespace clearstroke {
namespace {

/// Volume that everything in one circuit yields when its pressure rises from rest by `gauge`: gas and
/// liquid shrink, walls give.
class Yield {
  public:
    Yield(const Simulation& simulation, const State& s, int circuit) : layout_(make_layout(simulation.network(), {s.pitch, s.roll, s.volume_roll}, 1)) {
        const Network& net = simulation.network();
        const Circuits& circuits = simulation.circuits();
        for (std::size_t v = 0; v < net.volumes.size(); ++v)
            if (circuits.of_volume[v] == circuit)
                parts_.push_back({s.volumes[v].liquid, s.volumes[v].gas, s.volumes[v].pressure, net.volumes[v].walls, s.volumes[v].play_memory});
        for (std::size_t l = 0; l < net.lines.size(); ++l)
            if (circuits.of_line[l] == circuit)
                for (const Cell& c : s.lines[l]) parts_.push_back({c.liquid, c.gas, c.pressure, share_of(net.lines[l], s, l, c), c.play_memory});
    }

    [[nodiscard]] double operator()(double gauge) const {
        double sum = 0.0;
        for (const Part& p : parts_) {
            const double before = p.pressure, after = before + gauge;
            sum += gas_volume_at(p.gas, 0.0, before) - gas_volume_at(p.gas, 0.0, after);
            sum += p.liquid * (shrink(before) - shrink(after));
            sum += elastic_volume(p.walls, after - layout_.medium.ambient, p.play_memory).volume -
                   elastic_volume(p.walls, before - layout_.medium.ambient, p.play_memory).volume;
        }
        return sum;
    }

    /// Gauge pressure at which `volume` has been yielded.
    [[nodiscard]] double gauge_for(double volume) const {
        double low = 0.0, high = 1e5;
        while ((*this)(high) < volume && high < 1e9) high *= 2.0;
        for (int i = 0; i < 100 && high - low > 1e-9 * high; ++i) {
            const double middle = 0.5 * (low + high);
            ((*this)(middle) < volume ? low : high) = middle;
        }
        return 0.5 * (low + high);
    }

  private:
    struct Part {
        double liquid, gas, pressure;
        ElasticLaw walls;
        double play_memory;
    };
    Layout layout_;
    std::vector<Part> parts_;

    [[nodiscard]] double shrink(double p) const {
        const double e = p - layout_.medium.ambient;
        return 1.0 - e / (layout_.medium.bulk_modulus + layout_.medium.stiffening * e);
    }
    static ElasticLaw share_of(const Line& line, const State& s, std::size_t l, const Cell& c) {
        int lumps = 0;
        for (const Cell& cell : s.lines[l]) lumps = std::max(lumps, cell.end);
        ElasticLaw out = line.walls;
        const double share = static_cast<double>(c.end - c.begin) / lumps;
        out.compliance *= share;
        out.settling_volume *= share;
        out.take_up_volume *= share;
        return out;
    }
};

/// Forces on the pistons that a rod force makes, friction of the floating part taken off the second.
std::array<double, 2> piston_forces(const Actuator& a, double rod_force) {
    switch (a.coupling) {
        case Coupling::single: return {rod_force, 0.0};
        case Coupling::tandem: return {rod_force, std::max(rod_force - a.friction, 0.0)};
        case Coupling::balance_bar: return {a.bar_share * rod_force, (1.0 - a.bar_share) * rod_force};
    }
    return {};
}

double rod_travel(const Actuator& a, const std::array<double, 2>& d) {
    switch (a.coupling) {
        case Coupling::single: return d[0];
        case Coupling::tandem: return d[0] + d[1];
        case Coupling::balance_bar: return a.bar_share * d[0] + (1.0 - a.bar_share) * d[1];
    }
    return 0.0;
}

struct PistonPoint {
    double d{}, gauge{};
    bool at_stop{};
};

/// Compression and pressure of one piston under its force: spring and fluid share it.
PistonPoint settle(const Piston& p, const Yield& yield, double force) {
    if (force <= p.spring.preload) return {};
    double d = std::min((force - p.spring.preload) / p.spring.rate, p.cut_off);
    if (d < p.cut_off) return {d, 0.0, false};
    double gauge = 0.0;
    for (int i = 0; i < 60; ++i) {
        gauge = std::max((force - p.spring.preload - p.spring.rate * d) / p.area, 0.0);
        const double next = std::min(p.cut_off + yield(gauge) / p.area, p.stroke);
        if (std::abs(next - d) < 1e-12) break;
        d = 0.5 * (d + next);
    }
    if (d < p.stroke - 1e-9) return {d, gauge, false};
    return {p.stroke, yield.gauge_for((p.stroke - p.cut_off) * p.area), true};
}

Operator quick_foot(double pad_force) {
    Operator foot;
    foot.push_speed = 0.25;
    foot.release_speed = 0.4;
    foot.force_limit = pad_force;
    foot.stroke_share = 1.0;
    foot.hold = 0.5;
    foot.dwell = 0.0;
    return foot;
}

}  // namespace

PedalPoint pedal_at(const Simulation& simulation, const State& s, ActuatorId which, double pad_force) {
    const Actuator& a = simulation.network().actuators[which.index];
    const std::array<double, 2> force = piston_forces(a, std::max(pad_force * a.ratio - a.rod_friction, 0.0));
    PedalPoint out;
    out.pad_force = pad_force;
    std::array<double, 2> d{};
    for (std::size_t j = 0; j < a.pistons.size(); ++j) {
        const Yield yield(simulation, s, simulation.circuits().of_volume[a.pistons[j].chamber.index]);
        const PistonPoint point = settle(a.pistons[j], yield, force[j]);
        d[j] = point.d;
        out.pressure.push_back(simulation.network().conditions.ambient_pressure + point.gauge);
        out.at_stop = out.at_stop || point.at_stop;
    }
    const double x = rod_travel(a, d);
    out.pad_travel = a.ratio * (x + (x > 0.0 ? a.free_play : 0.0));
    if (a.pad_travel > 0.0 && out.pad_travel >= a.pad_travel) {
        out.pad_travel = a.pad_travel;
        out.at_stop = true;
    }
    return out;
}

std::vector<PedalPoint> pedal_curve(const Simulation& simulation, const State& s, ActuatorId which, const std::vector<double>& pad_forces) {
    std::vector<PedalPoint> out;
    for (const double f : pad_forces) out.push_back(pedal_at(simulation, s, which, f));
    return out;
}

State without_air(const Simulation& simulation, const State& s) {
    const Network& net = simulation.network();
    const Layout layout = make_layout(net, {s.pitch, s.roll, s.volume_roll}, 1);
    State out = s;
    for (VolumeState& v : out.volumes) {
        const std::size_t i = static_cast<std::size_t>(&v - out.volumes.data());
        v.gas = v.theta = 0.0;
        v.liquid = liquid_to_fill(0.0, net.volumes[i].content, net.volumes[i].walls, v.play_memory, layout.medium, v.pressure);
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

std::vector<double> successive_strokes(Simulation& simulation, const State& s, ActuatorId which, double pad_force, int count, double gap) {
    State copy = s;
    Operator foot = quick_foot(pad_force);
    foot.dwell = gap;
    const Actuator& a = simulation.network().actuators[which.index];
    std::vector<double> out;
    for (int i = 0; i < count; ++i) {
        if (!simulation.act(copy, Press{which}, foot).usable()) break;
        out.push_back(a.ratio * (copy.actuators[which.index].x + a.free_play));
        if (!simulation.act(copy, Release{which}, foot).usable()) break;
    }
    return out;
}

double sink_under_hold(Simulation& simulation, const State& s, ActuatorId which, double pad_force, double seconds) {
    State copy = s;
    Operator foot = quick_foot(pad_force);
    foot.hold = 2.0;
    if (!simulation.act(copy, Press{which}, foot).usable()) return 0.0;
    const double before = copy.actuators[which.index].x;
    foot.hold = seconds;
    if (!simulation.act(copy, Press{which}, foot).usable()) return 0.0;
    return simulation.network().actuators[which.index].ratio * (copy.actuators[which.index].x - before);
}

}  // namespace clearstroke
