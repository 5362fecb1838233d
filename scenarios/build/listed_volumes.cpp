#include <algorithm>

#include "models/constants.hpp"
#include "scenarios/build/listed.hpp"

namespace clearstroke {
namespace {

void list_ports(Inputs& in, const std::string& path, Volume& v) {
    for (const std::string& name : in.children(path + ".ports")) {
        PartKeys key(in, path + ".ports." + name);
        auto at = std::ranges::find(v.ports, name, &Port::name);
        const bool is_new = at == v.ports.end();
        if (is_new) {
            v.ports.push_back({name, {}, 3e-3});
            at = v.ports.end() - 1;
        }
        key.need("at", is_new);
        key.set("at", at->place.clock);
        key.set("axial", at->place.axial);
        key.set("radial", at->place.radial);
        key.set("diameter", at->diameter);
        key.set("solid_angle", at->solid_angle);
    }
}

/// Whether a listed actuator strokes the volume as a cylinder; a blind piston is a brake's own.
bool is_cylinder(Inputs& in, const std::string& volume) {
    return std::ranges::any_of(in.children("actuators"), [&](const std::string& actuator) {
        const std::string pistons = "actuators." + actuator + ".pistons", own = pistons + "." + volume;
        return std::ranges::count(in.children(pistons), volume) > 0 &&
               !in.stated_truth(own + ".blind").value_or(false);
    });
}

void list_walls(Inputs& in, PartKeys& key, Volume& v, bool is_new) {
    const double area = pi * v.cavity.bore_radius * v.cavity.bore_radius;
    const bool brake = is_new && !is_cylinder(in, v.name);
    if (is_new && !brake) v.walls = cylinder_body(v.content);
    key.set_or("compliance", v.walls.compliance, brake,
               [&] { return in.value("calipers.front.give") * area; });
    key.set_or("settling_volume", v.walls.settling_volume, brake,
               [&] { return in.value("calipers.front.settling") * area; });
    key.set_or("settling_pressure", v.walls.settling_pressure, is_new,
               [&] { return in.value("calipers.front.settling_pressure"); });
    key.set_or("play", v.walls.play, is_new, [&] { return in.value("calipers.front.roll_back"); });
    key.set("take_up_volume", v.walls.take_up_volume);
    key.set("take_up_from", v.walls.take_up_from);
    key.set("take_up_to", v.walls.take_up_to);
    if (v.walls.take_up_volume > 0.0 && !(v.walls.take_up_to > v.walls.take_up_from))
        in.fault(key.of("take_up_to"), "is not above take_up_from; allowed: a higher pressure");
}

} // namespace

void list_volume(Inputs& in, Parts& parts, const std::string& name) {
    const std::string path = "volumes." + name;
    PartKeys key(in, path);
    auto id = parts.volume(name);
    const bool is_new = !id;
    if (is_new) {
        Volume fresh;
        fresh.name = fresh.place = name;
        id = parts.add(std::move(fresh));
    }
    Volume& v = parts.net.volumes[id->index];
    for (const char* needed : {"content", "height", "bore"}) key.need(needed, is_new);
    key.set("place", v.place);
    key.set("content", v.content);
    key.set("height", v.height);
    key.set("ahead", v.ahead);
    key.set("outboard", v.outboard);
    key.set_half("bore", v.cavity.bore_radius);
    const bool shaped = in.has(key.of("content")) || in.has(key.of("bore"));
    key.set_or("depth", v.cavity.depth, shaped,
               [&] { return v.content / (pi * v.cavity.bore_radius * v.cavity.bore_radius); });
    key.set("tilt", v.cavity.axis_tilt);
    key.set("gap", v.gap_width);
    list_walls(in, key, v, is_new);
    list_ports(in, path, v);
    double& gas = parts.contents.volume_gas[id->index];
    key.set("gas", gas);
    if (gas > v.content && !in.has("condition"))
        in.fault(key.of("gas"),
                 fmt::format("is more than the volume holds; allowed: up to {:.4g} mL", 1e6 * v.content));
    if (const auto held = key.stated("held_gas")) {
        parts.contents.volume_held.resize(parts.net.volumes.size(), 0.0);
        parts.contents.volume_held[id->index] = *held;
    }
}

void list_tee(Inputs& in, Parts& parts, const std::string& name) {
    PartKeys key(in, "tees." + name);
    auto id = parts.junction(name);
    key.need("height", !id);
    if (!id) id = parts.add(Junction{name});
    key.set("height", parts.net.junctions[id->index].height);
}

void list_reservoir(Inputs& in, Parts& parts, const std::string& name) {
    PartKeys key(in, "reservoirs." + name);
    auto id = parts.reservoir(name);
    const bool is_new = !id;
    if (is_new) {
        Reservoir fresh;
        fresh.name = name;
        id = parts.add(std::move(fresh));
    }
    Reservoir& r = parts.net.reservoirs[id->index];
    for (const char* needed : {"capacity", "floor_height"}) key.need(needed, is_new);
    key.set("capacity", r.capacity);
    key.set_or("filled", r.initial, is_new, [&] { return in.value("reservoir.filled") * r.capacity; });
    key.set_or("surface", r.area, is_new, [&] { return r.capacity / in.value("reservoir.depth"); });
    key.set("floor_height", r.floor_height);
    key.set_or("outlet_height", r.outlet_height, is_new, [&] { return in.value("reservoir.outlet_height"); });
    key.set_or("outlet", r.outlet_diameter, is_new, [&] { return in.value("reservoir.outlet"); });
    key.set("chambers", r.chambers);
    key.set("divider", r.divider_height);
    if (r.initial > r.capacity) in.fault(key.of("filled"), "is more than the capacity; allowed: up to it");
}

} // namespace clearstroke
