#include <algorithm>

#include <fmt/format.h>

#include "models/tube_flow.hpp"
#include "scenarios/build/parts.hpp"

namespace clearstroke {
namespace {

/// Keys of a wheel, falling back to those of its axle.
class WheelKeys {
public:
    WheelKeys(Inputs& in, std::string section, const WheelSpec& w)
        : in_(in), own_(section + "." + w.wheel + "."), axle_(section + "." + w.axle + ".") {}

    double value(const char* key) { return in_.value(own_ + key, axle_ + key); }
    std::optional<double> stated(const char* key) {
        const auto own = in_.stated(own_ + key), axle = in_.stated(axle_ + key);
        return own ? own : axle;
    }
    int count(const char* key) {
        const auto own = in_.stated_count(own_ + key);
        return own ? (in_.use(axle_ + key), *own) : in_.count(axle_ + key);
    }
    std::string text(const char* key) {
        const auto own = in_.stated_text(own_ + key);
        return own ? (in_.use(axle_ + key), *own) : in_.text(axle_ + key);
    }
    std::optional<std::string> stated_text(const char* key) {
        const auto own = in_.stated_text(own_ + key), axle = in_.stated_text(axle_ + key);
        return own ? own : axle;
    }
    std::vector<std::string> texts(const char* key) {
        const auto own = in_.texts(own_ + key), axle = in_.texts(axle_ + key);
        return own.empty() ? axle : own;
    }
    std::vector<double> quantities(const char* key) {
        const auto own = in_.quantities(own_ + key), axle = in_.quantities(axle_ + key);
        return own.empty() ? axle : own;
    }
    [[nodiscard]] std::string where(const char* key) const {
        return in_.has(own_ + key) ? own_ + key : axle_ + key;
    }

private:
    Inputs& in_;
    std::string own_, axle_;
};

/// Bores of the pistons on one side [m].
std::vector<double> piston_bores(Inputs& in, WheelKeys& key) {
    auto bores = key.quantities("bores");
    if (bores.empty()) return std::vector<double>(std::size_t(key.count("pistons")), key.value("bore"));
    for (const char* other : {"bore", "pistons"})
        if (in.has(key.where(other)))
            in.fault(key.where(other),
                     fmt::format("says the same as {}; allowed: one of the two", key.where("bores")));
    return bores;
}

Volume caliper_side(Inputs& in, WheelKeys& key, const WheelSpec& w, std::string name) {
    const auto bores = piston_bores(in, key);
    double area = 0.0;
    for (const double bore : bores) area += circle_area(bore);
    const double gap = key.value("gap"), content = key.value("passages") + gap * area;
    Volume v =
        round_volume({std::move(name), w.wheel + " caliper", content, std::ranges::max(bores),
                      key.stated("height").value_or(w.height), w.ahead, w.outboard, key.value("tilt")});
    v.gap_width = gap;
    v.walls.compliance = key.value("give") * area;
    v.walls.settling_volume = key.value("settling") * area;
    v.walls.settling_pressure = key.value("settling_pressure");
    v.walls.play = key.value("roll_back");
    return v;
}

Port hose_port(WheelKeys& key) {
    return {"hose", {key.value("port_at"), 0.0, 1.0}, key.value("port_drilling")};
}

Port screw_port(WheelKeys& key, const Cavity& cavity) {
    return drilled_port("screw", cavity, key.value("screw_at"), key.value("screw_below_crown"),
                        key.value("screw_drilling"));
}

PortRef sliding_caliper(Inputs& in, Parts& parts, WheelKeys& key, const WheelSpec& w) {
    Volume v = caliper_side(in, key, w, w.wheel + " caliper");
    v.ports.push_back(hose_port(key));
    v.ports.push_back(screw_port(key, v.cavity));
    const VolumeId id = parts.add(std::move(v));
    parts.add(screw_at(in, parts, w.wheel, w.wheel + " caliper", {id, 1}, key.stated_text("thread")));
    return {id, 0};
}

Line crossover(Inputs& in, const Parts& parts, WheelKeys& key, const WheelSpec& w, PortRef inner,
               PortRef outer) {
    Line line;
    line.name = w.wheel + " crossover";
    line.place = w.wheel + " caliper";
    line.length = key.value("crossover_length");
    line.bore = key.value("crossover_bore");
    line.walls = pipe_walls(in, line.bore, line.length);
    line.from = inner;
    line.to = outer;
    line.from_height = parts.height_of(inner);
    line.to_height = parts.height_of(outer);
    if (const auto height = key.stated("crossover_height"))
        line.heights.push_back({0.5, parts.net.volumes[inner.volume.index].height + *height});
    line.lumps = 2;
    return line;
}

/// Halves in order inner, outer, each with the ports screw (if it has one), crossover and, on one of them,
/// hose.
PortRef fixed_caliper(Inputs& in, Parts& parts, WheelKeys& key, const WheelSpec& w) {
    auto screws = key.texts("screws");
    if (screws.empty()) screws = {"outer"};
    for (const std::string& s : screws)
        if (s != "inner" && s != "outer")
            in.fault(key.where("screws"),
                     fmt::format("\"{}\" is no half of a caliper; allowed: \"inner\", \"outer\"", s));
    const std::string hose_side = key.text("hose_side");
    PortRef hose, across[2];
    for (const std::size_t i : {0U, 1U}) {
        const std::string half = i == 0 ? "inner" : "outer";
        Volume v = caliper_side(in, key, w, w.wheel + " caliper " + half);
        const bool bled = std::ranges::find(screws, half) != screws.end();
        if (bled) v.ports.push_back(screw_port(key, v.cavity));
        v.ports.push_back({"crossover", {key.value("crossover_at"), 0.0, 1.0}, key.value("crossover_bore")});
        across[i].port = v.ports.size() - 1;
        if (half == hose_side) v.ports.push_back(hose_port(key));
        const VolumeId id = parts.add(std::move(v));
        across[i].volume = id;
        if (half == hose_side) hose = {id, across[i].port + 1};
        if (bled)
            parts.add(screw_at(in, parts, screws.size() > 1 ? w.wheel + " " + half : w.wheel,
                               w.wheel + " caliper", {id, 0}, key.stated_text("thread")));
    }
    parts.add(crossover(in, parts, key, w, across[0], across[1]));
    return hose;
}

PortRef wheel_cylinder(Inputs& in, Parts& parts, WheelKeys& key, const WheelSpec& w) {
    const double bore = key.value("bore"), area = circle_area(bore), gap = key.value("gap");
    const std::string name = w.wheel + " wheel cylinder";
    Volume v = round_volume({name, name, gap * area, bore, w.height, w.ahead, w.outboard, 0.0});
    v.walls.compliance = 2.0 * key.value("give") * area;
    v.walls.settling_volume = 2.0 * key.value("settling") * area;
    v.walls.settling_pressure = key.value("settling_pressure");
    v.walls.take_up_volume = 2.0 * key.value("slack") * area;
    v.walls.take_up_from = key.value("spring_from");
    v.walls.take_up_to = key.value("spring_to");
    if (v.walls.take_up_to <= v.walls.take_up_from)
        in.fault(key.where("spring_to"), "is not above spring_from; allowed: a higher pressure");
    constexpr double drilling = 3e-3; // [m]
    v.ports.push_back({"hose", {key.value("port_at"), 0.5, 1.0}, drilling});
    v.ports.push_back(
        drilled_port("screw", v.cavity, key.value("screw_at"), key.value("screw_below_crown"), drilling));
    v.ports.back().place.axial = 0.5;
    const VolumeId id = parts.add(std::move(v));
    parts.add(screw_at(in, parts, w.wheel, name, {id, 1}, std::nullopt));
    return {id, 0};
}

} // namespace

PortRef build_brake(Inputs& in, Parts& parts, const WheelSpec& w, bool drum) {
    WheelKeys key(in, drum ? "drums" : "calipers", w);
    if (drum) return wheel_cylinder(in, parts, key, w);
    return key.text("kind") == "fixed" ? fixed_caliper(in, parts, key, w)
                                       : sliding_caliper(in, parts, key, w);
}

} // namespace clearstroke
