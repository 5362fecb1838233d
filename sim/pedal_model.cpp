#include "sim/pedal_model.hpp"

#include <algorithm>
#include <cmath>
#include <limits>
#include <numeric>

#include "sim/layout.hpp"

namespace clearstroke {
namespace {

/// Nodes that a chamber reaches, and resistance of the path there; a shared stretch counts once for each
/// end that it feeds, as they all flow back at once.
class Paths {
public:
    /// `shut`: lines that let nothing past their `from` end.
    Paths(const Network& net, std::size_t chamber, std::vector<char> shut)
        : net_(net), shut_(std::move(shut)) {
        same_as_.resize(net.volumes.size());
        std::iota(same_as_.begin(), same_as_.end(), std::size_t{0});
        for (const Actuator& a : net.actuators)
            for (const Piston& p : a.pistons)
                if (p.inlet) same_as_[p.inlet->volume.index] = p.chamber.index;
        node_seen_.assign(net.volumes.size() + net.junctions.size(), 0);
        line_seen_.assign(net.lines.size(), 0);
        for (std::size_t l = 0; l < net.lines.size(); ++l)
            for (const End* end : {&net.lines[l].from, &net.lines[l].to})
                if (const auto n = node(*end); n >= 0) touching_[static_cast<std::size_t>(n)].push_back(l);
        visit(same_as_[chamber]);
    }
    Paths(const Paths&) = delete;
    Paths& operator=(const Paths&) = delete;

    [[nodiscard]] bool volume(std::size_t v) const { return node_seen_[same_as_[v]] != 0; }
    [[nodiscard]] bool line(std::size_t l) const { return line_seen_[l] != 0; }
    /// Lines in the order in which they are reached, each with the line that leads to it (or none).
    struct Step {
        std::size_t line;
        std::ptrdiff_t before;
        bool ends_in_volume;
    };
    [[nodiscard]] const std::vector<Step>& steps() const { return steps_; }

private:
    const Network& net_;
    std::vector<char> shut_;
    std::vector<std::size_t> same_as_; // a volume that feeds a cylinder in a line is one with its chamber
    std::vector<char> node_seen_, line_seen_;
    std::vector<std::vector<std::size_t>> touching_{net_.volumes.size() + net_.junctions.size()};
    std::vector<Step> steps_;

    [[nodiscard]] std::ptrdiff_t node(const End& end) const {
        if (const auto* p = std::get_if<PortRef>(&end))
            return static_cast<std::ptrdiff_t>(same_as_[p->volume.index]);
        if (const auto* j = std::get_if<JunctionId>(&end))
            return static_cast<std::ptrdiff_t>(net_.volumes.size() + j->index);
        return -1;
    }

    void visit(std::size_t start) {
        struct Waiting {
            std::size_t node;
            std::ptrdiff_t step;
        };
        std::vector<Waiting> queue{{start, -1}};
        node_seen_[start] = 1;
        for (std::size_t i = 0; i < queue.size(); ++i) {
            const Waiting here = queue[i];
            for (const std::size_t l : touching_[here.node]) {
                if (line_seen_[l] || shut_[l]) continue;
                line_seen_[l] = 1;
                std::ptrdiff_t other = -1;
                for (const End* end : {&net_.lines[l].from, &net_.lines[l].to})
                    if (const auto n = node(*end); n >= 0 && n != static_cast<std::ptrdiff_t>(here.node))
                        other = n;
                const bool fresh = other >= 0 && !node_seen_[static_cast<std::size_t>(other)];
                steps_.push_back(
                    {l, here.step, fresh && other < static_cast<std::ptrdiff_t>(net_.volumes.size())});
                if (!fresh) continue;
                node_seen_[static_cast<std::size_t>(other)] = 1;
                queue.push_back(
                    {static_cast<std::size_t>(other), static_cast<std::ptrdiff_t>(steps_.size()) - 1});
            }
        }
    }
};

/// Lines capped or clamped, and those whose valve is shut.
std::vector<char> shut_lines(const Network& net, const State& s) {
    std::vector<char> out = s.line_capped;
    for (std::size_t l = 0; l < net.lines.size(); ++l)
        if (const auto& v = net.lines[l].valve; v && v->kind == ValveKind::shut && !s.valve_held[l])
            out[l] = 1;
    return out;
}

double path_resistance(const Paths& paths, const Layout& layout) {
    const auto& steps = paths.steps();
    std::vector<int> ends(steps.size(), 0);
    for (std::size_t i = steps.size(); i-- > 0;) {
        if (steps[i].ends_in_volume) ++ends[i];
        if (steps[i].before >= 0) ends[static_cast<std::size_t>(steps[i].before)] += ends[i];
    }
    std::vector<double> until(steps.size(), 0.0);
    double conductance = 0.0;
    for (std::size_t i = 0; i < steps.size(); ++i) {
        const LineLayout& l = layout.lines[steps[i].line];
        until[i] = l.per_liquid * l.volume * std::max(ends[i], 1) +
                   (steps[i].before >= 0 ? until[static_cast<std::size_t>(steps[i].before)] : 0.0);
        if (steps[i].ends_in_volume) conductance += 1.0 / until[i];
    }
    return conductance > 0.0 ? 1.0 / conductance : 0.0;
}

PedalPart part_of_line(const Line& line, std::size_t l, const std::vector<Cell>& cells) {
    PedalPart part{true, l, 0.0, 0.0, 0.0, line.walls, 0.0};
    double weight = 0.0;
    for (const Cell& c : cells) {
        const double volume = c.liquid + c.gas;
        part.gas += c.gas;
        part.liquid += c.liquid;
        part.rest += c.pressure * volume;
        part.play_memory += c.play_memory * volume;
        weight += volume;
    }
    part.rest /= weight;
    part.play_memory /= weight;
    return part;
}

PedalCircuit circuit_of(const Network& net, const State& s, const Layout& layout, const Piston& piston) {
    PedalCircuit out;
    out.piston = piston;
    out.port = drop_law(piston.port, layout.liquid.density, layout.liquid.dynamic_viscosity);
    out.cup = drop_law(piston.cup.passage, layout.liquid.density, layout.liquid.dynamic_viscosity);
    const Paths paths(net, piston.chamber.index, shut_lines(net, s));
    out.path_resistance = path_resistance(paths, layout);
    for (std::size_t v = 0; v < net.volumes.size(); ++v) {
        if (!paths.volume(v)) continue;
        const VolumeState& state = s.volumes[v];
        const Volume& volume = net.volumes[v];
        out.parts.push_back({false, v, state.gas, state.pressure, state.liquid, volume.walls,
                             state.play_memory, volume.knocked_back, volume.leak, volume.air_entry,
                             volume.walls.take_up_volume > 0.0 && volume.ahead <= 0.0});
    }
    for (std::size_t l = 0; l < net.lines.size(); ++l)
        if (paths.line(l)) out.parts.push_back(part_of_line(net.lines[l], l, s.lines[l]));
    return out;
}

} // namespace

PedalModel make_pedal_model(const Simulation& simulation, const State& s, ActuatorId which) {
    const Network& net = simulation.network();
    const Layout layout = make_layout(net, {s.pitch, s.roll, s.volume_roll, s.volume_lift}, 1);
    PedalModel out{net.actuators[which.index], layout.medium, {}};
    for (const Piston& p : out.actuator.pistons) out.circuits.push_back(circuit_of(net, s, layout, p));
    return out;
}

ShutOff shut_off_by(const PedalModel& model, const Network& net, LineId clamped) {
    ShutOff out;
    for (const PedalCircuit& c : model.circuits) {
        std::vector<char> shut(net.lines.size(), 0);
        shut[clamped.index] = 1;
        const Paths paths(net, c.piston.chamber.index, shut);
        out.emplace_back();
        for (std::size_t i = 0; i < c.parts.size(); ++i)
            if (c.parts[i].line ? !paths.line(c.parts[i].index) : !paths.volume(c.parts[i].index))
                out.back().push_back(i);
    }
    return out;
}

PedalModel without(const PedalModel& model, const ShutOff& shut) {
    PedalModel out = model;
    for (std::size_t c = 0; c < shut.size(); ++c)
        for (std::size_t i = shut[c].size(); i-- > 0;)
            out.circuits[c].parts.erase(out.circuits[c].parts.begin() +
                                        static_cast<std::ptrdiff_t>(shut[c][i]));
    return out;
}

VolumeSlope yielded(const PedalCircuit& c, const Medium& m, const std::vector<double>& memory, double gauge,
                    double n) {
    VolumeSlope out;
    const double denominator = m.bulk_modulus + m.stiffening * gauge;
    double liquid = 0.0;
    for (std::size_t i = 0; i < c.parts.size(); ++i) {
        const PedalPart& p = c.parts[i];
        const double e = p.rest - m.ambient;
        if (p.gas > 0.0) {
            const double before = gas_volume_at(p.gas, 0.0, p.rest), ratio = p.rest / (p.rest + gauge);
            const double after = before * (n == slow_gas ? ratio : std::pow(ratio, 1.0 / n));
            out.volume += before - after;
            out.slope += after / (n * (p.rest + gauge));
        }
        const VolumeSlope walls = elastic_volume(p.walls, e + gauge, memory[i]);
        out.volume += walls.volume - elastic_volume(p.walls, e, p.play_memory).volume;
        out.slope += walls.slope;
        liquid += p.liquid;
    }
    out.volume += liquid * gauge / denominator;
    out.slope += liquid * m.bulk_modulus / (denominator * denominator);
    return out;
}

} // namespace clearstroke
