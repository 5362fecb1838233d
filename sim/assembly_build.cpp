/// Structure of an Assembly: which nodes and edges there are.
#include <algorithm>
#include <cmath>

#include "models/constants.hpp"
#include "sim/assembly.hpp"

namespace clearstroke {

std::size_t Assembly::node_of(Site site, std::size_t line, std::size_t cell) const {
    std::size_t first = net_.volumes.size();
    for (std::size_t i = first; i < nodes_.size(); ++i)
        if (nodes_[i].site == site && nodes_[i].line == line && nodes_[i].cell == cell) return i;
    return nodes_.size();
}

void Assembly::build(const State& s, const Layout& layout) {
    layout_ = &layout;
    note_structure(s);
    if (!bring_back_structure()) {
        make_room();
        make_structure(s);
        structures_[present_structure_].made = made();
    }
    clear_values();
    refresh(s);
    // Secants and reaches start from the flows that the new structure has.
    find_pressures(Eigen::VectorXd::Zero(static_cast<Eigen::Index>(size())));
    for (int i = 0; i < 3; ++i) {
        find_flows(true);
        if (i == 0) keep_columns(s);
        take_flows(s);
    }
}

void Assembly::make_structure(const State& s) {
    nodes_.clear();
    edges_.clear();
    linkages_.clear();
    for (const Actuator& a : net_.actuators) linkages_.push_back(linkage_of(a));
    add_nodes(s);
    junction_edges_.assign(net_.junctions.size(), {});
    add_line_edges(s);
    add_screw_edges(s);
    add_actuator_edges(s);
    add_fault_edges();
    for (std::size_t e = 0; e < edges_.size(); ++e)
        for (const EdgeEnd* end : {&edges_[e].up, &edges_[e].down})
            if (end->site == Site::junction) junction_edges_[end->index].push_back(e);
    number_spots();
    find_border();
    find_meetings();
    weigh_outlets();
    plan_matrix();
}

/// What depends on values of the state, as before any was taken.
void Assembly::clear_values() {
    const std::size_t n = nodes_.size();
    rod_speed_.assign(net_.actuators.size(), 0.0);
    rod_speed_per_force_.assign(net_.actuators.size(), 0.0);
    points_.assign(net_.actuators.size(), {});
    const auto rises = [](const LineLayout& l) { return l.rise_speed > 0.0; };
    may_rise_ = std::ranges::any_of(layout_->lines, rises);
    spot_pressure_.assign(unknowns() + 3, layout_->medium.ambient);
    gained_.assign(2 * n + 2, 0.0);
    gas_gained_.assign(n + 1, 0.0);
    mean_gained_.assign(spots(), 0.0);
    unknown_.assign(spots(), 0.0);
    rows_.assign(spots(), {});
    for (std::size_t j = 0; j < junction_edges_.size(); ++j) rows_[n + j].per_flow = 1.0;
    cells_with_gas_.reserve(n);
    ends_at_gas_.reserve(2 * edges_.size());
    gas_moved_ = true;
}

/// Spots: nodes, junctions, reservoir surfaces as one, what the hose ends in, surroundings.
void Assembly::number_spots() {
    const std::size_t n = nodes_.size(), first_around = unknowns();
    slots_.clear();
    for (Edge& e : edges_) {
        e.leaves_junction = e.up.site == Site::junction;
        e.at_junction = e.leaves_junction || e.down.site == Site::junction;
        e.of_liquid = {e.creeping * layout_->liquid.dynamic_viscosity,
                       (e.inertial + e.kinetic) * layout_->liquid.density};
        for (EdgeEnd* end : {&e.up, &e.down}) {
            end->slot = 2 * n;
            switch (end->site) {
            case Site::volume:
            case Site::cell:
            case Site::hose_cell:
                end->spot = end->index;
                end->slot = 2 * end->index + (end->side == Side::to);
                break;
            case Site::junction:
                end->spot = n + end->index;
                break;
            case Site::reservoir:
                end->spot = first_around;
                break;
            case Site::bottle:
                end->spot = first_around + 1;
                break;
            case Site::ambient:
                end->spot = first_around + 2;
                break;
            }
            end->rise = -end->lift;
            if (end->site == Site::cell || end->site == Site::hose_cell) {
                const Node& cell = nodes_[end->index];
                end->per_liquid = cell.per_liquid;
                end->per_gas = cell.per_gas;
                end->least_resistance = 0.5 * cell.per_gas * cell.content;
            }
            if (end->site == Site::bottle || end->site == Site::ambient)
                end->share = end->end.gas > 0.0 ? 1.0 : 0.0;
        }
        slots_.push_back({e.up.slot, e.down.slot});
    }
}

void Assembly::add_nodes(const State& s) {
    for (std::size_t v = 0; v < net_.volumes.size(); ++v) {
        Node n;
        n.site = Site::volume;
        n.volume = v;
        n.capacity = net_.volumes[v].content;
        n.walls = net_.volumes[v].walls;
        nodes_.push_back(n);
    }
    chamber_node_.assign(net_.actuators.size(), {});
    for (std::size_t k = 0; k < net_.actuators.size(); ++k)
        for (std::size_t j = 0; j < net_.actuators[k].pistons.size(); ++j) {
            const std::size_t v = net_.actuators[k].pistons[j].chamber.index;
            nodes_[v].actuator = static_cast<int>(k);
            nodes_[v].piston = static_cast<int>(j);
            chamber_node_[k][j] = v;
        }
    const auto add_cells = [&](Site site, std::size_t line, const std::vector<Cell>& cells,
                               const LineLayout& l) {
        for (std::size_t c = 0; c < cells.size(); ++c) {
            Node n;
            n.site = site;
            n.line = line;
            n.cell = c;
            n.per_liquid = l.per_liquid;
            n.per_gas = l.per_gas;
            n.walls = l.lumps[static_cast<std::size_t>(cells[c].begin)].walls;
            n.walls.compliance = n.walls.settling_volume = n.walls.take_up_volume = 0.0;
            for (int b = cells[c].begin; b < cells[c].end; ++b) {
                const Lump& lump = l.lumps[static_cast<std::size_t>(b)];
                n.content += lump.volume;
                n.walls.compliance += lump.walls.compliance;
                n.walls.settling_volume += lump.walls.settling_volume;
                n.walls.take_up_volume += lump.walls.take_up_volume;
            }
            n.capacity = n.content;
            n.whole_line = cells.size() == 1;
            nodes_.push_back(n);
        }
    };
    for (std::size_t l = 0; l < net_.lines.size(); ++l)
        add_cells(Site::cell, l, s.lines[l], layout_->lines[l]);
    if (s.hose && s.screw_turns[s.hose->screw.index] > 0.0)
        add_cells(Site::hose_cell, s.hose->screw.index, s.hose->cells, layout_->hoses[s.hose->screw.index]);
    for (Node& n : nodes_) n.linear_walls = is_linear(n.walls);
}

const LineLayout& Assembly::line_of(const Node& n) const {
    return n.site == Site::hose_cell ? layout_->hoses[n.line] : layout_->lines[n.line];
}

EdgeEnd Assembly::volume_end(const PortRef& ref) const {
    const VolumeLayout& v = layout_->volumes[ref.volume.index];
    EdgeEnd end;
    end.site = Site::volume;
    end.index = ref.volume.index;
    end.port = ref.port;
    end.lift = layout_->liquid.density * standard_gravity * (v.height - v.ports[ref.port].height);
    return end;
}

EdgeEnd Assembly::end_at(const End& end) const {
    if (const auto* port = std::get_if<PortRef>(&end)) return volume_end(*port);
    EdgeEnd out;
    out.site = Site::junction;
    out.index = std::get<JunctionId>(end).index;
    return out;
}

void Assembly::add_line_edges(const State& s) {
    for (std::size_t l = 0; l < net_.lines.size(); ++l) {
        const Line& line = net_.lines[l];
        const std::size_t n = s.lines[l].size(), first = node_of(Site::cell, l, 0);
        const double area = layout_->lines[l].area;
        const auto cell_end = [&](std::size_t c, Side side) {
            EdgeEnd end;
            end.site = Site::cell;
            end.index = first + c;
            end.side = side;
            return end;
        };
        const auto add = [&](const EdgeEnd& up, const EdgeEnd& down, double loss) {
            Edge e;
            e.up = up;
            e.down = down;
            e.line = l;
            e.kinetic = loss / (2.0 * area * area);
            edges_.push_back(e);
        };
        if (!std::holds_alternative<Blank>(line.from) && !s.line_capped[l])
            add(end_at(line.from), cell_end(0, Side::from), end_loss);
        for (std::size_t c = 0; c + 1 < n; ++c) {
            add(cell_end(c, Side::to), cell_end(c + 1, Side::from), 0.0);
            if (s.lines[l][c].end == layout_->lines[l].valve_lump)
                set_valve(edges_.back(), *line.valve, s.valve_held[l]);
        }
        if (!std::holds_alternative<Blank>(line.to))
            add(cell_end(n - 1, Side::to), end_at(line.to), end_loss);
    }
}

void Assembly::set_valve(Edge& e, const Valve& valve, bool held_open) {
    e.kind = Edge::Kind::valve;
    set_restriction(e, drop_law(valve.passage, 1.0, 1.0));
    e.choke = valve.passage.discharge_coeff * pi * valve.passage.radius * valve.passage.radius;
    e.opening = least_lip_band;
    if (!held_open) e.valve = &valve;
}

void Assembly::set_restriction(Edge& e, const DropLaw& unit) {
    e.creeping = unit.a;
    e.inertial = unit.b;
}

void Assembly::plan_matrix() {
    matrix_.reset(unknowns());
    const auto link = [&](std::size_t i, std::size_t j) {
        return is_unknown(i) && is_unknown(j) ? matrix_.link(i, j) : std::size_t{0};
    };
    std::vector<std::size_t> links;
    for (const Edge& e : edges_) links.push_back(link(e.up.spot, e.down.spot));
    for (const auto& nodes : chamber_node_)
        links.push_back(nodes[0] == nodes[1] ? 0 : link(nodes[0], nodes[1]));
    matrix_.close();
    const auto entries = [&](std::size_t i, std::size_t j, std::size_t k) {
        const bool both = is_unknown(i) && is_unknown(j) && i != j;
        const auto diagonal = [&](std::size_t spot) {
            return is_unknown(spot) ? matrix_.diagonal(spot) : matrix_.nowhere();
        };
        return Entries{diagonal(i), both ? matrix_.entry(k, i) : matrix_.nowhere(),
                       both ? matrix_.entry(k, j) : matrix_.nowhere(), diagonal(j)};
    };
    entries_.clear();
    actuator_entries_.clear();
    for (std::size_t e = 0; e < edges_.size(); ++e)
        entries_.push_back(entries(edges_[e].up.spot, edges_[e].down.spot, links[e]));
    for (std::size_t k = 0; k < chamber_node_.size(); ++k)
        actuator_entries_.push_back(
            entries(chamber_node_[k][0], chamber_node_[k][1], links[edges_.size() + k]));
}

void Assembly::find_border() {
    border_edges_.clear();
    for (std::size_t e = 0; e < edges_.size(); ++e) {
        const bool of_line = edges_[e].kind == Edge::Kind::line && edges_[e].down.site != Site::bottle;
        if (!of_line && edges_[e].kind != Edge::Kind::valve) border_edges_.push_back(e);
    }
}

/// Which edges meet at each junction.
void Assembly::find_meetings() {
    meetings_.assign(junction_edges_.size(), {});
    for (std::size_t j = 0; j < junction_edges_.size(); ++j)
        for (const std::size_t k : junction_edges_[j])
            meetings_[j].push_back({k, edges_[k].leaves_junction ? -1.0 : 1.0, 0.0});
}

/// (J-1) of every end at a junction.
void Assembly::weigh_outlets() {
    for (std::size_t j = 0; j < junction_edges_.size(); ++j)
        for (const std::size_t k : junction_edges_[j]) {
            Edge& e = edges_[k];
            const bool leaves_down = e.up.site == Site::junction && e.up.index == j;
            const EdgeEnd& other = leaves_down ? e.down : e.up;
            if (other.site != Site::cell) continue;
            const std::vector<Lump>& lumps = layout_->lines[nodes_[other.index].line].lumps;
            const double rise = other.side == Side::from ? slope_of(lumps.front()) : -slope_of(lumps.back());
            e.gas_weight = std::pow(net_.conditions.separation, rise);
        }
}

} // namespace clearstroke
