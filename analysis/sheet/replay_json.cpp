#include "analysis/sheet/replay_json.hpp"

#include <cmath>

#include <fmt/format.h>

#include "models/cavity.hpp"
#include "models/constants.hpp"

namespace clearstroke {
namespace {

using Json = nlohmann::ordered_json;

double to_digits(double x, int digits) {
    const double scale = std::pow(10.0, digits);
    return std::round(x * scale) / scale;
}
int thousandths(double share) { return static_cast<int>(std::lround(1000.0 * share)); }
double in_ml(double cubic_metres) { return to_digits(1e6 * cubic_metres, 4); }
double in_degrees(double angle) { return to_digits(angle * 180.0 / pi, 1); }

Json end_json(const End& end) {
    if (const auto* port = std::get_if<PortRef>(&end))
        return {{"volume", port->volume.index}, {"port", port->port}};
    if (const auto* junction = std::get_if<JunctionId>(&end)) return {{"junction", junction->index}};
    return nullptr;
}

Json volumes_json(const Network& net, const Circuits& circuits) {
    Json list = Json::array();
    for (std::size_t v = 0; v < net.volumes.size(); ++v) {
        const Volume& volume = net.volumes[v];
        Json ports = Json::array();
        for (const Port& port : volume.ports)
            ports.push_back({{"name", port.name},
                             {"clock_deg", in_degrees(port.place.clock)},
                             {"radial", to_digits(port.place.radial, 3)},
                             {"rise_m", to_digits(opening_height(volume.cavity, port.place), 4)},
                             {"diameter_mm", to_digits(1e3 * port.diameter, 2)}});
        list.push_back({{"name", volume.name},
                        {"place", volume.place},
                        {"circuit", circuits.of_volume[v]},
                        {"height_m", to_digits(volume.height, 4)},
                        {"ahead_m", to_digits(volume.ahead, 3)},
                        {"outboard_m", to_digits(volume.outboard, 3)},
                        {"radius_m", to_digits(volume.cavity.bore_radius, 5)},
                        {"content_ml", in_ml(volume.content)},
                        {"ports", ports}});
    }
    return list;
}

Json lines_json(const Network& net, const Circuits& circuits) {
    Json list = Json::array();
    for (std::size_t l = 0; l < net.lines.size(); ++l) {
        const Line& line = net.lines[l];
        Json heights = Json::array({Json::array({0.0, to_digits(line.from_height, 4)})});
        for (const HeightPoint& p : line.heights)
            heights.push_back({to_digits(p.fraction, 4), to_digits(p.height, 4)});
        heights.push_back({1.0, to_digits(line.to_height, 4)});
        list.push_back({{"name", line.name},
                        {"circuit", circuits.of_line[l]},
                        {"from", end_json(line.from)},
                        {"to", end_json(line.to)},
                        {"length_m", to_digits(line.length, 4)},
                        {"bore_mm", to_digits(1e3 * line.bore, 3)},
                        {"content_ml", in_ml(content_of(line))},
                        {"hose", line.elastic_hose},
                        {"heights", heights}});
    }
    return list;
}

Json screws_json(const Network& net, const Circuits& circuits) {
    Json list = Json::array();
    for (std::size_t i = 0; i < net.screws.size(); ++i) {
        const Screw& screw = net.screws[i];
        const End at = std::visit([](auto place) { return End{place}; }, screw.at);
        list.push_back({{"name", screw.name},
                        {"wheel", screw.wheel},
                        {"circuit", circuits.of_screw[i]},
                        {"at", end_json(at)},
                        {"height_m", to_digits(screw.height, 4)},
                        {"path_m", to_digits(path_length(net, ScrewId{i}), 3)}});
    }
    return list;
}

Json feed_json(const Network& net) {
    Json json = {{"reservoirs", Json::array()}, {"actuators", Json::array()}, {"junctions", Json::array()}};
    for (const Reservoir& r : net.reservoirs)
        json["reservoirs"].push_back({{"name", r.name},
                                      {"capacity_ml", in_ml(r.capacity)},
                                      {"initial_ml", in_ml(r.initial)},
                                      {"area_cm2", to_digits(1e4 * r.area, 2)},
                                      {"floor_m", to_digits(r.floor_height, 4)}});
    for (const Actuator& a : net.actuators) {
        Json pistons = Json::array();
        for (const Piston& p : a.pistons)
            pistons.push_back({{"volume", p.chamber.index},
                               {"reservoir", p.inlet || p.blind ? Json(nullptr) : Json(p.reservoir.index)},
                               {"inlet", p.inlet ? Json(p.inlet->volume.index) : Json(nullptr)}});
        json["actuators"].push_back({{"name", a.name}, {"hand", a.hand}, {"pistons", pistons}});
    }
    for (const Junction& j : net.junctions)
        json["junctions"].push_back({{"name", j.name},
                                     {"height_m", to_digits(j.height, 4)},
                                     {"ahead_m", to_digits(j.ahead, 3)},
                                     {"outboard_m", to_digits(j.outboard, 3)}});
    return json;
}

Json stretches_json(const std::vector<Stretch>& stretches) {
    Json list = Json::array();
    for (const Stretch& s : stretches) {
        const int begin = thousandths(s.begin);
        list.insert(list.end(), {begin, std::max(thousandths(s.end), begin + 1), thousandths(s.gas)});
    }
    return list;
}

Json part_json(const PartContents& part) {
    return {in_ml(part.gas), thousandths(part.level), static_cast<int>(std::lround(100.0 * part.fresh)) * 10,
            in_degrees(part.roll)};
}

template <class List, class Convert> Json list_json(const List& list, const Convert& convert) {
    Json json = Json::array();
    for (const auto& x : list) json.push_back(convert(x));
    return json;
}

// One entry per element, by its number.
template <class List, class Convert> Json numbered_json(const List& list, const Convert& convert) {
    Json json = Json::object();
    for (std::size_t i = 0; i < list.size(); ++i) json[fmt::format("{}", i)] = convert(list[i]);
    return json;
}

Json whole_instant(const Instant& now) {
    const auto ten = [](double share) { return 10 * static_cast<int>(std::lround(100.0 * share)); };
    Json json = {{"t", to_digits(now.t, 2)},
                 {"k", now.visit},
                 {"n", now.strokes},
                 {"e", now.stroke_over ? 1 : 0},
                 {"o", to_digits(now.turns, 3)},
                 {"s", now.screw ? Json(now.screw->index) : Json(nullptr)},
                 {"a", list_json(now.air_of_circuit, in_ml)},
                 {"r", list_json(now.reservoirs, [](double v) { return to_digits(1e6 * v, 1); })},
                 {"p", list_json(now.rods, thousandths)},
                 {"w", {in_degrees(now.pitch), in_degrees(now.roll)}},
                 {"h", stretches_json(now.hose)}};
    json["v"] = numbered_json(now.parts, part_json);
    json["l"] = numbered_json(now.lines, stretches_json);
    json["f"] = numbered_json(now.fresh_of_line, ten);
    return json;
}

// What differs from the instant before; time always stands.
Json change(const Json& before, const Json& now) {
    Json json = Json::object();
    for (const auto& [key, value] : now.items()) {
        if (key == "t" || !before.contains(key))
            json[key] = value;
        else if (value.is_object()) {
            const Json inner = change(before[key], value);
            if (!inner.empty()) json[key] = inner;
        } else if (value != before[key])
            json[key] = value;
    }
    return json;
}

} // namespace

Json layout_json(const Network& net) {
    const Circuits circuits = find_circuits(net);
    Json json = {{"circuits", circuits.count},
                 {"volumes", volumes_json(net, circuits)},
                 {"lines", lines_json(net, circuits)},
                 {"screws", screws_json(net, circuits)}};
    json.update(feed_json(net));
    json["hose"] = {{"length_m", to_digits(net.catch_hose.length, 3)},
                    {"bore_mm", to_digits(1e3 * net.catch_hose.bore, 2)},
                    {"submerged", net.catch_hose.submerged}};
    return json;
}

Json film_json(const Network& net, const Film& film) {
    Json instants = Json::array();
    Json before = Json::object();
    for (const Instant& instant : film.instants) {
        Json now = whole_instant(instant);
        instants.push_back(change(before, now));
        before = std::move(now);
    }
    Json strokes = Json::array();
    for (std::size_t k = 0; k < film.run.visits.size(); ++k)
        for (const StrokeRecord& s : film.run.visits[k]->record.strokes)
            strokes.push_back({{"k", k},
                               {"screw", net.screws[film.run.visits[k]->record.screw.index].name},
                               {"n", s.number},
                               {"t_s", to_digits(s.t_end, 2)},
                               {"bubble_seen", s.bubble_seen},
                               {"bubbles_ml", in_ml(s.gas_seen)},
                               {"new_share", to_digits(s.colour_seen, 3)},
                               {"fluid_ml", in_ml(s.liquid_out)}});
    return {{"instants", instants}, {"strokes", strokes}};
}

} // namespace clearstroke
