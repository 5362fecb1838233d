#include <algorithm>

#include "models/constants.hpp"
#include "models/tube_flow.hpp"
#include "scenarios/build/listed.hpp"

namespace clearstroke {
namespace {

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
    if (const auto text = in.stated_text(key.of("inlet")))
        if (const auto at = opening_or_fault(in, parts, key.of("inlet"), *text)) {
            if (const auto* port = std::get_if<PortRef>(&*at))
                p.inlet = *port;
            else
                in.fault(key.of("inlet"),
                         "is a tee, which holds nothing; allowed: \"part:port\" of a volume");
        }
}

void list_piston(Inputs& in, Parts& parts, Actuator& a, const std::string& path, const std::string& chamber) {
    PartKeys key(in, path);
    const std::size_t before = a.pistons.size(), i = piston_of(in, parts, a, path, chamber);
    if (i == a.pistons.size()) return;
    const bool is_new = a.pistons.size() > before;
    Piston& p = a.pistons[i];
    key.set("blind", p.blind);
    key.need("stroke", is_new);
    key.need("opening", is_new && !p.blind);
    key.need("reservoir", is_new && !p.blind && !in.has(key.of("inlet")));
    const double bore_radius = parts.net.volumes[p.chamber.index].cavity.bore_radius;
    if (is_new) p.area = pi * bore_radius * bore_radius;
    if (const auto bore = key.stated("bore")) p.area = circle_area(*bore);
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

} // namespace

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

} // namespace clearstroke
