#pragma once
/// Small circuits that the tests of sim/ build upon. Sizes are invented, of the usual order.
#include "sim/run.hpp"

namespace clearstroke::testing {

inline Volume caliper(const std::string& name, double bore, double gap, double height) {
    Volume v;
    v.name = name;
    v.place = name;
    v.cavity = {0.5 * bore, gap, 0.0};
    v.content = pi * 0.25 * bore * bore * gap;
    v.height = height;
    v.walls.compliance = 1.5e-13;
    v.ports = {{"inlet", {0.5 * pi, 0.5, 0.9}, 3e-3}, {"screw", {0.0, 0.5, 0.95}, 3e-3}};
    return v;
}

inline Volume chamber(const std::string& name, double bore, double length, double height) {
    Volume v;
    v.name = name;
    v.place = "cylinder";
    v.cavity = {0.5 * bore, length, 0.0};
    v.content = pi * 0.25 * bore * bore * length;
    v.height = height;
    v.axis_heading = 0.5 * pi;
    v.ports = {{"reservoir", {0.0, 0.95, 1.0}, 3e-3}, {"outlet", {0.0, 0.1, 0.9}, 3e-3}};
    return v;
}

inline Line pipe(const std::string& name, double length, double bore, End from, End to, int lumps = 8) {
    Line l;
    l.name = name;
    l.place = name;
    l.length = length;
    l.bore = bore;
    l.from = from;
    l.to = to;
    l.lumps = lumps;
    return l;
}

inline Piston piston(VolumeId chamber, double bore, double stroke, double preload) {
    Piston p;
    p.chamber = chamber;
    p.area = pi * 0.25 * bore * bore;
    p.stroke = stroke;
    p.spring = {preload, 1500.0};
    p.cut_off = 1.2e-3;
    p.port = {0.35e-3, 1e-3, 0.62};
    p.port_opening = 0;
    p.cup = {5e3, {1.0e-3, 2e-3, 0.62}};
    p.reservoir = {0};
    return p;
}

inline Reservoir reservoir(double floor) {
    Reservoir r;
    r.name = "reservoir";
    r.capacity = 250e-6;
    r.initial = 220e-6;
    r.area = 4e-3;
    r.floor_height = floor;
    r.outlet_height = 5e-3;
    return r;
}

inline Screw screw(const std::string& name, VolumeId at) {
    Screw s;
    s.name = name;
    s.wheel = name;
    s.at = PortRef{at, 1};
    s.geometry = *known_bleed_screw("M10");
    return s;
}

/// Cylinder 22.2 mm, 2 m of 3.3 mm pipe, one 54 mm caliper with a 10 mm gap.
inline Network one_wheel() {
    Network n;
    n.conditions.fluid = *find_fluid("DOT 4");
    n.volumes = {chamber("chamber", 22.2e-3, 40e-3, 0.75), caliper("caliper", 54e-3, 10e-3, 0.30)};
    n.lines = {pipe("pipe", 2.0, 3.3e-3, PortRef{{0}, 1}, PortRef{{1}, 0})};
    n.reservoirs = {reservoir(0.80)};
    Actuator a;
    a.name = "pedal";
    a.pistons = {piston({0}, 22.2e-3, 30e-3, 80.0)};
    a.ratio = 4.0;
    a.rod_friction = 10.0;
    n.actuators = {a};
    n.screws = {screw("wheel", {1})};
    return n;
}

/// A pipe that goes level to the top of a loop at 0.85 m, then straight down to the caliper over its second half;
/// large compensating port, for gravity.
inline Network wheel_behind_a_loop() {
    Network n = one_wheel();
    n.actuators[0].pistons[0].port = {2e-3, 1e-3, 0.62};
    n.lines[0].lumps = 20;
    n.lines[0].from_height = 0.75 + 0.9 * 0.5 * 22.2e-3; // as its ports stand, so that 0.85 m is meant
    n.lines[0].to_height = 0.30;
    n.lines[0].heights = {{0.5, 0.85}};
    return n;
}

inline Contents full(const Network& n) {
    return {std::vector<double>(n.volumes.size(), 0.0), std::vector<std::vector<GasStretch>>(n.lines.size())};
}

/// How much less pressure [Pa] the second volume of `n` has at rest with gas over [from, to] of its first line.
inline double held_back_by_gas(const Network& n, double from, double to) {
    Contents gas = full(n);
    gas.line_gas[0] = {{from, to}};
    Simulation sim(n);
    State without = sim.start(full(n)), with = sim.start(gas);
    EXPECT_TRUE(sim.advance(without, 20.0).usable());
    EXPECT_TRUE(sim.advance(with, 20.0).usable());
    return without.volumes[1].pressure - with.volumes[1].pressure;
}

} // namespace clearstroke::testing
