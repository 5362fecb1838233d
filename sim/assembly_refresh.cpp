/// Values of an Assembly where a step begins: contents of nodes, what stands at ends, plugs that run ahead or rise.
#include <algorithm>
#include <cmath>
#include <numeric>

#include "models/constants.hpp"
#include "models/drawdown.hpp"
#include "models/gas.hpp"
#include "models/long_bubble.hpp"
#include "sim/assembly.hpp"

namespace clearstroke {
namespace {

bool holds(const Parcel& p, ParcelKind kind) { return kind_of(p) == kind; }

} // namespace

void Assembly::refresh(const State& s) {
    take_contents(s);
    note_columns(s);
    take_flows(s);
    at_start_ = true;
    given_ = false;
}

void Assembly::take_contents(const State& s) {
    cells_with_gas_.clear();
    for (std::size_t i = 0; i < nodes_.size(); ++i) {
        Node& n = nodes_[i];
        if (n.site == Site::volume) {
            const VolumeState& v = s.volumes[n.volume];
            n.start = {v.liquid, v.gas, v.theta};
            note_gas(n.starts_full, v.gas <= 0.0);
            n.play_memory = v.play_memory;
            n.held = std::min({v.held + v.dispersed, v.gas, v.liquid});
            n.dispersed = std::max(n.held - v.held, 0.0);
            if (n.dispersed > 0.0) n.held = std::min(n.held + trace_amount, v.gas); // a pocket worth the name
            n.guess = v.pressure;
        } else {
            const Cell& c = n.site == Site::cell ? s.lines[n.line][n.cell] : s.hose->cells[n.cell];
            n.full_as_before = c.gas == 0.0 && n.start.gas == 0.0 && n.columns.middle > 0.0;
            n.start = {c.liquid, c.gas, 0.0};
            note_gas(n.starts_full, c.gas <= 0.0 && c.train.size() == 1);
            if (n.full_as_before)
                n.columns.side[0].liquid = n.columns.side[1].liquid = 0.5 * c.liquid;
            else
                n.columns = columns_of(c, line_of(n), layout_->liquid.density * standard_gravity,
                                       layout_->medium.bulk_modulus);
            if (c.gas > 0.0) cells_with_gas_.push_back(i);
            n.play_memory = c.play_memory;
            n.guess = c.pressure;
        }
        n.now = n.start;
    }
    rod_start_.clear();
    u_start_.clear();
    slid_.clear();
    for (const ActuatorState& a : s.actuators) {
        rod_start_.push_back(a.x);
        u_start_.push_back(a.u);
        slid_.push_back(a.slid);
    }
    spot_pressure_[unknowns()] = layout_->medium.ambient + s.reservoir_gauge;
    spot_pressure_[unknowns() + 1] = layout_->medium.ambient + s.hose_gauge;
    find_warm();
}

/// What stands at the ends of cells.
void Assembly::note_columns(const State& s) {
    for (Edge& e : edges_)
        for (EdgeEnd* end : {&e.up, &e.down}) {
            if (end->site != Site::cell && end->site != Site::hose_cell) continue;
            const Node& n = nodes_[end->index];
            end->column = n.columns.side[end->side == Side::to].liquid;
            if (!n.full_as_before) note_column(*end, s);
        }
}

/// Likewise, where a build takes the same contents once more.
void Assembly::keep_columns(const State& s) {
    for (Node& n : nodes_) {
        n.full_as_before = n.site != Site::volume && n.start.gas == 0.0;
        if (n.full_as_before) n.columns.side[0].liquid = n.columns.side[1].liquid = 0.5 * n.start.liquid;
    }
    note_columns(s);
}

/// What the openings of parts draw by the last flows, and what follows from what stands at all ends.
void Assembly::take_flows(const State& s) {
    for (Edge& e : edges_) {
        e.secant = std::abs(e.q);
        for (EdgeEnd* end : {&e.up, &e.down}) {
            if (end->site == Site::volume) note_opening(*end, e.secant);
            if (end->site != Site::reservoir) continue;
            bool gives = end->share > 0.0;
            note_outlet(*end, s.reservoirs[end->index], e.secant);
            note_gas(gives, end->share > 0.0);
        }
    }
    if (!cells_with_gas_.empty() || plugs_marked_ || may_rise_) mark_plugs(s);
    plugs_marked_ = !cells_with_gas_.empty();
    if (net_.conditions.unsteady_lines) find_moving_columns(s);
    if (!gas_moved_) return;
    find_where_gas_comes();
    part_liquid();
    gas_moved_ = false;
}

void Assembly::find_warm() {
    warm_.clear();
    if (settings_.gas_law != Settings::GasLaw::by_size) return;
    for (std::size_t i = 0; i < net_.volumes.size(); ++i) {
        const Node& n = nodes_[i];
        if (n.start.theta <= 0.0 || n.start.gas <= 0.0) continue;
        const double volume = gas_volume_at(n.start.gas, n.start.theta, n.guess);
        warm_.push_back({i, thermal_time_constant_sphere(std::max(volume, 1e-9), n.guess), 0.0, 0.0, 0.0});
    }
}

double Assembly::end_window(const Node& n, const Train& train) const {
    constexpr std::size_t few = 6;   // parcels: plugs, each with its ends
    constexpr double of_cell = 5e-3; // of the content of a cell with more
    return train.size() > few ? std::max(settings_.end_window, of_cell * n.content) : settings_.end_window;
}

/// What stands at an end, and of what its pressure and resistance are made in this step.
void Assembly::note_column(EdgeEnd& end, const State& s) {
    const Node& n = nodes_[end.index];
    end.end = {n.start.liquid, 0.0};
    if (n.start.gas > 0.0) {
        const Train& train = (n.site == Site::cell ? s.lines[n.line][n.cell] : s.hose->cells[n.cell]).train;
        end.end = train.next_out(end.side, end_window(n, train));
    }
    note_gas(end.mixed, end.end.gas > 0.0);
    if (!end.mixed) end.share = 0.0;
    const Column& column = n.columns.side[end.side == Side::to];
    end.rise = column.rise;
    end.rise_per_liquid = column.rise_per_liquid;
    end.by_gas = n.columns.by_gas;
}

double Assembly::reach_of(const EdgeEnd& opening, double flow) const {
    const Volume& v = net_.volumes[opening.index];
    const Port& p = v.ports[opening.port];
    return drawdown_reach({p.solid_angle, p.diameter, v.gap_width, v.gap_width > 0.0 ? pi : 0.0}, flow,
                          layout_->liquid, net_.conditions.drawdown_scale);
}

void Assembly::note_opening(EdgeEnd& end, double flow) {
    const Node& n = nodes_[end.index];
    note_gas(end.mixed, n.start.gas > n.held || n.dispersed > 0.0);
    if (!end.mixed) {
        end.share = 0.0;
        return;
    }
    end.reach = reach_of(end, flow);
    end.flow = flow;
}

void Assembly::note_outlet(EdgeEnd& end, const ReservoirState& state, double flow) const {
    constexpr double last_film = 1e-7; // of a chamber, in which the outlet turns to air altogether [m^3]
    const Reservoir& r = net_.reservoirs[end.index];
    const double holds = state.liquid[static_cast<std::size_t>(end.chamber)];
    const double level = holds * r.chambers / r.area;
    end.rise = -(layout_->liquid.density * standard_gravity * level + end.lift);
    end.reach = drawdown_reach({2.0 * pi, r.outlet_diameter, 0.0, 0.0}, flow, layout_->liquid,
                               net_.conditions.drawdown_scale);
    end.share = gas_fraction_drawn(level - r.outlet_height, end.reach, r.outlet_diameter);
    if (holds < last_film)
        end.share = std::max(end.share, 1.0 - std::max(holds - trace_amount, 0.0) / last_film);
    if (state.dispersed <= 0.0) return;
    const double liquid = std::accumulate(state.liquid.begin(), state.liquid.end(), 0.0);
    const double bubbles = gas_volume(state.dispersed, spot_pressure_[end.spot]);
    end.share += (1.0 - end.share) * bubbles / (bubbles + std::max(liquid, trace_amount));
}

void Assembly::mark_plugs(const State& s) {
    bool all_quiet = true;
    for (Edge& e : edges_) {
        const bool mixed = e.kind == Edge::Kind::line && (e.up.mixed || e.down.mixed);
        if (!mixed && e.quiet) continue;
        e.ahead_to_down = e.ahead_to_up = false;
        e.rise = 0.0;
        if (mixed) mark_plug(e, s);
        note_gas(e.quiet, !e.ahead_to_down && !e.ahead_to_up && e.rise == 0.0);
        all_quiet = all_quiet && e.quiet;
    }
    if (!all_quiet) link_noses(s);
}

/// Whether a gas plug at this edge, where something mixed stands, runs ahead of the liquid, and how fast it rises at rest.
void Assembly::mark_plug(Edge& e, const State& s) {
    const auto in_line = [](const EdgeEnd& end) {
        return end.site == Site::cell || end.site == Site::hose_cell;
    };
    const bool up_cell = in_line(e.up), down_cell = in_line(e.down);
    const bool up_gas = up_cell && holds(e.up.end, ParcelKind::gas),
               down_gas = down_cell && holds(e.down.end, ParcelKind::gas);
    const Node& n = nodes_[up_cell ? e.up.index : e.down.index];
    const std::vector<Cell>& cells = n.site == Site::hose_cell ? s.hose->cells : s.lines[n.line];
    const LineLayout& l = line_of(n);
    if (up_cell && down_cell && (up_gas || down_gas)) {
        const auto has_liquid = [](const Cell& c) { return c.liquid > trace_amount; };
        const auto middle = cells.begin() + static_cast<std::ptrdiff_t>(n.cell) + 1;
        const bool both =
            std::any_of(cells.begin(), middle, has_liquid) && std::any_of(middle, cells.end(), has_liquid);
        e.ahead_to_down = up_gas && both;
        e.ahead_to_up = down_gas && both;
    }
    if (l.rise_speed <= 0.0 || e.up.site == Site::junction || e.down.site == Site::junction) return;
    const double slope =
        slope_of(l.lumps[static_cast<std::size_t>(up_cell ? cells[n.cell].end - 1 : cells[n.cell].begin)]);
    if (slope == 0.0) return;
    const EdgeEnd &low = slope > 0.0 ? e.up : e.down, &high = slope > 0.0 ? e.down : e.up;
    const auto gas_at = [&](const EdgeEnd& end) {
        return in_line(end) ? holds(end.end, ParcelKind::gas)
                            : end.site == Site::volume && gas_share(end) > 0.5;
    };
    const bool same_plug = up_gas && down_gas && e.ahead_to_down;
    if (gas_at(low) && (!gas_at(high) || same_plug) && (in_line(high) || high.site == Site::volume))
        e.rise = std::copysign(
            (1.0 - gas_share(high)) * l.area * l.rise_speed * inclination_factor(std::abs(slope)), slope);
}

/// Edges that gas can reach in this step: from their ends, through junctions too, or by running ahead or rising.
void Assembly::find_where_gas_comes() {
    const auto gives_gas = [](const EdgeEnd& end) { return end.mixed || end.share > 0.0; };
    for (Edge& e : edges_) e.liquid_only = e.quiet && !gives_gas(e.up) && !gives_gas(e.down);
    junction_has_gas_.assign(junction_edges_.size(), 0);
    for (bool more = true; more;) {
        more = false;
        for (std::size_t j = 0; j < junction_edges_.size(); ++j) {
            if (junction_has_gas_[j] ||
                std::ranges::all_of(junction_edges_[j], [&](std::size_t e) { return edges_[e].liquid_only; }))
                continue;
            for (const std::size_t e : junction_edges_[j]) edges_[e].liquid_only = false;
            junction_has_gas_[j] = more = true;
        }
    }
}

/// Edges inside one plug that fills whole lumps share one run-ahead and one rise: what passes back along
/// the wall is the same all along the plug.
void Assembly::link_noses(const State& s) {
    const auto all_gas = [&](const EdgeEnd& end) {
        if (end.site != Site::cell && end.site != Site::hose_cell) return false;
        const Node& n = nodes_[end.index];
        return (n.site == Site::cell ? s.lines[n.line][n.cell] : s.hose->cells[n.cell]).liquid <=
               trace_amount;
    };
    const auto linked = [&](std::size_t e) { // e and e + 1 touch the same lump of gas
        return e + 1 < edges_.size() && edges_[e].kind == Edge::Kind::line &&
               edges_[e + 1].kind == Edge::Kind::line && edges_[e].down.site == edges_[e + 1].up.site &&
               edges_[e].down.index == edges_[e + 1].up.index && all_gas(edges_[e].down);
    };
    for (std::size_t e = edges_.size(); e-- > 0;)
        edges_[e].nose_down = linked(e) && edges_[e + 1].ahead_to_down ? edges_[e + 1].nose_down : e;
    for (std::size_t e = 0; e < edges_.size(); ++e)
        edges_[e].nose_up = e > 0 && linked(e - 1) && edges_[e - 1].ahead_to_up ? edges_[e - 1].nose_up : e;
    for (std::size_t e = 0; e < edges_.size();) {
        std::size_t last = e;
        double rise = edges_[e].rise;
        while (linked(last)) {
            const double next = edges_[++last].rise;
            rise = next * rise > 0.0 ? (std::abs(next) < std::abs(rise) ? next : rise) : 0.0;
        }
        for (; e <= last; ++e) edges_[e].rise = rise;
    }
}

} // namespace clearstroke
