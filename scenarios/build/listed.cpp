#include <algorithm>
#include <array>

#include <fmt/format.h>
#include <fmt/ranges.h>

#include "models/constants.hpp"
#include "scenarios/build/parts.hpp"

namespace clearstroke {
namespace {

/// Keys of one listed part.
class PartKeys {
public:
    PartKeys(Inputs& in, std::string path) : in_(in), path_(std::move(path)) {}

    [[nodiscard]] std::string of(const char* key) const { return path_ + "." + key; }
    std::optional<double> stated(const char* key) { return in_.stated(of(key)); }
    void set(const char* key, double& target) {
        if (const auto x = stated(key)) target = *x;
    }
    void set_half(const char* key, double& target) {
        if (const auto x = stated(key)) target = 0.5 * *x;
    }
    void set(const char* key, int& target) {
        if (const auto x = in_.stated_count(of(key))) target = *x;
    }
    void set(const char* key, bool& target) {
        if (const auto x = in_.stated_truth(of(key))) target = *x;
    }
    void set(const char* key, std::string& target) {
        if (auto x = in_.stated_text(of(key))) target = std::move(*x);
    }
    /// As stated; when a new part leaves it out, the value that another key gives.
    template <class Default> void set_or(const char* key, double& target, bool is_new, Default usual) {
        if (const auto x = stated(key))
            target = *x;
        else if (is_new)
            target = usual();
    }
    void need(const char* key, bool is_new) {
        if (is_new && !in_.has(of(key)))
            in_.fault(of(key), fmt::format("missing; a new part needs it, {}",
                                           allowed_text(*find_key(of(key), in_.document().family))));
    }

private:
    Inputs& in_;
    std::string path_;
};

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

void list_walls(Inputs& in, PartKeys& key, Volume& v, bool is_new) {
    const double area = pi * v.cavity.bore_radius * v.cavity.bore_radius;
    key.set_or("compliance", v.walls.compliance, is_new,
               [&] { return in.value("calipers.front.give") * area; });
    key.set_or("settling_volume", v.walls.settling_volume, is_new,
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

/// Openings that a file may name, for messages.
std::string openings_text(const Parts& parts) {
    std::vector<std::string> out;
    for (const Volume& v : parts.net.volumes)
        for (const Port& p : v.ports) out.push_back(v.name + ":" + p.name);
    for (const Junction& j : parts.net.junctions) out.push_back(j.name);
    return fmt::format("{}", fmt::join(out, ", "));
}

std::optional<std::variant<PortRef, JunctionId>>
opening_or_fault(Inputs& in, const Parts& parts, const std::string& key, const std::string& text) {
    const auto at = parts.opening(text);
    if (!at)
        in.fault(key, fmt::format("\"{}\" leads nowhere; allowed: \"part:port\" or a tee, that is one of {}",
                                  text, openings_text(parts)));
    return at;
}

void set_end(Inputs& in, const Parts& parts, const std::string& key, const char* height_key, End& end,
             double& height) {
    if (const auto text = in.stated_text(key)) {
        if (*text == "blank") {
            end = Blank{};
        } else if (const auto at = opening_or_fault(in, parts, key, *text)) {
            end = std::visit([](auto id) -> End { return id; }, *at);
            height = parts.height_of(*at);
        }
    }
    const std::string line = key.substr(0, key.rfind('.'));
    if (const auto x = in.stated(line + "." + height_key)) height = *x;
}

void list_heights(Inputs& in, const std::string& path, Line& line) {
    const auto points = in.children(path + ".heights");
    if (points.empty()) return;
    line.heights.clear();
    double last = 0.0;
    for (const std::string& number : points) {
        PartKeys key(in, path + ".heights." + number);
        key.need("at", true);
        key.need("height", true);
        HeightPoint point;
        key.set("at", point.fraction);
        key.set("height", point.height);
        if (!(point.fraction > last && point.fraction < 1.0))
            in.fault(key.of("at"), "does not lie between the point before it and the end; allowed: rising "
                                   "shares between 0 and 1");
        last = point.fraction;
        line.heights.push_back(point);
    }
}

void list_gas(Inputs& in, const std::string& path, std::vector<GasStretch>& gas) {
    const auto stretches = in.children(path + ".gas");
    if (stretches.empty()) return;
    gas.clear();
    double last = 0.0;
    for (const std::string& number : stretches) {
        PartKeys key(in, path + ".gas." + number);
        key.need("begin", true);
        key.need("end", true);
        GasStretch s;
        key.set("begin", s.begin);
        key.set("end", s.end);
        if (!(s.begin >= last && s.end > s.begin))
            in.fault(key.of("end"),
                     "stretches of gas overlap or are empty; allowed: begin < end, one after the other");
        last = s.end;
        gas.push_back(s);
    }
}

void list_pipe(Inputs& in, Parts& parts, const std::string& name) {
    const std::string path = "pipes." + name;
    PartKeys key(in, path);
    auto id = parts.line(name);
    const bool is_new = !id;
    if (is_new) {
        Line fresh;
        fresh.name = fresh.place = name;
        fresh.from = fresh.to = Blank{};
        id = parts.add(std::move(fresh));
    }
    Line& line = parts.net.lines[id->index];
    for (const char* needed : {"length", "from", "to"}) key.need(needed, is_new);
    key.set("place", line.place);
    key.set("length", line.length);
    key.set("hose", line.elastic_hose);
    key.set_or("bore", line.bore, is_new,
               [&] { return in.value(line.elastic_hose ? "hoses.bore" : "lines.bore"); });
    set_end(in, parts, key.of("from"), "from_height", line.from, line.from_height);
    set_end(in, parts, key.of("to"), "to_height", line.to, line.to_height);
    if (std::holds_alternative<Blank>(line.from) && std::holds_alternative<Blank>(line.to) &&
        in.has(key.of("to")))
        in.fault(key.of("to"), "both ends are blank; allowed: one blank end");
    list_heights(in, path, line);
    const bool sized = is_new || in.has(key.of("length")) || in.has(key.of("bore")) || in.has(key.of("hose"));
    const bool walls_stated = in.has(key.of("compliance"));
    if (sized && !walls_stated && line.length > 0.0 && line.bore > 0.0)
        line.walls = line.elastic_hose ? hose_walls(in, line.bore, line.length)
                                       : pipe_walls(in, line.bore, line.length);
    key.set("compliance", line.walls.compliance);
    key.set("settling_volume", line.walls.settling_volume);
    key.set("settling_pressure", line.walls.settling_pressure);
    if (const auto lumps = in.stated_count(key.of("lumps")))
        line.lumps = *lumps;
    else if (sized)
        line.lumps = lumps_of(in, line.length);
    list_gas(in, path, parts.contents.line_gas[id->index]);
}

std::size_t piston_of(Inputs& in, const Parts& parts, Actuator& a, const std::string& path,
                      const std::string& chamber) {
    const auto id = parts.volume(chamber);
    if (!id) {
        in.fault(path,
                 fmt::format("there is no volume \"{}\" for it to stroke; allowed: the name of a volume",
                             chamber));
        return a.pistons.size();
    }
    for (std::size_t i = 0; i < a.pistons.size(); ++i)
        if (a.pistons[i].chamber == *id) return i;
    Piston fresh;
    fresh.chamber = *id;
    a.pistons.push_back(fresh);
    return a.pistons.size() - 1;
}

void list_feed(Inputs& in, const Parts& parts, PartKeys& key, Piston& p) {
    if (const auto name = in.stated_text(key.of("opening"))) {
        const auto& ports = parts.net.volumes[p.chamber.index].ports;
        const auto at = std::ranges::find(ports, *name, &Port::name);
        if (at == ports.end())
            in.fault(key.of("opening"),
                     fmt::format("the chamber has no port \"{}\"; allowed: the name of one", *name));
        else
            p.port_opening = std::size_t(at - ports.begin());
    }
    if (const auto name = in.stated_text(key.of("reservoir"))) {
        if (const auto id = parts.reservoir(*name))
            p.reservoir = *id;
        else
            in.fault(key.of("reservoir"),
                     fmt::format("there is no reservoir \"{}\"; allowed: the name of one", *name));
    }
    key.set("reservoir_chamber", p.reservoir_chamber);
}

void list_piston(Inputs& in, Parts& parts, Actuator& a, const std::string& path, const std::string& chamber) {
    PartKeys key(in, path);
    const std::size_t before = a.pistons.size(), i = piston_of(in, parts, a, path, chamber);
    if (i == a.pistons.size()) return;
    const bool is_new = a.pistons.size() > before;
    Piston& p = a.pistons[i];
    for (const char* needed : {"stroke", "opening", "reservoir"}) key.need(needed, is_new);
    const double bore_radius = parts.net.volumes[p.chamber.index].cavity.bore_radius;
    if (is_new) p.area = pi * bore_radius * bore_radius;
    if (const auto bore = key.stated("bore")) p.area = disc_area(*bore);
    key.set("area", p.area);
    key.set("stroke", p.stroke);
    const bool secondary = i == 1 && a.coupling == Coupling::tandem;
    const auto usual = [&](const char* name) {
        return [&in, name] { return in.value(std::string("master_cylinder.") + name); };
    };
    const auto half = [&](const char* own, const char* general, double& radius) {
        double diameter = 2.0 * radius;
        key.set_or(own, diameter, is_new, usual(general));
        radius = 0.5 * diameter;
    };
    key.set_or("preload", p.spring.preload, is_new,
               usual(secondary ? "preload_secondary" : "preload_primary"));
    key.set_or("rate", p.spring.rate, is_new, usual("spring_rate"));
    key.set_or("cut_off", p.cut_off, is_new, usual("cut_off"));
    half("port", "port", p.port.radius);
    key.set_or("port_length", p.port.length, is_new, usual("port_length"));
    key.set("port_discharge", p.port.discharge_coeff);
    key.set_or("cup_cracking", p.cup.cracking, is_new, usual("cup_cracking"));
    half("cup_opening", "cup_opening", p.cup.passage.radius);
    key.set_or("cup_length", p.cup.passage.length, is_new, [] { return 1e-3; });
    key.set("cup_discharge", p.cup.passage.discharge_coeff);
    list_feed(in, parts, key, p);
}

void list_actuator(Inputs& in, Parts& parts, const std::string& name) {
    const std::string path = "actuators." + name;
    PartKeys key(in, path);
    const auto known = parts.actuator(name);
    const bool is_new = !known;
    if (is_new) {
        parts.net.actuators.emplace_back();
        parts.net.actuators.back().name = name;
    }
    Actuator& a = is_new ? parts.net.actuators.back() : parts.net.actuators[known->index];
    key.need("kind", is_new);
    if (const auto kind = in.stated_text(key.of("kind")))
        a.coupling = *kind == "tandem"   ? Coupling::tandem
                     : *kind == "single" ? Coupling::single
                                         : Coupling::balance_bar;
    const auto usual = [&](const char* general) { return [&in, general] { return in.value(general); }; };
    const bool new_bar = is_new && a.coupling == Coupling::balance_bar;
    key.set_or("bar_share", a.bar_share, new_bar, usual("master_cylinder.balance"));
    key.set_or("bar_travel", a.bar_travel, new_bar, usual("master_cylinder.bar_travel"));
    key.set_or("friction", a.friction, is_new && a.coupling != Coupling::single,
               usual("master_cylinder.seal_friction"));
    key.set_or("rod_friction", a.rod_friction, is_new, usual("master_cylinder.rod_friction"));
    key.set_or("ratio", a.ratio, is_new, usual("pedal.ratio"));
    key.set_or("free_play", a.free_play, is_new, usual("pedal.free_play"));
    key.set("pad_travel", a.pad_travel);
    key.set("hand", a.hand);
    for (const std::string& chamber : in.children(path + ".pistons"))
        list_piston(in, parts, a, path + ".pistons." + chamber, chamber);
    const std::size_t wanted = a.coupling == Coupling::single ? 1 : 2;
    if (a.pistons.size() != wanted)
        in.fault(path + ".pistons",
                 fmt::format("has {} pistons; allowed for its kind: {}", a.pistons.size(), wanted));
}

void list_screw_geometry(Inputs& in, PartKeys& key, Screw& s, bool is_new) {
    const auto thread = in.stated_text(key.of("thread"));
    if (thread || is_new) s.geometry = *known_bleed_screw(thread ? *thread : in.text("bleed_screw.thread"));
    BleedScrew& g = s.geometry;
    key.set("pitch", g.pitch);
    key.set("seat_bore", g.seat_bore);
    key.set("cross_hole", g.cross_hole);
    key.set("cross_holes", g.cross_holes);
    key.set("axial_bore", g.axial_bore);
    key.set("cone_half_angle", g.cone_half_angle);
    key.set("drilling_length", g.drilling_length);
    key.set("thread_diameter", g.thread.diameter);
    key.set("thread_length", g.thread.length);
    key.set("thread_eccentricity", g.thread.eccentricity);
    key.set_or("thread_clearance", s.thread_clearance, is_new,
               [&] { return in.value("bleed_screw.thread_clearance"); });
}

void list_screw(Inputs& in, Parts& parts, const std::string& name) {
    PartKeys key(in, "screws." + name);
    auto id = parts.screw(name);
    const bool is_new = !id;
    if (is_new) {
        Screw fresh;
        fresh.name = name;
        id = parts.add(std::move(fresh));
    }
    Screw& s = parts.net.screws[id->index];
    key.need("at", is_new);
    if (const auto text = in.stated_text(key.of("at")))
        if (const auto at = opening_or_fault(in, parts, key.of("at"), *text)) {
            s.at = *at;
            s.height = parts.height_of(*at);
            if (const auto* port = std::get_if<PortRef>(&*at))
                s.wheel = parts.net.volumes[port->volume.index].place;
            else
                s.wheel = *text;
        }
    key.set("wheel", s.wheel);
    key.set("height", s.height);
    list_screw_geometry(in, key, s, is_new);
}

} // namespace

void build_listed_parts(Inputs& in, Parts& parts) {
    using List = void (*)(Inputs&, Parts&, const std::string&);
    static constexpr std::array<std::pair<const char*, List>, 6> lists{{{"volumes", list_volume},
                                                                        {"tees", list_tee},
                                                                        {"reservoirs", list_reservoir},
                                                                        {"pipes", list_pipe},
                                                                        {"actuators", list_actuator},
                                                                        {"screws", list_screw}}};
    for (const auto& [section, list] : lists)
        for (const std::string& name : in.children(section)) list(in, parts, name);
}

} // namespace clearstroke
