/// Edges of an Assembly that parts make: screws with their hose and thread, ports and cups, faults.
#include <algorithm>

#include "models/annular_gap.hpp"
#include "models/constants.hpp"
#include "sim/assembly.hpp"

namespace clearstroke {
namespace {

constexpr double thread_length = 8e-3;   // engaged length of a bleed screw's thread [m]
constexpr double thread_over_seat = 2.5; // thread diameter over seat bore, usual sizes
constexpr double lip_band = 0.2;         // share of the cracking pressure over which a lip lifts

} // namespace

void Assembly::add_screw_edges(const State& s) {
    constexpr double discharge = bleed_screw_discharge;
    for (std::size_t i = 0; i < net_.screws.size(); ++i) {
        if (s.screw_turns[i] <= 0.0) continue;
        const Screw& screw = net_.screws[i];
        Edge e;
        e.kind = Edge::Kind::screw;
        e.part = i;
        e.up = std::holds_alternative<PortRef>(screw.at) ? volume_end(std::get<PortRef>(screw.at))
                                                         : end_at(std::get<JunctionId>(screw.at));
        const double area = bleed_screw_area(screw.geometry, s.screw_turns[i]);
        set_restriction(e, drop_law(area, screw.geometry.drilling_length, screw.geometry.axial_bore,
                                    discharge, 1.0, 1.0));
        e.choke = discharge * area;
        const std::size_t edge = edges_.size();
        if (s.hose && s.hose->screw.index == i) {
            const std::size_t first = node_of(Site::hose_cell, i, 0), n = s.hose->cells.size();
            const auto hose_end = [&](std::size_t c, Side side) {
                EdgeEnd end;
                end.site = Site::hose_cell;
                end.index = first + c;
                end.side = side;
                return end;
            };
            e.down = hose_end(0, Side::from);
            edges_.push_back(e);
            const double area_hose = layout_->hoses[i].area;
            for (std::size_t c = 0; c < n; ++c) {
                Edge h;
                h.line = i;
                h.up = hose_end(c, Side::to);
                if (c + 1 < n) {
                    h.down = hose_end(c + 1, Side::from);
                } else {
                    h.down.site = Site::bottle;
                    h.down.end = s.hose_submerged ? Parcel{1.0, 0.0} : Parcel{0.0, 1.0};
                    h.kinetic = end_loss / (2.0 * area_hose * area_hose);
                    h.one_way = s.hose_one_way;
                    h.opening = least_lip_band;
                }
                edges_.push_back(h);
            }
        } else {
            e.down.site = Site::ambient;
            e.down.end = {0.0, 1.0};
            edges_.push_back(e);
        }
        add_thread_edges(screw, edge);
    }
}

/// Air past the thread joins what flows through the screw: out with it to the hose, or in with it to the part.
/// Past the fit of the hose on the screw it joins the hose.
void Assembly::add_thread_edges(const Screw& screw, std::size_t screw_edge) {
    const bool hose = edges_[screw_edge].down.site == Site::hose_cell;
    const auto add = [&](const EdgeEnd& into, double diameter, double clearance, std::ptrdiff_t carrier) {
        if (clearance <= 0.0) return;
        const AnnularGap gap{diameter, clearance, thread_length, 0.0};
        Edge leak;
        leak.kind = Edge::Kind::thread;
        leak.part = edges_[screw_edge].part;
        leak.one_way = true;
        leak.opening = least_lip_band;
        leak.cracking = 2.0 * layout_->liquid.surface_tension / clearance; // a wet gap holds until air enters
        leak.creeping = 1.0 / annular_gap_conductance(gap, 1.0);
        leak.up.site = Site::ambient;
        leak.up.end = {0.0, 1.0};
        leak.down = into;
        leak.carrier = carrier;
        edges_.push_back(leak);
    };
    const auto carrier = static_cast<std::ptrdiff_t>(screw_edge);
    const EdgeEnd part = edges_[screw_edge].up, in_hose = edges_[screw_edge].down;
    const double thread = thread_over_seat * screw.geometry.seat_bore;
    if (part.site == Site::volume) add(part, thread, screw.thread_clearance, carrier);
    if (hose) add(in_hose, thread, screw.thread_clearance, carrier);
    if (hose) add(in_hose, net_.catch_hose.bore, net_.catch_hose.fit_clearance, -1);
}

void Assembly::add_actuator_edges(const State& s) {
    for (std::size_t k = 0; k < net_.actuators.size(); ++k) {
        const Actuator& a = net_.actuators[k];
        for (std::size_t j = 0; j < a.pistons.size(); ++j) {
            const Piston& p = a.pistons[j];
            if (p.blind) continue;
            const PortRef where{p.chamber, p.port_opening};
            Edge e;
            e.part = 2 * k + j;
            e.down = volume_end(where);
            if (p.inlet) {
                e.up = volume_end(*p.inlet);
            } else {
                e.up.site = Site::reservoir;
                e.up.index = p.reservoir.index;
                e.up.chamber = p.reservoir_chamber;
            }
            const double port_height = layout_->volumes[p.chamber.index].ports[p.port_opening].height;
            const double fed_from = p.inlet
                                        ? layout_->volumes[p.inlet->volume.index].ports[p.inlet->port].height
                                        : layout_->reservoir_heights[p.reservoir.index];
            e.up.lift += layout_->liquid.density * standard_gravity * (fed_from - port_height);
            Edge cup = e;
            if (s.actuators[k].port_open[j] && !p.port_blocked) {
                e.kind = Edge::Kind::port;
                set_restriction(e, drop_law(p.port, 1.0, 1.0));
                e.meniscus = 2.0 * layout_->liquid.surface_tension / p.port.radius;
                e.choke = p.port.discharge_coeff * pi * p.port.radius * p.port.radius;
                edges_.push_back(e);
            }
            cup.kind = Edge::Kind::cup;
            cup.one_way = true;
            cup.cracking = p.cup.cracking;
            cup.opening = std::max(lip_band * p.cup.cracking, least_lip_band);
            set_restriction(cup, drop_law(p.cup.passage, 1.0, 1.0));
            edges_.push_back(cup);
            if (p.bypass > 0.0) {
                Edge past = cup;
                past.one_way = false;
                past.cracking = past.inertial = 0.0;
                past.creeping = 1.0 / (p.bypass * layout_->liquid.dynamic_viscosity);
                edges_.push_back(past);
            }
        }
    }
}

/// Weeps and joints that draw air, both one way, at the first port of their volume.
void Assembly::add_fault_edges() {
    for (std::size_t v = 0; v < net_.volumes.size(); ++v) {
        const Volume& part = net_.volumes[v];
        if (part.ports.empty()) continue;
        const auto add = [&](Edge::Kind kind, double creeping) {
            Edge e;
            e.kind = kind;
            e.one_way = true;
            e.opening = least_lip_band;
            e.creeping = creeping;
            EdgeEnd& inside = kind == Edge::Kind::leak ? e.up : e.down;
            EdgeEnd& outside = kind == Edge::Kind::leak ? e.down : e.up;
            inside = volume_end({{v}, 0});
            outside.site = Site::ambient;
            outside.end = {0.0, 1.0};
            edges_.push_back(e);
        };
        if (part.leak > 0.0) add(Edge::Kind::leak, 1.0 / (part.leak * layout_->liquid.dynamic_viscosity));
        if (part.air_entry > 0.0) add(Edge::Kind::thread, 1.0 / (part.air_entry * layout_->gas_viscosity));
    }
}

} // namespace clearstroke
