/// Of an Assembly, what only liquid can come to in a step: most of a circuit, by (C-1), (N-6) and alone.
#include <algorithm>

#include "sim/assembly.hpp"

namespace clearstroke {

bool Assembly::is_of_liquid(const EdgeEnd& end) const {
    const bool in_line = end.site == Site::cell || end.site == Site::hose_cell;
    return !in_line || nodes_[end.index].liquid_only;
}

/// Whether its flow follows the pressures by alone: without gas, threshold or momentum.
bool Assembly::is_of_liquid(const Edge& e) const {
    return e.liquid_only && e.moving < 0 && e.carrier < 0 && !e.one_way && !e.valve && is_of_liquid(e.up) &&
           is_of_liquid(e.down);
}

/// Sorts nodes, edges and junctions by whether gas can come to them in this step.
void Assembly::part_liquid() {
    part_liquid_nodes();
    find_ends_at_gas();
    for (Edge& e : edges_) e.of_liquid_alone = is_of_liquid(e);
    part_liquid_junctions();
    slopes_.resize(edges_.size());
    liquid_edges_.clear();
    other_edges_.clear();
    for (std::size_t i = 0; i < edges_.size(); ++i) {
        Edge& e = edges_[i];
        if (!e.of_liquid_alone) {
            other_edges_.push_back(i);
            continue;
        }
        e.alpha = e.gas = 0.0;
        slopes_[i] = {0.0, 0.0, 0.0, 0.0, 0.0, 1.0, 1.0, 0.0, 0.0, e.up.spot, e.down.spot, true};
        if (!e.at_junction) liquid_edges_.push_back(i);
    }
}

void Assembly::part_liquid_nodes() {
    for (Node& n : nodes_) n.liquid_only = n.starts_full;
    for (const Edge& e : edges_) {
        if (e.liquid_only) continue;
        for (const EdgeEnd* end : {&e.up, &e.down})
            if (end->spot < nodes_.size()) nodes_[end->spot].liquid_only = false;
    }
    liquid_cells_.clear();
    other_nodes_.clear();
    for (std::size_t i = 0; i < nodes_.size(); ++i) {
        const Node& n = nodes_[i];
        if (n.actuator >= 0) continue;
        const bool plain = n.liquid_only && n.linear_walls && n.site != Site::volume;
        (plain ? liquid_cells_ : other_nodes_).push_back(i);
    }
}

void Assembly::find_ends_at_gas() {
    ends_at_gas_.clear();
    const auto is_at_gas = [&](const EdgeEnd& end) {
        const bool in_line = end.site == Site::cell || end.site == Site::hose_cell;
        return in_line && !nodes_[end.index].liquid_only;
    };
    for (std::size_t e = 0; e < edges_.size(); ++e) {
        if (is_at_gas(edges_[e].up)) ends_at_gas_.push_back({e, false});
        if (is_at_gas(edges_[e].down)) ends_at_gas_.push_back({e, true});
    }
}

/// A junction counts with its edges only when all of them are of liquid.
void Assembly::part_liquid_junctions() {
    liquid_junctions_.clear();
    other_junctions_.clear();
    for (std::size_t j = 0; j < junction_edges_.size(); ++j) {
        const auto& around = junction_edges_[j];
        const bool of_liquid =
            std::ranges::all_of(around, [&](std::size_t k) { return edges_[k].of_liquid_alone; });
        (of_liquid ? liquid_junctions_ : other_junctions_).push_back(j);
        if (of_liquid) continue;
        for (const std::size_t k : around) edges_[k].of_liquid_alone = false;
    }
}

void Assembly::find_liquid_pressures(bool slopes) {
    const Medium& m = layout_->medium;
    for (const std::size_t i : liquid_cells_) {
        Node& n = nodes_[i];
        const double liquid = std::max(n.now.liquid, 0.0);
        const double gauge = gauge_of_liquid(liquid, n.capacity, n.walls.compliance, m);
        if (!in_range(gauge, m))
            find_pressure(n);
        else if (slopes)
            n.pressure = liquid_at(gauge, liquid, n.walls.compliance, m);
        else
            n.pressure.p = m.ambient + gauge;
    }
}

void Assembly::find_liquid_flows() {
    for (const std::size_t i : liquid_edges_) {
        Edge& e = edges_[i];
        const DropLaw law = behind(liquid_resistance_at(e.up) + liquid_resistance_at(e.down), e.of_liquid);
        e.q = e.liquid = volume_flow(law, liquid_pressure_at(e.up) - liquid_pressure_at(e.down));
        e.slope = flow_slope(law, e.q);
    }
    for (const std::size_t j : liquid_junctions_) find_liquid_junction(j);
}

void Assembly::find_liquid_junction(std::size_t j) {
    double conductance = 0.0, weighted = 0.0;
    for (const std::size_t k : junction_edges_[j]) {
        Edge& e = edges_[k];
        EdgeEnd& far = e.leaves_junction ? e.down : e.up;
        far.pressure = liquid_pressure_at(far);
        e.slope = secant_slope(behind(liquid_resistance_at(far), e.of_liquid), e.secant);
        conductance += e.slope;
        weighted += e.slope * far.pressure;
    }
    const double pressure = conductance > 0.0 ? weighted / conductance : layout_->medium.ambient;
    spot_pressure_[nodes_.size() + j] = pressure;
    for (const std::size_t k : junction_edges_[j]) {
        Edge& e = edges_[k];
        e.q = e.liquid =
            e.slope * (e.leaves_junction ? pressure - e.down.pressure : e.up.pressure - pressure);
    }
}

} // namespace clearstroke
