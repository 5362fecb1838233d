/// Engine: hands what passed each edge in a step to contents.
#include <algorithm>
#include <cmath>

#include "sim/engine.hpp"

namespace clearstroke {
namespace {

constexpr double smallest_parcel = 1e-10; // joins the nearest of its phase in the lump below this [m^3]
constexpr double last_trace =
    1e-12; // at an end goes where the flow goes; more would jolt a liquid-full lump [m^3]
constexpr double no_amount = 1e-20; // rounding, of either sign, of what has left a volume [m^3]

Eigen::Index at(std::size_t i) { return static_cast<Eigen::Index>(i); }
bool is_cell(const EdgeEnd& e) { return e.site == Site::cell || e.site == Site::hose_cell; }

bool is_plain(const Cell& c) { return c.gas == 0.0 && c.train.size() == 1; }

/// Whether a parcel of gas stands between two of liquid.
bool has_free_plug(const Train& train) {
    const auto& parcels = train.parcels();
    for (std::size_t i = 1; i + 1 < parcels.size(); ++i)
        if (kind_of(parcels[i]) == ParcelKind::gas && kind_of(parcels[i - 1]) == ParcelKind::liquid &&
            kind_of(parcels[i + 1]) == ParcelKind::liquid)
            return true;
    return false;
}

Cell& cell_of(State& s, const Node& n) {
    return n.site == Site::cell ? s.lines[n.line][n.cell] : s.hose->cells[n.cell];
}

} // namespace

void Engine::receive(State& s, const EdgeEnd& end, std::size_t through, const Parcel& p) {
    switch (end.site) {
    case Site::volume:
        s.volumes[assembly_.nodes()[end.index].volume].liquid += p.liquid;
        s.volumes[assembly_.nodes()[end.index].volume].gas += p.gas;
        return;
    case Site::cell:
    case Site::hose_cell: {
        Cell& c = cell_of(s, assembly_.nodes()[end.index]);
        c.liquid += p.liquid;
        c.gas += p.gas;
        c.train.push(end.side, p);
        return;
    }
    case Site::junction: {
        const std::size_t m = assembly_.edges().size();
        std::size_t best = through;
        double most = -1.0;
        for (const std::size_t e : assembly_.junction_edges()[end.index]) {
            if (e == through) continue;
            const Edge& edge = assembly_.edges()[e];
            const bool up_here = edge.up.site == Site::junction && edge.up.index == end.index;
            const double out = (up_here ? 1.0 : -1.0) * (z_[at(e)] + z_[at(m + e)]);
            if (out > most) {
                most = out;
                best = e;
            }
        }
        const Edge& edge = assembly_.edges()[best];
        const bool up_here = edge.up.site == Site::junction && edge.up.index == end.index;
        receive(s, up_here ? edge.down : edge.up, best, p);
        return;
    }
    case Site::reservoir:
        s.reservoirs[end.index].liquid[static_cast<std::size_t>(end.chamber)] += p.liquid;
        s.ledger.drawn -= p.liquid;
        s.ledger.gas_out += p.gas;
        return;
    case Site::bottle:
    case Site::ambient:
        s.bottle += p.liquid;
        s.ledger.liquid_out += p.liquid;
        s.ledger.gas_out += p.gas;
        return;
    }
}

void Engine::move_contents(State& s, double dt) {
    const std::size_t m = assembly_.edges().size();
    move_liquid(s);
    move_gas_of_volumes(s);
    for (const EndOfEdge& e : assembly_.ends_at_gas())
        enter(s, assembly_.end(e), {e.into() * z_[at(e.edge)], e.into() * z_[at(m + e.edge)]});
    for (const EndOfEdge& e : assembly_.ends_at_gas())
        leave(s, assembly_.end(e), {-e.into() * z_[at(e.edge)], -e.into() * z_[at(m + e.edge)]});
    let_gas_advance(s, dt);
}

/// The liquid of all inventories.
void Engine::move_liquid(State& s) {
    const auto& nodes = assembly_.nodes();
    const auto& edges = assembly_.edges();
    for (std::size_t i = 0; i < nodes.size(); ++i) holds_[i] = nodes[i].start.liquid;
    for (std::size_t e = 0; e < edges.size(); ++e) {
        holds_[edges[e].up.spot] -= z_[at(e)];
        holds_[edges[e].down.spot] += z_[at(e)];
    }
    for (std::size_t i = 0; i < nodes.size(); ++i)
        (nodes[i].site == Site::volume ? s.volumes[i].liquid : cell_of(s, nodes[i]).liquid) = holds_[i];
}

void Engine::move_gas_of_volumes(State& s) {
    const auto& edges = assembly_.edges();
    for (const std::size_t e : assembly_.other_edges()) {
        const double gas = z_[at(edges.size() + e)];
        if (gas == 0.0) continue;
        if (edges[e].up.site == Site::volume) s.volumes[edges[e].up.index].gas -= gas;
        if (edges[e].down.site == Site::volume) s.volumes[edges[e].down.index].gas += gas;
    }
}

/// Adds to a cell the gas that an end takes in, and to its train what enters.
void Engine::enter(State& s, const EdgeEnd& end, const Parcel& in) {
    Cell& c = cell_of(s, assembly_.nodes()[end.index]);
    c.gas += in.gas;
    if (is_plain(c) && in.gas == 0.0) return; // its train follows its liquid in settle_cells
    const double liquid = std::max(in.liquid, 0.0);
    if (liquid > 0.0 && in.gas < 0.0)
        c.train.slip_liquid_behind(end.side, liquid);
    else
        c.train.push(end.side, {liquid, std::max(in.gas, 0.0)});
}

/// Takes from the train of a cell what leaves.
void Engine::leave(State& s, const EdgeEnd& end, const Parcel& out) {
    Cell& c = cell_of(s, assembly_.nodes()[end.index]);
    if (is_plain(c)) return;
    if (out.liquid > 0.0) c.train.take_liquid(end.side, out.liquid);
    if (out.gas > 0.0) c.train.take_gas(end.side, out.gas);
}

/// Run-ahead and rise inside cells.
void Engine::let_gas_advance(State& s, double dt) {
    const auto& nodes = assembly_.nodes();
    for (std::size_t i = 0; i < nodes.size(); ++i) {
        if (nodes[i].site == Site::volume || nodes[i].liquid_only) continue;
        Cell& c = cell_of(s, nodes[i]);
        if (c.gas <= 0.0 || c.train.size() < 3) continue;
        const double ahead =
            has_free_plug(c.train) ? plug_in(nodes[i], c).advance(mean_through(i) / dt, dt) : 0.0;
        c.train.let_gas_advance(ahead);
    }
}

/// Contents through a cell, as the mean of its ends [m^3].
double Engine::mean_through(std::size_t node) const {
    const std::size_t m = assembly_.edges().size();
    const double per_free_air = standard_atmosphere / assembly_.nodes()[node].base.p;
    double through = 0.0, ends = 0.0;
    for (const EndOfEdge& e : assembly_.ends_at_gas()) {
        if (assembly_.end(e).index != node) continue;
        through += z_[at(e.edge)] + z_[at(m + e.edge)] * per_free_air;
        ends += 1.0;
    }
    return ends > 0.0 ? through / ends : 0.0;
}

/// The last trace of a parcel at an end goes where more than it went, not where the last instant flows; true when one did.
bool Engine::take_last_trace(State& s, std::size_t e, double passed, bool down) {
    const Edge& edge = assembly_.edges()[e];
    const EdgeEnd &end = down ? edge.up : edge.down, &other = down ? edge.down : edge.up;
    Cell& c = cell_of(s, assembly_.nodes()[end.index]);
    if (c.gas == 0.0 || c.train.size() < 2) return false;
    const double sign = down ? 1.0 : -1.0;
    const Parcel p = c.train.end(end.side);
    const bool against =
        (p.liquid > 0.0 && sign * edge.liquid < 0.0) || (p.gas > 0.0 && sign * edge.gas < 0.0);
    if (p.liquid + p.gas > std::min(last_trace, passed) || against) return false;
    c.train.take_liquid(end.side, p.liquid);
    c.train.take_gas(end.side, p.gas);
    c.liquid -= p.liquid;
    c.gas -= p.gas;
    receive(s, other, e, p);
    return true;
}

/// Along the edges, so that a trace of gas that was taken may go on where only liquid stood.
void Engine::take_last_traces(State& s) {
    const auto& edges = assembly_.edges();
    const std::size_t m = edges.size();
    bool taken = false;
    for (std::size_t e = 0; e < m; ++e) {
        if (edges[e].of_liquid_alone && !taken) continue;
        const double passed = z_[at(e)] + z_[at(m + e)];
        const EdgeEnd& end = passed > 0.0 ? edges[e].up : edges[e].down;
        if (passed == 0.0 || !is_cell(end)) continue;
        if (assembly_.nodes()[end.index].liquid_only && !taken) continue;
        taken = take_last_trace(s, e, std::abs(passed), passed > 0.0) || taken;
    }
}

void Engine::settle_cells(State& s) {
    take_last_traces(s);
    const auto most = static_cast<std::size_t>(settings_.parcels_per_lump);
    for (const Node& n : assembly_.nodes()) {
        if (n.site == Site::volume) continue;
        Cell& c = cell_of(s, n);
        if (c.train.size() > 1)
            c.train.tidy(most * static_cast<std::size_t>(c.end - c.begin), smallest_parcel,
                         2.0 * settings_.end_window);
        const Parcel total = c.train.match(c.liquid, c.gas);
        c.liquid = total.liquid;
        c.gas = total.gas;
    }
    for (VolumeState& v : s.volumes)
        for (double* amount : {&v.liquid, &v.gas})
            if (std::abs(*amount) < no_amount) *amount = 0.0;
}

/// Pressures, play memories, floating parts and gas temperatures after a step.
void Engine::relax(State& s, double dt) {
    for (std::size_t k = 0; k < net_.actuators.size(); ++k) {
        const ActuatorPoint& p = assembly_.actuator(k);
        s.actuators[k].x = assembly_.rod(k) + z_[at(2 * assembly_.edges().size() + k)];
        inner_speed_[k] = (p.u - s.actuators[k].u) / dt;
        s.actuators[k].u = p.u;
        s.actuators[k].slid = p.slides;
        for (std::size_t j = 0; j < net_.actuators[k].pistons.size(); ++j) {
            const Piston& piston = net_.actuators[k].pistons[j];
            const char open = !piston.blind && p.d[j] <= piston.cut_off;
            if (s.actuators[k].port_open[j] != open) structure_known_ = false;
            s.actuators[k].port_open[j] = open;
        }
    }
    if (net_.conditions.unsteady_lines) assembly_.keep_line_flows(z_, dt, s);
    for (const Node& n : assembly_.nodes()) {
        if (n.site == Site::volume) relax_gas(s.volumes[n.volume], n);
        double& pressure = n.site == Site::volume ? s.volumes[n.volume].pressure : cell_of(s, n).pressure;
        pressure = n.pressure.p;
        if (n.walls.play <= 0.0) continue;
        double& memory = n.site == Site::volume ? s.volumes[n.volume].play_memory : cell_of(s, n).play_memory;
        memory = play_operator(n.pressure.p - layout_->medium.ambient, n.walls.play, n.play_memory);
    }
}

void Engine::relax_gas(VolumeState& v, const Node& n) const {
    const bool warm =
        settings_.gas_law == Settings::GasLaw::adiabatic ||
        (settings_.gas_law == Settings::GasLaw::by_size && v.gas > net_.conditions.gas_temperature_from);
    if (!warm || v.gas <= 0.0) {
        v.theta = 0.0;
        return;
    }
    const double at_wall = theta_at_wall(n.pressure.p);
    v.theta = v.theta == 0.0 ? at_wall : n.now.theta;
    const double inflow = std::max(v.gas - n.start.gas, 0.0);
    v.theta += (at_wall - v.theta) * inflow / v.gas;
}

void Engine::apply(State& s, double dt, Meter* meter) {
    if (limit_outflows()) assembly_.find_pressures(z_);
    move_contents(s, dt);
    keep_ledger(s, dt, meter);
    settle_cells(s);
    relax(s, dt);
    s.t += dt;
    transport(s, false);
    if (bubbles_.on()) bubbles_.after_step(s, *layout_, assembly_, z_, dt);
}

} // namespace clearstroke
