#include "sim/run.hpp"

#include <algorithm>
#include <cmath>
#include <limits>

#include "models/gas.hpp"
#include "sim/simulation.hpp"

namespace clearstroke {
namespace {

double reservoir_total(const State& s) {
    double sum = 0.0;
    for (const ReservoirState& r : s.reservoirs) sum += held_in(r);
    return sum;
}

struct Inside {
    double liquid{}, gas{};
};
Inside inside(const State& s) {
    Inside out;
    const auto add_cells = [&](const std::vector<Cell>& cells) {
        for (const Cell& c : cells) {
            out.liquid += c.liquid;
            out.gas += c.gas;
        }
    };
    for (const VolumeState& v : s.volumes) {
        out.liquid += v.liquid;
        out.gas += v.gas;
    }
    for (const auto& cells : s.lines) add_cells(cells);
    if (s.hose) add_cells(s.hose->cells);
    out.liquid += reservoir_total(s);
    return out;
}

} // namespace

Simulation::Simulation(const Network& net, Settings settings)
    : impl_(std::make_unique<Impl>(net, settings)) {}
Simulation::~Simulation() = default;
Simulation::Simulation(Simulation&&) noexcept = default;
Simulation& Simulation::operator=(Simulation&&) noexcept = default;

const Network& Simulation::network() const { return impl_->net; }
const Circuits& Simulation::circuits() const { return impl_->circuits; }

State Simulation::start(const Contents& contents) const {
    const Network& net = impl_->net;
    check(net, contents);
    State s;
    s.volume_roll.assign(net.volumes.size(), 0.0);
    s.volume_lift.assign(net.volumes.size(), 0.0);
    s.valve_held.assign(net.lines.size(), 0);
    s.pitch = net.conditions.pitch;
    s.roll = net.conditions.roll;
    const Layout& layout = impl_->engine.layout(s);
    const Circuits& circuits = impl_->circuits;
    const double weight = layout.liquid.density * standard_gravity, ambient = layout.medium.ambient;
    double surface = 0.0;
    for (std::size_t r = 0; r < net.reservoirs.size(); ++r) {
        const Reservoir& part = net.reservoirs[r];
        s.reservoirs.push_back(
            {std::vector<double>(static_cast<std::size_t>(part.chambers), part.initial / part.chambers),
             contents.reservoir_fresh_fraction, poured_with(net.conditions, part.initial)});
        surface = std::max(surface, layout.reservoir_heights[r] + part.initial / part.area);
    }
    // A circuit without gas hangs below its reservoir; one with gas starts at ambient and settles.
    std::vector<char> gassy(static_cast<std::size_t>(circuits.count), 0);
    for (std::size_t v = 0; v < net.volumes.size(); ++v)
        if (contents.volume_gas[v] > 0.0 || contents.dispersed > 0.0)
            gassy[static_cast<std::size_t>(circuits.of_volume[v])] = 1;
    for (std::size_t l = 0; l < net.lines.size(); ++l)
        if (!contents.line_gas[l].empty() || contents.dispersed > 0.0)
            gassy[static_cast<std::size_t>(circuits.of_line[l])] = 1;
    const auto hangs = [&](int circuit) { return gassy[static_cast<std::size_t>(circuit)] ? 0.0 : weight; };
    for (std::size_t v = 0; v < net.volumes.size(); ++v) {
        VolumeState state;
        const double hung = hangs(circuits.of_volume[v]);
        state.pressure = ambient + hung * (surface - layout.volumes[v].height);
        state.gas = contents.volume_gas[v] * ambient / standard_atmosphere;
        state.play_memory = 0.0;
        state.held =
            contents.volume_held.empty() ? 0.0 : contents.volume_held[v] * ambient / standard_atmosphere;
        state.dispersed =
            free_air_of(contents.dispersed * (net.volumes[v].content - contents.volume_gas[v]), ambient);
        state.gas += state.dispersed;
        state.liquid = std::max(liquid_to_fill(state.gas, net.volumes[v].content, net.volumes[v].walls, 0.0,
                                               layout.medium, state.pressure),
                                0.0);
        state.fresh = contents.fresh_fraction;
        s.volumes.push_back(state);
    }
    for (std::size_t l = 0; l < net.lines.size(); ++l) {
        const double hung = hangs(circuits.of_line[l]);
        s.lines.push_back(fill_line(layout.lines[l], contents.line_gas[l], layout.medium,
                                    ambient + hung * surface, hung, contents.dispersed));
        s.streams.emplace_back(layout.lines[l].volume, contents.fresh_fraction);
    }
    s.line_flow.assign(net.lines.size(), {});
    for (const Actuator& a : net.actuators)
        s.actuators.push_back({0.0, 0.0, std::vector<char>(a.pistons.size(), 1), false});
    s.screw_turns.assign(net.screws.size(), 0.0);
    s.line_capped.assign(net.lines.size(), 0);
    s.hose_submerged = net.catch_hose.submerged;
    const Inside now = inside(s);
    s.ledger.liquid_start = now.liquid;
    s.ledger.gas_start = now.gas;
    s.ledger.lowest_level = std::numeric_limits<double>::infinity();
    for (const ReservoirState& r : s.reservoirs)
        s.ledger.lowest_level = std::min(s.ledger.lowest_level, held_in(r));
    return s;
}

RunStatus Simulation::advance(State& s, double seconds) { return impl_->pass(s, seconds); }

RunStatus Simulation::act(State& s, const Act& a, const Operator& person, std::optional<ScrewId> here) {
    return impl_->perform(s, a, person, here);
}

StrokeRecord Simulation::Impl::stroke(State& s, const Visit& v, const Procedure& p, const Method& method,
                                      int number, RunStatus& status, int& openings) {
    meter.emplace();
    meter->screw = v.screw;
    for (const Act& a : method.stroke) {
        openings += std::holds_alternative<OpenScrew>(a);
        status = perform(s, a, p.person, v.screw);
        if (!status.usable()) break;
    }
    const Meter m = *meter;
    meter.reset();
    if (observer) observer(s, Moment::stroke);
    StrokeRecord r;
    r.number = number;
    r.t_end = s.t;
    r.liquid_out = m.liquid_out;
    r.gas_out = m.gas_out;
    r.gas_seen = m.gas_in_hose;
    r.bubble_seen = gas_volume(method.at_reservoir ? m.gas_in_reservoir : m.gas_in_hose,
                               net.conditions.ambient_pressure) > net.catch_hose.visible_bubble;
    r.colour_seen = m.hose_through > 0.0 ? m.fresh_out / m.hose_through : 0.0;
    r.drawn = m.drawn;
    r.lowest_level = s.ledger.lowest_level;
    r.lowest_pressure = m.lowest_pressure;
    r.peak_flow = m.peak_flow;
    const std::size_t k = actuator_for({}, v.screw);
    const Actuator& a = net.actuators[k];
    r.pad_travel = a.ratio * (m.furthest_rod + (m.furthest_rod > 0.0 ? a.free_play : 0.0));
    r.peak_pad_force = m.peak_rod_force > 0.0 ? (m.peak_rod_force + a.rod_friction) / a.ratio : 0.0;
    return r;
}

VisitRecord Simulation::visit(State& s, const Visit& v, const Procedure& p) {
    Impl& i = *impl_;
    VisitRecord out;
    out.screw = v.screw;
    const Method& method = v.method ? *v.method : p.method;
    const double start = s.t, drawn = s.ledger.drawn;
    const int top_ups = s.ledger.top_ups;
    for (VolumeState& volume : s.volumes) volume.least_kept = std::numeric_limits<double>::infinity();
    const auto run = [&](const std::vector<Act>& acts) {
        for (const Act& a : acts) {
            out.openings += std::holds_alternative<OpenScrew>(a);
            out.status = i.perform(s, a, p.person, v.screw);
            if (!out.status.usable()) return false;
        }
        return true;
    };
    const auto top_up_if_low = [&] {
        for (std::size_t r = 0; r < s.reservoirs.size(); ++r)
            if (held_in(s.reservoirs[r]) < p.person.top_up_below * i.net.reservoirs[r].capacity)
                return i.top_up(s);
    };
    if (!run(v.before)) return out;
    i.attach_hose(s, v.screw);
    out.status = i.pass(s, p.person.move_time);
    if (!out.status.usable() || !run(method.arrive)) return out;
    const double hose_volume = i.engine.layout(s).hoses[v.screw.index].volume;
    double through = 0.0;
    int clear = 0;
    const int most = v.strokes.value_or(p.stop.most_strokes);
    RunEnd why = v.strokes ? RunEnd::done : RunEnd::stroke_limit;
    for (int n = 1; n <= most; ++n) {
        top_up_if_low();
        StrokeRecord r = i.stroke(s, v, p, method, n, out.status, out.openings);
        r.air_by_circuit = air(s).of_circuit;
        through += std::max(r.liquid_out, 0.0) + std::max(r.gas_out, 0.0);
        const bool coloured = p.stop.new_colour <= 0.0 || r.colour_seen >= p.stop.new_colour;
        const bool counts = method.at_reservoir || through >= p.stop.hose_volumes * hose_volume;
        clear = !r.bubble_seen && counts && coloured ? clear + 1 : 0;
        out.fluid_discarded += r.liquid_out;
        out.strokes.push_back(std::move(r));
        if (!out.status.usable()) return out;
        if (!v.strokes && clear >= p.stop.clear_strokes) {
            why = RunEnd::seen_clear;
            break;
        }
    }
    if (!run(method.leave)) return out;
    out.top_ups = s.ledger.top_ups - top_ups;
    out.fluid_drawn = s.ledger.drawn - drawn;
    out.duration = s.t - start;
    out.status = {why, s.t, i.net.screws[v.screw.index].name, ""};
    return out;
}

AirInside Simulation::air(const State& s) const {
    AirInside out;
    const Circuits& c = impl_->circuits;
    out.of_circuit.assign(static_cast<std::size_t>(c.count), 0.0);
    for (std::size_t v = 0; v < s.volumes.size(); ++v) {
        out.of_volume.push_back(s.volumes[v].gas);
        out.of_circuit[static_cast<std::size_t>(c.of_volume[v])] += s.volumes[v].gas;
    }
    for (std::size_t l = 0; l < s.lines.size(); ++l) {
        double gas = 0.0;
        for (const Cell& cell : s.lines[l]) gas += cell.gas;
        out.of_line.push_back(gas);
        out.of_circuit[static_cast<std::size_t>(c.of_line[l])] += gas;
    }
    for (const double x : out.of_circuit) out.total += x;
    return out;
}

Balance Simulation::balance(const State& s) const {
    const Inside now = inside(s);
    const Ledger& l = s.ledger;
    constexpr double least = 1e-6; // 1 mL
    return {std::abs(now.liquid - (l.liquid_start + l.liquid_in - l.liquid_out)) /
                std::max(l.liquid_start + l.liquid_in, least),
            std::abs(now.gas - (l.gas_start + l.gas_in - l.gas_out)) /
                std::max(l.gas_start + l.gas_in, least)};
}

BeyondReach Simulation::beyond_reach(const State& s) const {
    const Network& net = impl_->net;
    const Layout& layout = impl_->engine.layout(s);
    BeyondReach out;
    for (std::size_t v = 0; v < net.volumes.size(); ++v) {
        std::vector<std::size_t> openings;
        for (const Screw& screw : net.screws)
            if (const auto* p = std::get_if<PortRef>(&screw.at); p && p->volume.index == v)
                openings.push_back(p->port);
        if (openings.empty())
            for (std::size_t p = 0; p < net.volumes[v].ports.size(); ++p) openings.push_back(p);
        double geometric = openings.empty() ? 0.0 : std::numeric_limits<double>::infinity();
        for (const std::size_t p : openings)
            geometric = std::min(geometric, air_above(net.volumes[v], layout.volumes[v],
                                                      layout.volumes[v].ports[p].top_in_cavity,
                                                      net.conditions.ambient_pressure));
        out.geometric.push_back(geometric);
        out.this_procedure.push_back(s.volumes[v].least_kept);
    }
    return out;
}

std::vector<double> Simulation::fresh_of_volume(const State& s) const {
    std::vector<double> out;
    for (const VolumeState& v : s.volumes) out.push_back(v.fresh);
    return out;
}

std::vector<double> Simulation::fresh_of_line(const State& s) const {
    std::vector<double> out;
    for (const LaminarStreams& l : s.streams) out.push_back(l.mean());
    return out;
}

void Simulation::observe(Observer observer) {
    impl_->observer = observer;
    if (observer)
        impl_->engine.observe([observer](const State& s) { observer(s, Moment::step); });
    else
        impl_->engine.observe({});
}

Work Simulation::work() const { return impl_->engine.work(); }

std::vector<double> Simulation::pressures(const State& s) const {
    std::vector<double> out;
    for (const VolumeState& v : s.volumes) out.push_back(v.pressure);
    return out;
}

} // namespace clearstroke
