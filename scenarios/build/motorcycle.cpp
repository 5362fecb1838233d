#include "scenarios/build/parts.hpp"

namespace clearstroke {
namespace {

CylinderSpec cylinder_of(Inputs& in, const std::string& section, const std::string& side) {
    CylinderSpec spec;
    const bool hand = section == "lever";
    spec.actuator = hand ? "front lever" : "rear pedal";
    spec.reservoir = side + " reservoir";
    spec.chambers = {side + " cylinder"};
    spec.bores = {in.value(section + ".bore")};
    spec.strokes = {in.value(section + ".stroke")};
    spec.height = in.value(section + ".height");
    spec.tilt = in.value(section + ".tilt");
    spec.ratio = in.value(section + ".ratio");
    spec.pad_travel = in.stated(section + ".travel");
    spec.reservoir_above = 0.5 * spec.bores[0] + (hand ? 0.5 * in.value("reservoir.above_cylinder")
                                                       : in.value("rear_pedal.reservoir_above"));
    spec.ahead = hand ? 0.25 * in.value("vehicle.wheelbase") : 0.0;
    spec.hand = hand;
    return spec;
}

void hose_run(Inputs& in, Parts& parts, const std::string& wheel, End from, PortRef brake) {
    parts.add(
        hose_between(in, parts, wheel + " hose", wheel + " line", in.value("lines." + wheel), from, brake));
}

void front_brake(Inputs& in, Parts& parts) {
    CylinderSpec spec = cylinder_of(in, "lever", "front");
    const int discs = in.count("motorcycle.front_discs");
    spec.outlets = {{"to front"}};
    build_cylinder(in, parts, spec);
    const PortRef outlet = std::get<PortRef>(*parts.opening("front cylinder:to front"));
    const double height = in.value("heights.front_wheels"), ahead = 0.5 * in.value("vehicle.wheelbase");
    if (discs == 1)
        return hose_run(in, parts, "F", outlet,
                        build_brake(in, parts, {"F", "front", height, ahead, 0.0}, false));
    const JunctionId splitter = parts.add(Junction{"splitter", in.value("heights.splitter")});
    parts.add(
        hose_between(in, parts, "upper hose", "upper line", in.value("lines.to_splitter"), outlet, splitter));
    const double side = 0.5 * in.value("vehicle.track");
    hose_run(in, parts, "LF", splitter, build_brake(in, parts, {"LF", "front", height, ahead, -side}, false));
    hose_run(in, parts, "RF", splitter, build_brake(in, parts, {"RF", "front", height, ahead, side}, false));
}

void rear_brake(Inputs& in, Parts& parts) {
    CylinderSpec spec = cylinder_of(in, "rear_pedal", "rear");
    spec.outlets = {{"to rear"}};
    build_cylinder(in, parts, spec);
    const PortRef outlet = std::get<PortRef>(*parts.opening("rear cylinder:to rear"));
    const WheelSpec wheel{"R", "rear", in.value("heights.rear_wheels"), -0.5 * in.value("vehicle.wheelbase"),
                          0.0};
    hose_run(in, parts, "R", outlet, build_brake(in, parts, wheel, false));
}

} // namespace

void build_motorcycle(Inputs& in, Parts& parts) {
    front_brake(in, parts);
    if (in.truth("motorcycle.rear")) rear_brake(in, parts);
}

} // namespace clearstroke
