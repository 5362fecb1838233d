#include "models/constants.hpp"
#include "models/tube_flow.hpp"
#include "scenarios/build/parts.hpp"

namespace clearstroke {
namespace {

constexpr double cup_passage_length = 1e-3; // [m]

ReservoirId add_reservoir(Inputs& in, Parts& parts, const CylinderSpec& spec) {
    Reservoir r;
    r.name = spec.reservoir;
    r.capacity = in.value("reservoir.capacity");
    r.initial = in.value("reservoir.filled") * r.capacity;
    r.area = r.capacity / in.value("reservoir.depth");
    r.floor_height = spec.height + spec.reservoir_above;
    r.outlet_height = in.value("reservoir.outlet_height");
    r.outlet_diameter = in.value("reservoir.outlet");
    if (spec.coupling == Coupling::tandem) {
        r.chambers = 2;
        r.divider_height = in.value("reservoir.divider");
    }
    return parts.add(std::move(r));
}

/// The closed end of a chamber is where its outlets are; its piston with port and cup is the open end.
Volume chamber_of(Inputs& in, const CylinderSpec& spec, std::size_t i) {
    const double bore = spec.bores[i];
    const double content = circle_area(bore) * spec.strokes[i] + in.value("master_cylinder.dead_volume");
    const std::string place = spec.chambers.size() == 1 ? spec.chambers[i] : "master cylinder";
    Volume v = round_volume(
        {spec.chambers[i], place, content, bore, spec.height, spec.ahead, spec.outboard, -spec.tilt});
    v.walls = cylinder_body(content);
    const double clock = in.value("master_cylinder.outlet_at");
    for (const std::string& outlet : spec.outlets[i]) v.ports.push_back({outlet, {clock, 0.0, 1.0}, 3e-3});
    v.ports.push_back({"feed", {0.0, 1.0, 1.0}, in.value("reservoir.outlet")});
    return v;
}

Piston piston_of(Inputs& in, const CylinderSpec& spec, std::size_t i, VolumeId chamber,
                 ReservoirId reservoir) {
    Piston p;
    p.chamber = chamber;
    p.area = circle_area(spec.bores[i]);
    p.stroke = spec.strokes[i];
    const bool secondary = i == 1 && spec.coupling == Coupling::tandem;
    p.spring = {in.value(secondary ? "master_cylinder.preload_secondary" : "master_cylinder.preload_primary"),
                in.value("master_cylinder.spring_rate")};
    p.cut_off = in.value("master_cylinder.cut_off");
    p.port = {0.5 * in.value("master_cylinder.port"), in.value("master_cylinder.port_length")};
    p.port_opening = spec.outlets[i].size();
    p.cup = {in.value("master_cylinder.cup_cracking"),
             {0.5 * in.value("master_cylinder.cup_opening"), cup_passage_length}};
    p.reservoir = reservoir;
    p.reservoir_chamber = spec.coupling == Coupling::tandem ? int(i) : 0;
    return p;
}

} // namespace

void build_cylinder(Inputs& in, Parts& parts, const CylinderSpec& spec) {
    Actuator a;
    a.name = spec.actuator;
    a.coupling = spec.coupling;
    ReservoirId reservoir;
    for (std::size_t i = 0; i < spec.chambers.size(); ++i) {
        if (i == 0) {
            reservoir = add_reservoir(in, parts, spec);
        } else if (spec.coupling == Coupling::balance_bar) {
            CylinderSpec second = spec;
            parts.net.reservoirs.back().name = "front reservoir";
            second.reservoir = "rear reservoir";
            reservoir = add_reservoir(in, parts, second);
        }
        const VolumeId chamber = parts.add(chamber_of(in, spec, i));
        a.pistons.push_back(piston_of(in, spec, i, chamber, reservoir));
    }
    if (spec.coupling == Coupling::balance_bar) {
        a.bar_share = in.value("master_cylinder.balance");
        a.bar_travel = in.value("master_cylinder.bar_travel");
    }
    if (spec.coupling != Coupling::single) a.friction = in.value("master_cylinder.seal_friction");
    a.rod_friction = in.value("master_cylinder.rod_friction");
    a.ratio = spec.ratio;
    a.pad_travel = spec.pad_travel.value_or(0.0);
    a.free_play = in.value("pedal.free_play");
    a.hand = spec.hand;
    parts.net.actuators.push_back(std::move(a));
}

} // namespace clearstroke
