#include "analysis/cli/inspect_view.hpp"
#include "models/constants.hpp"

namespace clearstroke {
namespace {

Json volumes_json(const Case& c) {
    Json list = Json::array();
    for (std::size_t i = 0; i < c.network.volumes.size(); ++i) {
        const Volume& v = c.network.volumes[i];
        list.push_back({{"name", v.name},
                        {"place", v.place},
                        {"content_ml", in_ml(v.content)},
                        {"height_m", rounded(v.height)},
                        {"air_ml", in_ml(c.contents.volume_gas[i])}});
    }
    return list;
}

Json lines_json(const Network& net) {
    Json list = Json::array();
    for (const Line& line : net.lines)
        list.push_back({{"name", line.name},
                        {"length_m", rounded(line.length)},
                        {"bore_mm", in_mm(line.bore)},
                        {"content_ml", in_ml(content_of(line))},
                        {"hose", line.elastic_hose}});
    return list;
}

Json screws_json(const InspectView& view) {
    Json list = Json::array();
    for (std::size_t i = 0; i < view.points.size(); ++i) {
        const BleedPoint& p = view.points[i];
        const ScrewReach& r = view.reach[i];
        Json one = {{"name", p.name},
                    {"wheel", p.wheel},
                    {"circuit", p.circuit + 1},
                    {"path_length_m", rounded(p.length)}};
        if (r.has_pocket) {
            one["beyond_reach_ml"] = in_ml(r.level);
            one["beyond_reach_nose_up_ml"] = in_ml(r.nose_up);
            one["beyond_reach_nose_down_ml"] = in_ml(r.nose_down);
            one["turn_deg"] = rounded(r.turn * 180.0 / pi);
            one["beyond_reach_turned_ml"] = in_ml(r.turned);
        }
        list.push_back(one);
    }
    return list;
}

} // namespace

Json inspect_json(const InspectView& view) {
    const Network& net = view.usual.network;
    Json json = {{"schema", "clearstroke/inspect/1"},
                 {"scenario", scenario_json(view.scenario)},
                 {"fluid", net.conditions.fluid.name},
                 {"temperature_degc", rounded(net.conditions.temperature - zero_celsius)},
                 {"method", view.usual.procedure.method.name}};
    json["volumes"] = volumes_json(view.usual);
    json["lines"] = lines_json(net);
    json["screws"] = screws_json(view);
    json["order"] = Json::array();
    for (const Visit& visit : view.usual.procedure.visits)
        json["order"].push_back(net.screws[visit.screw.index].name);
    json["assumptions"] = assumptions_json(view.scenario);
    json["warnings"] = view.scenario.warnings;
    json["measure_next"] = measure_json(view.scenario.factory, view.measures);
    return json;
}

} // namespace clearstroke
