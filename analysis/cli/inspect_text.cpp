#include "analysis/cli/inspect_view.hpp"

#include <cmath>

#include <fmt/format.h>

#include "models/constants.hpp"

namespace clearstroke {
namespace {

std::string end_text(const Network& net, const End& end) {
    if (const auto* port = std::get_if<PortRef>(&end)) return net.volumes[port->volume.index].name;
    if (const auto* tee = std::get_if<JunctionId>(&end)) return net.junctions[tee->index].name;
    return "closed end";
}

std::string gas_text(double gas) { return gas > 0.0 ? ml_text(gas) : "-"; }

Lines parts(const Case& c) {
    const Network& net = c.network;
    Table volumes({"part", ">content mL", ">air at start mL", ">height m", "openings"});
    for (std::size_t i = 0; i < net.volumes.size(); ++i) {
        std::string ports;
        for (const Port& p : net.volumes[i].ports) ports += (ports.empty() ? "" : ", ") + p.name;
        volumes.row({net.volumes[i].name, ml_text(net.volumes[i].content), gas_text(c.contents.volume_gas[i]),
                     fmt::format("{:.2f}", net.volumes[i].height), ports});
    }
    Table lines({"pipe or hose", ">length m", ">bore mm", ">content mL", ">air at start mL", "from, to"});
    for (std::size_t i = 0; i < net.lines.size(); ++i) {
        const Line& line = net.lines[i];
        lines.row({line.name, fmt::format("{:.2f}", line.length), mm_text(line.bore),
                   ml_text(content_of(line)), gas_text(gas_in_line(net, c.contents, {i})),
                   end_text(net, line.from) + " - " + end_text(net, line.to)});
    }
    Lines all = volumes.lines();
    all.emplace_back();
    append(all, lines.lines());
    return all;
}

Lines operation(const Network& net) {
    Lines lines;
    for (const Actuator& a : net.actuators) {
        double travel = 0.0;
        for (const Piston& p : a.pistons) travel += p.area * p.stroke;
        lines.push_back(
            fmt::format("{}: {} piston{}, {} mL at full stroke, ratio {:.2g}{}", a.name, a.pistons.size(),
                        a.pistons.size() == 1 ? "" : "s", ml_text(travel), a.ratio,
                        a.pad_travel > 0.0 ? fmt::format(", {} mm to the floor", mm_text(a.pad_travel))
                                           : ", travel to the floor not stated"));
    }
    for (const Reservoir& r : net.reservoirs)
        lines.push_back(fmt::format("{}: {} of {} mL", r.name, ml_text(r.initial), ml_text(r.capacity)));
    return lines;
}

std::string turn_text(const ScrewReach& reach) {
    const double degrees = reach.turn * 180.0 / pi;
    if (std::abs(degrees) < 0.5) return "on top already";
    return fmt::format("{:.0f} deg {}: {}", std::abs(degrees), degrees > 0.0 ? "clockwise" : "anticlockwise",
                       ml_text(reach.turned));
}

Lines screws(const InspectView& view) {
    const Network& net = view.usual.network;
    Table table({"screw", "bleeds", ">circuit", ">pipe m", ">as it stands", ">nose 10 deg up", ">10 deg down",
                 "with the part turned"});
    for (std::size_t i = 0; i < net.screws.size(); ++i) {
        const ScrewReach& r = view.reach[i];
        const auto cell = [&](double x) { return r.has_pocket ? ml_text(x) : std::string("-"); };
        table.row({net.screws[i].name, net.screws[i].wheel, fmt::format("{}", view.points[i].circuit + 1),
                   fmt::format("{:.2f}", view.points[i].length), cell(r.level), cell(r.nose_up),
                   cell(r.nose_down), r.has_pocket ? turn_text(r) : "no pocket: a union"});
    }
    Lines lines{"Air that can't be moved at each screw [mL], by its place alone (seen from outboard):"};
    append(lines, table.lines());
    return lines;
}

Lines assumptions(const Scenario& scenario) {
    Table table({"key", ">value", "band", "grade", "what, source"});
    for (const Assumption& a : scenario.assumptions)
        table.row({a.key, a.value, a.band, std::string(name_of(a.grade)),
                   a.meaning + (a.source.empty() ? "" : " [" + a.source + "]")});
    Lines lines{fmt::format("{} values are assumed:", scenario.assumptions.size())};
    append(lines, table.lines(140));
    return lines;
}

Lines own_order(const InspectView& view) {
    std::vector<ScrewId> order;
    for (const Visit& visit : view.usual.procedure.visits) order.push_back(visit.screw);
    return {fmt::format("The file's own order: {}; method: {}", order_text(view.usual.network, order),
                        view.usual.procedure.method.name)};
}

} // namespace

Lines inspect_lines(const InspectView& view) {
    const Conditions& conditions = view.usual.network.conditions;
    Lines lines = wrap(view.scenario.title, text_width);
    lines.push_back(fmt::format("{}: valid; {} at {:.0f} degC, {:.0f} kPa", view.scenario.path,
                                conditions.fluid.name, conditions.temperature - zero_celsius,
                                1e-3 * conditions.ambient_pressure));
    const auto section = [&](const Lines& more) {
        lines.emplace_back();
        append(lines, more);
    };
    section(parts(view.usual));
    section(operation(view.usual.network));
    section(screws(view));
    append(lines, own_order(view));
    section(assumptions(view.scenario));
    for (const std::string& warning : view.scenario.warnings) append(lines, labelled("NOTE", warning));
    const Lines measures = measure_lines(view.scenario.factory, view.measures, 7);
    section(measures.empty() ? Lines{"Nothing unstated that a person can measure moves the answer."}
                             : measures);
    return lines;
}

} // namespace clearstroke
