#include "scenarios/io/expand.hpp"

#include <array>

#include <fmt/format.h>
#include <fmt/ranges.h>

#include "scenarios/build/acts.hpp"
#include "scenarios/io/quantity.hpp"
#include "scenarios/io/toml_text.hpp"

namespace clearstroke {
namespace {

/// As exact(), a pure number without its "1".
std::string plain(double si, std::string_view unit) {
    return unit == "1" ? fmt::format("{}", si) : exact(si, unit);
}

class Writer {
public:
    Writer(const Document& document, const Noted& noted, const Case& c)
        : document_(document), noted_(noted), c_(c) {}
    std::string all();

private:
    const Document& document_;
    const Noted& noted_;
    const Case& c_;
    std::string out_;

    void line(const std::string& text) { out_ += text + "\n"; }
    void text(const char* key, std::string_view value) {
        line(fmt::format("{} = {}", key, toml_string(value)));
    }
    void count(const char* key, long value) { line(fmt::format("{} = {}", key, value)); }
    void truth(const char* key, bool value) { line(fmt::format("{} = {}", key, value)); }
    void value(const char* key, double si, std::string_view unit) {
        line(fmt::format("{} = {}", key, toml_string(plain(si, unit))));
    }
    void header(std::string_view list) { line(fmt::format("\n[[{}]]", list)); }

    void general();
    void section(const std::string& name);
    void hand_brake();
    void booster_and_faults();
    void volume(std::size_t);
    void pipe(std::size_t);
    void valve(const Valve&, double at);
    void reservoir(const Reservoir&);
    void actuator(const Actuator&);
    void piston(const Piston&);
    void screw(const Screw&);
    void procedure();
    std::string end(const End&) const;
    std::string acts(const std::vector<Act>&) const;
    static std::string short_name(const Method&);
};

std::string Writer::end(const End& e) const {
    if (std::holds_alternative<Blank>(e)) return "blank";
    if (const auto* j = std::get_if<JunctionId>(&e)) return c_.network.junctions[j->index].name;
    const auto& p = std::get<PortRef>(e);
    const Volume& v = c_.network.volumes[p.volume.index];
    return v.name + ":" + v.ports[p.port].name;
}

std::string Writer::acts(const std::vector<Act>& list) const {
    std::vector<std::string> out;
    for (const Act& a : list) out.push_back(write_act(a, c_.network));
    return toml_list(out);
}

void Writer::general() {
    if (const Entry* title = document_.find("title")) text("title", title->text);
    text("layout", "explicit");
    text("fluid", c_.network.conditions.fluid.name);
    for (const char* key : {"anti_lock", "method"})
        if (const Entry* given = document_.find(key)) text(key, given->text);
    if (document_.children.contains("orders")) {
        line("\n[orders]");
        for (const std::string& name : document_.children.at("orders"))
            if (const Entry* order = document_.find("orders." + name))
                line(fmt::format("{} = {}", toml_string(name), toml_list(order->texts)));
    }
    std::string wishes;
    for (const char* key : {"together", "first", "last", "before"})
        if (const Entry* given = document_.find(std::string("sequence.") + key))
            wishes += fmt::format("{} = {}\n", key, toml_list(given->texts));
    if (!wishes.empty()) out_ += "\n[sequence]\n" + wishes;
}

/// Keys that belong to no part: quantities with their bands, and what was stated besides.
void Writer::section(const std::string& name) {
    const std::string prefix = name + ".";
    line(fmt::format("\n[{}]", name));
    for (const Parameter& p : noted_.parameters) {
        if (!p.name.starts_with(prefix) || p.name == "model.lump_length")
            continue; // each pipe says its lumps
        const KeyRow* row = find_key(p.name, "explicit");
        const auto written = [&](double si) { // a key in % takes no pure number
            return row && row->unit != "1" ? exact(si, p.unit) : plain(si, p.unit);
        };
        const std::string band =
            p.low < p.high ? fmt::format(", {} to {}", written(p.low), written(p.high)) : "";
        line(fmt::format("{} = {}", p.name.substr(prefix.size()), toml_string(written(p.usual) + band)));
    }
    for (const auto& [path, entry] : document_.entries) {
        if (!path.starts_with(prefix)) continue;
        const std::string key = path.substr(prefix.size());
        if (entry.row->kind == KeyKind::count) count(key.c_str(), entry.count);
        if (entry.row->kind == KeyKind::choice) text(key.c_str(), entry.text);
    }
}

/// Parts whose free play is taken up; a key of [conditions], which is open.
void Writer::hand_brake() {
    std::vector<std::string> on;
    for (const Volume& v : c_.network.volumes)
        if (v.hand_brake_on) on.push_back(v.name);
    if (!on.empty()) line("hand_brake_on = " + toml_list(on));
}

/// Booster and faults by the names of parts; swelling and what is stuck are in the walls of their parts already.
void Writer::booster_and_faults() {
    if (document_.tables.contains("booster")) section("booster");
    const auto amounts = [&](const char* table, const auto& list, auto name, auto amount,
                             std::string_view unit) {
        std::string rows;
        for (const auto& part : list)
            if (amount(part) > 0.0)
                rows +=
                    fmt::format("{} = {}\n", toml_string(name(part)), toml_string(plain(amount(part), unit)));
        if (!rows.empty()) out_ += fmt::format("\n[faults.{}]\n{}", table, rows);
    };
    const auto& volumes = c_.network.volumes;
    const auto own = [](const Volume& v) { return v.name; };
    const auto chamber = [&](const Piston& p) { return volumes[p.chamber.index].name; };
    std::vector<Piston> pistons;
    std::vector<std::string> blocked;
    for (const Actuator& a : c_.network.actuators)
        pistons.insert(pistons.end(), a.pistons.begin(), a.pistons.end());
    for (const Piston& p : pistons)
        if (p.port_blocked) blocked.push_back(chamber(p));
    if (!blocked.empty()) line("\n[faults]\nblocked_ports = " + toml_list(blocked));
    amounts(
        "knocked_back", volumes, own, [](const Volume& v) { return v.knocked_back; }, "m3");
    amounts(
        "leak", volumes, own, [](const Volume& v) { return v.leak; }, "m3/s/Pa");
    amounts(
        "air_entry", volumes, own, [](const Volume& v) { return v.air_entry; }, "m3/s/Pa");
    amounts(
        "bypass", pistons, chamber, [](const Piston& p) { return p.bypass; }, "m3/s/Pa");
}

void Writer::volume(std::size_t i) {
    const Volume& v = c_.network.volumes[i];
    header("volumes");
    text("name", v.name);
    text("place", v.place);
    value("content", v.content, "m3");
    value("height", v.height, "m");
    value("ahead", v.ahead, "m");
    value("outboard", v.outboard, "m");
    value("bore", 2.0 * v.cavity.bore_radius, "m");
    value("depth", v.cavity.depth, "m");
    value("tilt", v.cavity.axis_tilt, "rad");
    value("gap", v.gap_width, "m");
    value("gas", c_.contents.volume_gas[i], "m3");
    if (!c_.contents.volume_held.empty()) value("held_gas", c_.contents.volume_held[i], "m3");
    value("compliance", v.walls.compliance, "m3/Pa");
    value("settling_volume", v.walls.settling_volume, "m3");
    value("settling_pressure", v.walls.settling_pressure, "Pa");
    value("play", v.walls.play, "Pa");
    value("take_up_volume", v.walls.take_up_volume, "m3");
    value("take_up_from", v.walls.take_up_from, "Pa");
    value("take_up_to", v.walls.take_up_to, "Pa");
    for (const Port& p : v.ports) {
        line("[[volumes.ports]]");
        text("name", p.name);
        value("at", p.place.clock, "rad");
        value("axial", p.place.axial, "1");
        value("radial", p.place.radial, "1");
        value("diameter", p.diameter, "m");
        value("solid_angle", p.solid_angle, "1");
    }
}

void Writer::valve(const Valve& v, double at) {
    static constexpr std::array kinds{"one-way",       "residual",    "metering",
                                      "proportioning", "restriction", "shut"};
    text("valve", kinds[std::size_t(v.kind)]);
    value("valve_at", at, "1");
    value("valve_bore", 2.0 * v.passage.radius, "m");
    value("valve_length", v.passage.length, "m");
    const bool lip = v.kind == ValveKind::one_way || v.kind == ValveKind::residual;
    if (lip) value("valve_cracking", v.cracking, "Pa");
    if (v.kind == ValveKind::residual) value("valve_residual", v.residual, "Pa");
    if (v.kind == ValveKind::metering) {
        value("valve_hold_off", v.hold_off, "Pa");
        value("valve_bypass", v.bypass, "Pa");
    }
    if (v.kind == ValveKind::proportioning) {
        value("valve_knee", v.knee, "Pa");
        value("valve_slope", v.slope, "1");
    }
}

void Writer::pipe(std::size_t i) {
    const Line& l = c_.network.lines[i];
    header("pipes");
    text("name", l.name);
    text("place", l.place);
    value("length", l.length, "m");
    value("bore", l.bore, "m");
    truth("hose", l.elastic_hose);
    text("from", end(l.from));
    text("to", end(l.to));
    value("from_height", l.from_height, "m");
    value("to_height", l.to_height, "m");
    count("lumps", l.lumps);
    value("compliance", l.walls.compliance, "m3/Pa");
    value("settling_volume", l.walls.settling_volume, "m3");
    value("settling_pressure", l.walls.settling_pressure, "Pa");
    if (l.valve) valve(*l.valve, l.valve_at);
    for (const HeightPoint& h : l.heights) {
        line("[[pipes.heights]]");
        value("at", h.fraction, "1");
        value("height", h.height, "m");
    }
    for (const GasStretch& s : c_.contents.line_gas[i]) {
        line("[[pipes.gas]]");
        value("begin", s.begin, "1");
        value("end", s.end, "1");
    }
}

void Writer::reservoir(const Reservoir& r) {
    header("reservoirs");
    text("name", r.name);
    value("capacity", r.capacity, "m3");
    value("filled", r.initial, "m3");
    value("surface", r.area, "m2");
    value("floor_height", r.floor_height, "m");
    value("outlet_height", r.outlet_height, "m");
    value("outlet", r.outlet_diameter, "m");
    count("chambers", r.chambers);
    value("divider", r.divider_height, "m");
}

void Writer::actuator(const Actuator& a) {
    header("actuators");
    text("name", a.name);
    text("kind", a.coupling == Coupling::single   ? "single"
                 : a.coupling == Coupling::tandem ? "tandem"
                                                  : "balance bar");
    value("bar_share", a.bar_share, "1");
    value("bar_travel", a.bar_travel, "m");
    value("friction", a.friction, "N");
    value("rod_friction", a.rod_friction, "N");
    value("ratio", a.ratio, "1");
    if (a.pad_travel > 0.0) value("pad_travel", a.pad_travel, "m");
    value("free_play", a.free_play, "m");
    truth("hand", a.hand);
    for (const Piston& p : a.pistons) piston(p);
}

void Writer::piston(const Piston& p) {
    const Volume& chamber = c_.network.volumes[p.chamber.index];
    line("[[actuators.pistons]]");
    text("chamber", chamber.name);
    value("area", p.area, "m2");
    value("stroke", p.stroke, "m");
    value("preload", p.spring.preload, "N");
    value("rate", p.spring.rate, "N/m");
    value("cut_off", p.cut_off, "m");
    value("port", 2.0 * p.port.radius, "m");
    value("port_length", p.port.length, "m");
    value("port_discharge", p.port.discharge_coeff, "1");
    if (p.blind) {
        truth("blind", true);
        return;
    }
    text("opening", chamber.ports[p.port_opening].name);
    value("cup_cracking", p.cup.cracking, "Pa");
    value("cup_opening", 2.0 * p.cup.passage.radius, "m");
    value("cup_length", p.cup.passage.length, "m");
    value("cup_discharge", p.cup.passage.discharge_coeff, "1");
    if (p.inlet) {
        text("inlet", end(*p.inlet));
        return;
    }
    text("reservoir", c_.network.reservoirs[p.reservoir.index].name);
    count("reservoir_chamber", p.reservoir_chamber);
}

void Writer::screw(const Screw& s) {
    header("screws");
    text("name", s.name);
    text("wheel", s.wheel);
    text("at", std::visit([&](auto at) { return end(at); }, s.at));
    value("height", s.height, "m");
    value("pitch", s.geometry.pitch, "m");
    value("seat_bore", s.geometry.seat_bore, "m");
    value("cross_hole", s.geometry.cross_hole, "m");
    count("cross_holes", s.geometry.cross_holes);
    value("axial_bore", s.geometry.axial_bore, "m");
    value("cone_half_angle", s.geometry.cone_half_angle, "rad");
    value("drilling_length", s.geometry.drilling_length, "m");
    value("thread_clearance", s.thread_clearance, "m");
    value("thread_diameter", s.geometry.thread.diameter, "m");
    value("thread_length", s.geometry.thread.length, "m");
    value("thread_eccentricity", s.geometry.thread.eccentricity, "1");
}

/// Name under which a ready-made method is found again.
std::string Writer::short_name(const Method& m) {
    for (const std::string& name : method_names())
        if (find_method(name)->name == m.name) return name;
    return m.name;
}

void Writer::procedure() {
    const Procedure& p = c_.procedure;
    std::vector<std::string> forces;
    for (const double f : p.target.pad_forces) forces.push_back(exact(f, "N"));
    section("target");
    line(fmt::format("pad_forces = {}", toml_list(forces)));
    section("stop");
    if (!document_.find("stop.new_colour")) value("new_colour", p.stop.new_colour, "1");
    line("\n[acts]");
    line("prepare = " + acts(p.prepare));
    if (p.method.name == "own") {
        line("arrive = " + acts(p.method.arrive));
        line("stroke = " + acts(p.method.stroke));
        line("leave = " + acts(p.method.leave));
    }
    for (const Visit& v : p.visits) {
        header("visits");
        text("screw", c_.network.screws[v.screw.index].name);
        if (v.strokes) count("strokes", *v.strokes);
        if (v.method) text("method", short_name(*v.method));
        line("before = " + acts(v.before));
    }
}

std::string Writer::all() {
    line("# Explicit form: every part and connection, SI units.");
    general();
    if (document_.tables.contains("bubbles")) section("bubbles");
    section("conditions");
    hand_brake();
    for (const char* name : {"fluid_properties", "model", "clear_hose", "operator"}) section(name);
    line("\n[contents]");
    value("fresh_fraction", c_.contents.fresh_fraction, "1");
    value("reservoir_fresh_fraction", c_.contents.reservoir_fresh_fraction, "1");
    procedure();
    booster_and_faults();
    for (const Reservoir& r : c_.network.reservoirs) reservoir(r);
    for (std::size_t i = 0; i < c_.network.volumes.size(); ++i) volume(i);
    for (const Junction& j : c_.network.junctions) {
        header("tees");
        text("name", j.name);
        value("height", j.height, "m");
    }
    for (std::size_t i = 0; i < c_.network.lines.size(); ++i) pipe(i);
    for (const Actuator& a : c_.network.actuators) actuator(a);
    for (const Screw& s : c_.network.screws) screw(s);
    return std::move(out_);
}

} // namespace

std::string explicit_toml(const Document& document, const Noted& noted, const Case& scenario) {
    return Writer(document, noted, scenario).all();
}

} // namespace clearstroke
