#include "analysis/reach.hpp"

#include <algorithm>
#include <cmath>

#include <fmt/format.h>

#include "models/constants.hpp"
#include "sim/layout.hpp"

namespace clearstroke {
namespace {

constexpr double ml = 1e-6;
constexpr double noticeable_turn = 3.0 * pi / 180.0;

double trapped_at(const Network& net, const Screw& screw, double pitch, double roll_of_part) {
    const PortRef& port = std::get<PortRef>(screw.at);
    Attitude attitude{pitch, net.conditions.roll, std::vector<double>(net.volumes.size(), 0.0),
                      std::vector<double>(net.volumes.size(), 0.0)};
    attitude.volume_roll[port.volume.index] = roll_of_part;
    const VolumeLayout layout = make_layout(net, attitude, 1).volumes[port.volume.index];
    return air_above(net.volumes[port.volume.index], layout, layout.ports[port.port].top_in_cavity,
                     net.conditions.ambient_pressure);
}

Advice advice_at(const Network& net, const PlaceAir& air, const std::vector<ScrewReach>& reaches) {
    const ScrewReach* best = nullptr;
    for (const ScrewReach& reach : reaches)
        if (net.screws[reach.screw.index].wheel == air.place && reach.has_pocket &&
            (!best || reach.turned < best->turned))
            best = &reach;
    if (!best)
        return {fmt::format("{}: no bleed screw there; open its union, or its own screw if it has one",
                            air.place),
                Act{Cap{}}};
    if (std::abs(best->turn) < noticeable_turn || best->turned > 0.5 * air.beyond)
        return {fmt::format("{}: its screw is as high as turning brings it; tap the part, bleed again",
                            air.place),
                {}};
    const VolumeId part = std::get<PortRef>(net.screws[best->screw.index].at).volume;
    return {
        fmt::format("turn {} by {:.0f} degrees {} (seen from outboard), screw on top: {:.2f} mL would stay",
                    air.place, std::abs(best->turn) * 180.0 / pi,
                    best->turn > 0.0 ? "clockwise" : "anticlockwise", best->turned / ml),
        Act{TurnPart{part, best->turn}}};
}

} // namespace

std::vector<ScrewReach> reach_of_screws(const Network& net) {
    std::vector<ScrewReach> reaches;
    for (std::size_t i = 0; i < net.screws.size(); ++i) {
        const Screw& screw = net.screws[i];
        ScrewReach& reach = reaches.emplace_back();
        reach.screw = ScrewId{i};
        const PortRef* port = std::get_if<PortRef>(&screw.at);
        if (!port) continue;
        const double pitch = net.conditions.pitch;
        reach.has_pocket = true;
        reach.level = trapped_at(net, screw, pitch, 0.0);
        reach.nose_up = trapped_at(net, screw, pitch + attitude_step, 0.0);
        reach.nose_down = trapped_at(net, screw, pitch - attitude_step, 0.0);
        reach.turn = roll_to_top(net.volumes[port->volume.index].ports[port->port].place);
        reach.turned = trapped_at(net, screw, pitch, reach.turn);
    }
    return reaches;
}

std::vector<Advice> advice_for(const Network& net, const std::vector<PlaceAir>& places, double worth) {
    const std::vector<ScrewReach> reaches = reach_of_screws(net);
    std::vector<Advice> advice;
    for (const PlaceAir& air : places)
        if (air.beyond > worth) advice.push_back(advice_at(net, air, reaches));
    return advice;
}

std::vector<PlaceAir> all_that_stays(const PlanResult& result) {
    std::vector<PlaceAir> places = result.air_by_place;
    for (PlaceAir& place : places) place.beyond = place.left;
    return places;
}

std::vector<Advice> advice_for(const Network& net, const PlanResult& result) {
    std::vector<Advice> advice =
        advice_for(net, stands_still(result) ? all_that_stays(result) : result.air_by_place);
    if (result.leaked_in - result.leaked_to_hose > 0.5 * std::max(result.air_left, 5e-9))
        advice.insert(advice.begin(),
                      {"first of all find where it leaks in: mend the joint, seal the thread, keep the "
                       "reservoir full",
                       {}});
    return advice;
}

} // namespace clearstroke
