#include "models/tube_flow.hpp"
#include "scenarios/build/routing.hpp"

namespace clearstroke {
namespace {

PortRef build_slave(Inputs& in, Parts& parts) {
    const double bore = in.value("slave.bore"), area = circle_area(bore);
    Volume v = round_volume({"slave", "slave", in.value("slave.dead_length") * area, bore,
                             in.value("heights.slave"), 0.0, 0.0, in.value("slave.tilt")});
    v.walls.compliance = in.value("slave.give") * area;
    v.walls.take_up_volume = in.value("slave.stroke") * area;
    v.walls.take_up_from = in.value("slave.spring_from");
    v.walls.take_up_to = in.value("slave.spring_to");
    if (v.walls.take_up_to <= v.walls.take_up_from)
        in.fault("slave.spring_to", "is not above slave.spring_from; allowed: a higher pressure");
    constexpr double drilling = 3e-3; // [m]
    v.ports.push_back({"hose", {in.value("slave.port_at"), 0.0, 1.0}, drilling});
    v.ports.push_back(drilled_port("screw", v.cavity, in.value("slave.screw_at"),
                                   in.value("slave.screw_below_crown"), drilling));
    const VolumeId id = parts.add(std::move(v));
    parts.add(screw_at(in, parts, "slave", "slave", {id, 1}, std::nullopt));
    return {id, 0};
}

} // namespace

void build_clutch(Inputs& in, Parts& parts) {
    CylinderSpec spec;
    spec.actuator = "pedal";
    spec.reservoir = "reservoir";
    spec.chambers = {"master cylinder"};
    spec.outlets = {{"to slave"}};
    spec.bores = {in.value("master_cylinder.bore")};
    spec.strokes = {in.value("master_cylinder.stroke")};
    in.use("master_cylinder.kind");
    spec.height = in.value("master_cylinder.height");
    spec.tilt = in.value("master_cylinder.tilt");
    spec.ratio = in.value("pedal.ratio");
    spec.pad_travel = in.stated("pedal.travel");
    spec.reservoir_above = 0.5 * spec.bores[0] + in.value("reservoir.above_cylinder");
    build_cylinder(in, parts, spec);
    const PortRef outlet = std::get<PortRef>(*parts.opening("master cylinder:to slave"));
    const PortRef slave = build_slave(in, parts);
    const auto [pipe, hose] = split_length(in, "lines.to_slave", in.value("lines.to_slave"), "hoses.slave");
    const JunctionId join = parts.add(Junction{"union", in.value("heights.hose_top")});
    parts.add(pipe_between(in, parts, "pipe", "line", pipe, outlet, join));
    parts.add(hose_between(in, parts, "hose", "line", hose, join, slave));
}

} // namespace clearstroke
