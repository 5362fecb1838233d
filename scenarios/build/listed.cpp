#include <array>

#include <fmt/ranges.h>

#include "scenarios/build/listed.hpp"

namespace clearstroke {
namespace {

/// Openings that a file may name, for messages.
std::string openings_text(const Parts& parts) {
    std::vector<std::string> out;
    for (const Volume& v : parts.net.volumes)
        for (const Port& p : v.ports) out.push_back(v.name + ":" + p.name);
    for (const Junction& j : parts.net.junctions) out.push_back(j.name);
    return fmt::format("{}", fmt::join(out, ", "));
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

} // namespace

std::optional<std::variant<PortRef, JunctionId>>
opening_or_fault(Inputs& in, const Parts& parts, const std::string& key, const std::string& text) {
    const auto at = parts.opening(text);
    if (!at)
        in.fault(key, fmt::format("\"{}\" leads nowhere; allowed: \"part:port\" or a tee, that is one of {}",
                                  text, openings_text(parts)));
    return at;
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
