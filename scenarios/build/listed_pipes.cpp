#include "scenarios/build/listed.hpp"

namespace clearstroke {
namespace {

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

constexpr double usual_residual = 0.14e5, usual_hold_off = 6e5, usual_knee = 40e5, usual_laden = 100e5,
                 usual_slope = 0.4;

/// A valve as its kind needs it; what it does not need stays zero.
Valve valve_of(PartKeys& key, const std::string& kind) {
    Valve v;
    key.set_half("valve_bore", v.passage.radius);
    key.set("valve_length", v.passage.length);
    const auto usual = [&](const char* name, double value, double& target) {
        target = key.stated(name).value_or(value);
    };
    if (kind == "one-way" || kind == "residual") {
        v.kind = kind == "one-way" ? ValveKind::one_way : ValveKind::residual;
        key.set("valve_cracking", v.cracking);
        if (v.kind == ValveKind::residual) usual("valve_residual", usual_residual, v.residual);
    } else if (kind == "metering") {
        v.kind = ValveKind::metering;
        usual("valve_hold_off", usual_hold_off, v.hold_off);
        key.set("valve_bypass", v.bypass);
    } else if (kind == "proportioning" || kind == "load-sensing") {
        v.kind = ValveKind::proportioning;
        usual("valve_knee", usual_knee, v.knee);
        usual("valve_slope", usual_slope, v.slope);
        if (kind == "load-sensing")
            v.knee = load_sensing_knee(v.knee, key.stated("valve_knee_laden").value_or(usual_laden),
                                       key.stated("valve_load").value_or(0.0));
    } else if (kind == "shut") {
        v.kind = ValveKind::shut;
    }
    return v;
}

void list_valve(Inputs& in, PartKeys& key, Line& line) {
    const auto kind = in.stated_text(key.of("valve"));
    if (!kind) return;
    line.valve.reset();
    if (*kind == "none") return;
    line.valve = valve_of(key, *kind);
    key.set("valve_at", line.valve_at);
}

} // namespace

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
    list_valve(in, key, line);
    list_gas(in, path, parts.contents.line_gas[id->index]);
}

} // namespace clearstroke
