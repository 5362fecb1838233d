#include "scenarios/build/parts.hpp"

#include <algorithm>
#include <cmath>
#include <stdexcept>

#include <fmt/format.h>

#include "models/constants.hpp"
#include "models/hose.hpp"
#include "models/tube_flow.hpp"

namespace clearstroke {
namespace {

template <class Part>
std::optional<std::size_t> index_of(const std::vector<Part>& parts, std::string_view name) {
    const auto at = std::ranges::find(parts, name, &Part::name);
    if (at == parts.end()) return std::nullopt;
    return std::size_t(at - parts.begin());
}

template <class Identity, class Part>
std::optional<Identity> id_of(const std::vector<Part>& parts, std::string_view name) {
    const auto at = index_of(parts, name);
    return at ? std::optional(Identity{*at}) : std::nullopt;
}

double end_height(const Parts& parts, const End& end) {
    if (const auto* port = std::get_if<PortRef>(&end)) return parts.height_of(*port);
    if (const auto* tee = std::get_if<JunctionId>(&end)) return parts.height_of(*tee);
    return 0.0;
}

} // namespace

VolumeId Parts::add(Volume v) {
    net.volumes.push_back(std::move(v));
    contents.volume_gas.push_back(0.0);
    return {net.volumes.size() - 1};
}

LineId Parts::add(Line l) {
    net.lines.push_back(std::move(l));
    contents.line_gas.emplace_back();
    return {net.lines.size() - 1};
}

JunctionId Parts::add(Junction j) {
    net.junctions.push_back(std::move(j));
    return {net.junctions.size() - 1};
}

ReservoirId Parts::add(Reservoir r) {
    net.reservoirs.push_back(std::move(r));
    return {net.reservoirs.size() - 1};
}

ScrewId Parts::add(Screw s) {
    net.screws.push_back(std::move(s));
    return {net.screws.size() - 1};
}

std::optional<VolumeId> Parts::volume(std::string_view name) const {
    return id_of<VolumeId>(net.volumes, name);
}
std::optional<LineId> Parts::line(std::string_view name) const { return id_of<LineId>(net.lines, name); }
std::optional<JunctionId> Parts::junction(std::string_view name) const {
    return id_of<JunctionId>(net.junctions, name);
}
std::optional<ReservoirId> Parts::reservoir(std::string_view name) const {
    return id_of<ReservoirId>(net.reservoirs, name);
}
std::optional<ActuatorId> Parts::actuator(std::string_view name) const {
    return id_of<ActuatorId>(net.actuators, name);
}
std::optional<ScrewId> Parts::screw(std::string_view name) const { return id_of<ScrewId>(net.screws, name); }

std::optional<std::variant<PortRef, JunctionId>> Parts::opening(std::string_view text) const {
    if (const auto tee = junction(text)) return *tee;
    const auto colon = text.rfind(':');
    if (colon == std::string_view::npos) return std::nullopt;
    const auto of = volume(text.substr(0, colon));
    if (!of) return std::nullopt;
    const auto port = index_of(net.volumes[of->index].ports, text.substr(colon + 1));
    if (!port) return std::nullopt;
    return PortRef{*of, *port};
}

std::string Parts::name_of(const std::variant<PortRef, JunctionId>& opening) const {
    if (const auto* tee = std::get_if<JunctionId>(&opening)) return net.junctions[tee->index].name;
    const auto& at = std::get<PortRef>(opening);
    const Volume& v = net.volumes[at.volume.index];
    return v.name + ":" + v.ports[at.port].name;
}

double Parts::height_of(const std::variant<PortRef, JunctionId>& opening) const {
    if (const auto* tee = std::get_if<JunctionId>(&opening)) return net.junctions[tee->index].height;
    const auto& at = std::get<PortRef>(opening);
    const Volume& v = net.volumes[at.volume.index];
    return v.height + opening_height(v.cavity, v.ports[at.port].place);
}

std::vector<std::string> Parts::names() const {
    std::vector<std::string> out;
    const auto add_name = [&](const std::string& name) {
        if (std::ranges::find(out, name) == out.end()) out.push_back(name);
    };
    for (const Volume& v : net.volumes) add_name(v.place), add_name(v.name);
    for (const Line& l : net.lines) add_name(l.place), add_name(l.name);
    return out;
}

std::set<std::size_t> stroked_chambers(const Network& net) {
    std::set<std::size_t> out;
    for (const Actuator& a : net.actuators)
        for (const Piston& p : a.pistons)
            if (!p.blind) out.insert(p.chamber.index);
    return out;
}

ElasticLaw cylinder_body(double content) { return {1e-10 * content}; }

Volume round_volume(const CavitySpec& spec) {
    Volume v;
    v.name = spec.name;
    v.place = spec.place;
    v.content = spec.content;
    v.height = spec.height;
    v.ahead = spec.ahead;
    v.outboard = spec.outboard;
    v.cavity = {0.5 * spec.bore, spec.content / circle_area(spec.bore), spec.tilt};
    return v;
}

Port drilled_port(std::string name, const Cavity& cavity, double clock, double below, double diameter) {
    const double from_axis = std::max(0.0, cavity.bore_radius - below - 0.5 * diameter);
    return {std::move(name), {clock, 0.0, from_axis / cavity.bore_radius}, diameter};
}

Screw screw_at(Inputs& in, const Parts& parts, std::string name, std::string wheel, PortRef at,
               std::optional<std::string> thread) {
    const std::string size = thread ? *thread : in.text("bleed_screw.thread");
    Screw screw;
    screw.name = std::move(name);
    screw.wheel = std::move(wheel);
    screw.at = at;
    screw.geometry = *known_bleed_screw(size);
    screw.thread_clearance = in.value("bleed_screw.thread_clearance");
    screw.height = parts.height_of(at);
    return screw;
}

ElasticLaw pipe_walls(Inputs& in, double bore, double length) {
    ElasticLaw law;
    law.compliance = in.value("lines.dilation") * circle_area(bore) * length;
    return law;
}

ElasticLaw hose_walls(Inputs& in, double bore, double length) {
    const HoseExpansion hose =
        hose_expansion(hose_limit(bore, in.truth("hoses.low_expansion")), in.value("hoses.expansion"));
    ElasticLaw law;
    law.compliance = hose.linear_compliance * length;
    law.settling_volume = hose.saturating_volume * length;
    law.settling_pressure = hose.saturation_pressure;
    return law;
}

int lumps_of(Inputs& in, double length) {
    return std::clamp(int(std::ceil(length / in.value("model.lump_length"))), 2, 400);
}

namespace {

Line bare_line(Inputs& in, const Parts& parts, std::string name, std::string place, double length, End from,
               End to) {
    Line line;
    line.name = std::move(name);
    line.place = std::move(place);
    line.length = length;
    line.from_height = end_height(parts, from);
    line.to_height = end_height(parts, to);
    line.from = std::move(from);
    line.to = std::move(to);
    line.lumps = lumps_of(in, length);
    return line;
}

} // namespace

Line pipe_between(Inputs& in, const Parts& parts, std::string name, std::string place, double length,
                  End from, End to) {
    Line line =
        bare_line(in, parts, std::move(name), std::move(place), length, std::move(from), std::move(to));
    line.bore = in.value("lines.bore");
    line.walls = pipe_walls(in, line.bore, length);
    return line;
}

Line hose_between(Inputs& in, const Parts& parts, std::string name, std::string place, double length,
                  End from, End to) {
    Line line =
        bare_line(in, parts, std::move(name), std::move(place), length, std::move(from), std::move(to));
    line.bore = in.value("hoses.bore");
    line.walls = hose_walls(in, line.bore, length);
    line.elastic_hose = true;
    return line;
}

} // namespace clearstroke
