#include <algorithm>
#include <cmath>

#include <fmt/format.h>

#include "scenarios/build/routing.hpp"

namespace clearstroke {
namespace {

constexpr double shortest_pipe = 0.02; // [m]

struct Axle {
    std::string name, left, right;
    double height{}, ahead{};
    bool drum{};
    std::size_t chamber{};
    bool tee{true};
};

Axle axle_of(Inputs& in, const std::string& name) {
    const bool front = name == "front";
    Axle a{name,
           front ? "LF" : "LR",
           front ? "RF" : "RR",
           in.value("heights." + name + "_wheels"),
           (front ? 0.5 : -0.5) * in.value("vehicle.wheelbase"),
           false};
    for (const std::string& key : {a.name, a.left, a.right}) a.drum = a.drum || in.has("drums." + key);
    for (const std::string& key : {a.name, a.left, a.right})
        if (a.drum && in.has("calipers." + key)) {
            const Place other = in.document().place_of("drums." + name);
            in.fault("calipers." + key,
                     fmt::format("this axle has drums at {}:{}:{}; allowed: calipers or drums on an axle",
                                 other.file, other.line, other.column));
            in.use("calipers." + key);
        }
    return a;
}

PortRef brake_of(Inputs& in, Parts& parts, const Axle& axle, const std::string& wheel) {
    const double side = (wheel[0] == 'L' ? -0.5 : 0.5) * in.value("vehicle.track");
    return build_brake(in, parts, {wheel, axle.name, axle.height, axle.ahead, side}, axle.drum);
}

/// The pipe to the rear drops from the cylinder to the floor and rises to the axle, nowhere steeper than upright unless
/// it is too short for its heights.
void along_floor(Inputs& in, Line& pipe, double end_height) {
    constexpr double slack = 1.05; // of pipe over the height that it drops or climbs
    const double floor = in.value("heights.floor_pipe");
    const double drop = slack * std::abs(in.value("master_cylinder.height") - floor) / pipe.length,
                 climb = slack * std::abs(end_height - floor) / pipe.length;
    const double down = std::max(0.15, drop), up = std::min(0.9, 1.0 - climb);
    if (down < up)
        pipe.heights = {{down, floor}, {up, floor}};
    else
        pipe.heights = {{drop / (drop + climb), floor}};
}

bool on_cylinder(const Inputs& in, const std::string& key) {
    const Entry* given = in.document().find(key);
    return given && given->quantity.usual == 0.0;
}

/// One outlet, a tee, and a pipe and hose to each wheel of the axle.
void tee_to_axle(Inputs& in, Parts& parts, const Axle& axle, PortRef outlet) {
    const bool rear = axle.name == "rear";
    const std::string keys = "lines." + axle.name + ".", place = axle.name + " line";
    const double total = std::max(in.value(keys + "to_tee"), shortest_pipe);
    const bool hose_first = rear && in.text("lines.rear.hose_at") == "tee";
    const double tee_height = in.value("heights." + axle.name + "_tee");
    const JunctionId tee = parts.add(Junction{axle.name + " tee", tee_height});
    if (hose_first) {
        const auto [pipe, hose] = split_length(in, keys + "to_tee", total, "hoses.rear");
        const double top = in.value("heights.rear_hose_top");
        const JunctionId join = parts.add(Junction{"rear union", top});
        Line line = pipe_between(in, parts, "rear pipe", place, pipe, outlet, join);
        along_floor(in, line, top);
        parts.add(std::move(line));
        parts.add(hose_between(in, parts, "rear hose", place, hose, join, tee));
    } else {
        Line line = pipe_between(in, parts, axle.name + " pipe", place, total, outlet, tee);
        if (rear) along_floor(in, line, tee_height);
        parts.add(std::move(line));
    }
    for (const std::string& wheel : {axle.left, axle.right}) {
        const PortRef brake = brake_of(in, parts, axle, wheel);
        if (hose_first)
            parts.add(pipe_between(in, parts, wheel + " pipe", wheel + " line", in.value(keys + wheel), tee,
                                   brake));
        else
            run_to_wheel(in, parts,
                         {wheel, keys + wheel, "hoses." + axle.name, "heights." + axle.name + "_hose_top"},
                         tee, brake);
    }
}

/// A pipe of its own from the cylinder to a wheel.
void run_from_cylinder(Inputs& in, Parts& parts, const Axle& axle, const std::string& wheel,
                       const std::string& key, PortRef outlet) {
    const PortRef brake = brake_of(in, parts, axle, wheel);
    const LineId pipe = run_to_wheel(
        in, parts, {wheel, key, "hoses." + axle.name, "heights." + axle.name + "_hose_top"}, outlet, brake);
    if (axle.name == "rear") along_floor(in, parts.net.lines[pipe.index], in.value("heights.rear_hose_top"));
}

CylinderSpec cylinder_of(Inputs& in, const std::string& kind) {
    CylinderSpec spec;
    spec.actuator = "pedal";
    spec.reservoir = "reservoir";
    spec.height = in.value("master_cylinder.height");
    spec.tilt = in.value("master_cylinder.tilt");
    spec.ratio = in.value("pedal.ratio");
    spec.pad_travel = in.stated("pedal.travel");
    spec.ahead = 0.3 * in.value("vehicle.wheelbase");
    const double bore = in.value("master_cylinder.bore");
    spec.reservoir_above = 0.5 * bore + in.value("reservoir.above_cylinder");
    spec.bores = {bore, bore};
    if (kind == "tandem") {
        spec.coupling = Coupling::tandem;
        spec.chambers = {"primary chamber", "secondary chamber"};
        spec.strokes = {in.value("master_cylinder.stroke_primary"),
                        in.value("master_cylinder.stroke_secondary")};
    } else {
        const double stroke = in.value("master_cylinder.stroke");
        spec.strokes = {stroke, stroke};
        spec.coupling = Coupling::balance_bar;
        spec.chambers = {"front cylinder", "rear cylinder"};
        if (kind == "twin") spec.bores[1] = in.stated("master_cylinder.rear_bore").value_or(bore);
    }
    if (kind == "single") {
        spec.coupling = Coupling::single;
        spec.chambers = {"master cylinder"};
        spec.bores.resize(1);
        spec.strokes.resize(1);
    }
    spec.outlets.resize(spec.chambers.size());
    return spec;
}

PortRef outlet_of(const Parts& parts, const CylinderSpec& spec, std::size_t chamber,
                  const std::string& name) {
    return std::get<PortRef>(*parts.opening(spec.chambers[chamber] + ":" + name));
}

void front_rear(Inputs& in, Parts& parts, const std::string& kind) {
    CylinderSpec spec = cylinder_of(in, kind);
    const bool crossed = kind == "tandem" && in.text("master_cylinder.primary_feeds") == "rear";
    std::vector<Axle> axles;
    for (const std::string name : {"front", "rear"}) {
        const std::size_t chamber = kind == "single" ? 0 : std::size_t((name == "rear") != crossed);
        Axle axle = axle_of(in, name);
        axle.chamber = chamber;
        axle.tee = !on_cylinder(in, "lines." + name + ".to_tee");
        auto& outlets = spec.outlets[chamber];
        if (axle.tee)
            outlets.push_back("to " + name);
        else
            outlets.insert(outlets.end(), {"to " + axle.left, "to " + axle.right});
        axles.push_back(axle);
    }
    build_cylinder(in, parts, spec);
    for (const Axle& axle : axles) {
        if (axle.tee) {
            tee_to_axle(in, parts, axle, outlet_of(parts, spec, axle.chamber, "to " + axle.name));
            continue;
        }
        in.use("lines." + axle.name + ".to_tee");
        for (const std::string& wheel : {axle.left, axle.right})
            run_from_cylinder(in, parts, axle, wheel, "lines." + axle.name + "." + wheel,
                              outlet_of(parts, spec, axle.chamber, "to " + wheel));
    }
}

void diagonal(Inputs& in, Parts& parts, const std::string& kind) {
    CylinderSpec spec = cylinder_of(in, kind);
    const std::size_t second = kind == "single" ? 0 : 1;
    const Axle front = axle_of(in, "front"), rear = axle_of(in, "rear");
    const std::vector<std::pair<std::string, std::size_t>> runs{
        {"LF", 0}, {"RR", 0}, {"RF", second}, {"LR", second}};
    for (const auto& [wheel, chamber] : runs) spec.outlets[chamber].push_back("to " + wheel);
    build_cylinder(in, parts, spec);
    for (const auto& [wheel, chamber] : runs)
        run_from_cylinder(in, parts, wheel[1] == 'F' ? front : rear, wheel, "lines." + wheel,
                          outlet_of(parts, spec, chamber, "to " + wheel));
}

} // namespace

void build_car(Inputs& in, Parts& parts) {
    const std::string kind = in.text("master_cylinder.kind");
    if (in.text("layout") != "diagonal") return front_rear(in, parts, kind);
    if (kind == "twin") {
        const Place other = in.document().place_of("layout");
        in.fault(
            "master_cylinder.kind",
            fmt::format(
                "\"twin\" does not go with layout = \"diagonal\" at {}:{}:{}; allowed there: \"tandem\", "
                "\"single\"",
                other.file, other.line, other.column));
    }
    diagonal(in, parts, kind == "twin" ? "tandem" : kind);
}

} // namespace clearstroke
