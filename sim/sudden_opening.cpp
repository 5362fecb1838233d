#include "sim/sudden_opening.hpp"

#include "models/bleed_screw.hpp"
#include "models/flow_start.hpp"
#include "models/restriction.hpp"
#include "models/tube_flow.hpp"

namespace clearstroke {
namespace {

/// Drop [Pa] over lines and seat at a flow [m^3/s], friction beyond the laminar law where it is turbulent.
double drop_of(const Network& net, const std::vector<LineId>& path, const Liquid& liquid, const DropLaw& seat,
               double flow) {
    double drop = pressure_drop(seat, flow);
    for (const LineId id : path) {
        const Line& l = net.lines[id.index];
        const double re = reynolds_number(flow, l.bore, liquid.kinematic_viscosity);
        drop += laminar_resistance(liquid.dynamic_viscosity, l.length, l.bore) * flow *
                turbulence_factor(re, drawn_tube_roughness / l.bore);
    }
    return drop;
}

} // namespace

SuddenOpening sudden_opening(const Network& net, ScrewId id, double turns, double pressure) {
    const Screw& screw = net.screws[id.index];
    const Liquid liquid = liquid_at(net.conditions.fluid, net.conditions.temperature);
    const BleedScrew& g = screw.geometry;
    const DropLaw seat = drop_law(bleed_screw_area(g, turns), g.drilling_length, g.axial_bore,
                                  bleed_screw_discharge, liquid.density, liquid.dynamic_viscosity);
    const std::vector<LineId> path = shortest_path(net, id);
    DropLaw laminar = seat;
    double inertia = 0.0;
    for (const LineId line : path) {
        const Line& l = net.lines[line.index];
        laminar.a += laminar_resistance(liquid.dynamic_viscosity, l.length, l.bore);
        inertia += inertance(liquid.density, l.length, l.bore);
    }
    const double run = volume_flow(laminar, pressure);
    double low = 0.0, high = run; // turbulent friction is never below laminar
    for (int i = 0; i < 60; ++i) {
        const double middle = 0.5 * (low + high);
        (drop_of(net, path, liquid, seat, middle) < pressure ? low : high) = middle;
    }
    const double time = starting_time(inertia, high, pressure);
    return {high, time, time * high, run / high - 1.0};
}

} // namespace clearstroke
