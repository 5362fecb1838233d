#include "sim/network.hpp"

#include <algorithm>
#include <cmath>
#include <limits>
#include <numeric>
#include <queue>
#include <set>
#include <stdexcept>

#include "models/small_bubble.hpp"
#include "models/tube_flow.hpp"

namespace clearstroke {
namespace {

/// Nodes of the hydraulic graph: volumes first, then junctions.
constexpr std::size_t no_line = static_cast<std::size_t>(-1); // through the port of a cylinder in a line

struct Graph {
    struct Neighbour {
        std::size_t node, line;
    };
    std::vector<std::vector<Neighbour>> touching;
};

std::size_t graph_node(const Network&, const PortRef& p) { return p.volume.index; }
std::size_t graph_node(const Network& net, JunctionId j) { return net.volumes.size() + j.index; }

Graph graph_of(const Network& net) {
    Graph g;
    g.touching.resize(net.volumes.size() + net.junctions.size());
    for (std::size_t l = 0; l < net.lines.size(); ++l) {
        const auto node = [&](const End& end) -> std::ptrdiff_t {
            if (const auto* p = std::get_if<PortRef>(&end))
                return static_cast<std::ptrdiff_t>(graph_node(net, *p));
            if (const auto* j = std::get_if<JunctionId>(&end))
                return static_cast<std::ptrdiff_t>(graph_node(net, *j));
            return -1;
        };
        const auto a = node(net.lines[l].from), b = node(net.lines[l].to);
        if (a < 0 || b < 0) continue;
        g.touching[static_cast<std::size_t>(a)].push_back({static_cast<std::size_t>(b), l});
        g.touching[static_cast<std::size_t>(b)].push_back({static_cast<std::size_t>(a), l});
    }
    for (const Actuator& a : net.actuators)
        for (const Piston& p : a.pistons)
            if (p.inlet) {
                g.touching[p.inlet->volume.index].push_back({p.chamber.index, no_line});
                g.touching[p.chamber.index].push_back({p.inlet->volume.index, no_line});
            }
    return g;
}

std::size_t screw_node(const Network& net, const Screw& s) {
    return std::visit([&](const auto& at) { return graph_node(net, at); }, s.at);
}

std::vector<std::size_t> chamber_nodes(const Network& net) {
    std::vector<std::size_t> out;
    for (const Actuator& a : net.actuators)
        for (const Piston& p : a.pistons) out.push_back(p.chamber.index);
    return out;
}

[[noreturn]] void refuse(const std::string& part, const std::string& why) {
    throw std::invalid_argument(part + ": " + why);
}

template <class Parts> void check_names(const Parts& parts, const char* what) {
    std::set<std::string> seen;
    for (const auto& p : parts) {
        if (p.name.empty()) refuse(what, "a part has no name");
        if (!seen.insert(p.name).second)
            refuse(p.name, std::string("two parts of kind ") + what + " have this name");
    }
}

void positive(double x, const std::string& part, const char* what) {
    if (!(x > 0.0) || !std::isfinite(x)) refuse(part, std::string(what) + " must be greater than zero");
}

void check_port(const Network& net, const PortRef& p, const std::string& part) {
    if (p.volume.index >= net.volumes.size() || p.port >= net.volumes[p.volume.index].ports.size())
        refuse(part, "sits in a port that does not exist");
}

void check_end(const Network& net, const End& end, const Line& line) {
    if (const auto* p = std::get_if<PortRef>(&end)) check_port(net, *p, line.name);
    if (const auto* j = std::get_if<JunctionId>(&end); j && j->index >= net.junctions.size())
        refuse(line.name, "leads to a junction that does not exist");
}

void check_volume(const Volume& v) {
    positive(v.content, v.name, "content");
    positive(v.cavity.bore_radius, v.name, "bore");
    positive(v.cavity.depth, v.name, "depth");
    for (const Port& p : v.ports) positive(p.diameter, v.name + ", port " + p.name, "diameter");
}

void check_line(const Network& net, const Line& line) {
    positive(line.length, line.name, "length");
    positive(line.bore, line.name, "bore");
    if (line.lumps < 1) refuse(line.name, "needs at least one lump");
    check_end(net, line.from, line);
    check_end(net, line.to, line);
    if (std::holds_alternative<Blank>(line.from) && std::holds_alternative<Blank>(line.to))
        refuse(line.name, "is closed at both ends");
    if (line.valve) {
        positive(line.valve->passage.radius, line.name, "passage of its valve");
        if (!(line.valve->slope > 0.0 && line.valve->slope <= 1.0))
            refuse(line.name, "slope of its valve must lie between 0 and 1");
        if (line.valve->bypass > line.valve->hold_off)
            refuse(line.name, "its valve must bypass below its hold-off");
    }
    double last = 0.0;
    for (const HeightPoint& h : line.heights) {
        if (!(h.fraction > last && h.fraction < 1.0))
            refuse(line.name, "heights must have rising fractions between 0 and 1");
        last = h.fraction;
    }
}

void check_actuator(const Network& net, const Actuator& a) {
    const std::size_t pistons = a.coupling == Coupling::single ? 1 : 2;
    if (a.pistons.size() != pistons) refuse(a.name, "has the wrong number of pistons for its kind");
    for (const Piston& p : a.pistons) {
        check_port(net, {p.chamber, p.port_opening}, a.name);
        const Volume& v = net.volumes[p.chamber.index];
        positive(p.area, a.name, "bore");
        positive(p.stroke, a.name, "stroke");
        if (!(p.area * p.stroke < v.content))
            refuse(a.name, "stroke would displace more than chamber " + v.name + " holds");
        if (p.blind) continue;
        positive(p.port.radius, a.name, "compensating port");
        positive(p.cup.passage.radius, a.name, "cup passage");
        if (!(p.cut_off > 0.0 && p.cut_off < p.stroke))
            refuse(a.name, "cut-off must lie between zero and the stroke");
        if (p.inlet) {
            check_port(net, *p.inlet, a.name);
            if (p.inlet->volume == p.chamber) refuse(a.name, "is fed from its own chamber");
            continue;
        }
        if (p.reservoir.index >= net.reservoirs.size())
            refuse(a.name, "is fed by a reservoir that does not exist");
        if (p.reservoir_chamber < 0 || p.reservoir_chamber >= net.reservoirs[p.reservoir.index].chambers)
            refuse(a.name, "is fed by a reservoir chamber that does not exist");
    }
    positive(a.ratio, a.name, "ratio");
}

} // namespace

Circuits find_circuits(const Network& net) {
    const Graph g = graph_of(net);
    std::vector<int> of_node(g.touching.size(), -1);
    int count = 0;
    const auto flood = [&](std::size_t start) {
        if (of_node[start] >= 0) return;
        std::vector<std::size_t> stack{start};
        of_node[start] = count;
        while (!stack.empty()) {
            const std::size_t node = stack.back();
            stack.pop_back();
            for (const auto& n : g.touching[node])
                if (of_node[n.node] < 0) {
                    of_node[n.node] = count;
                    stack.push_back(n.node);
                }
        }
        ++count;
    };
    for (const std::size_t c : chamber_nodes(net)) flood(c);
    for (std::size_t i = 0; i < of_node.size(); ++i) flood(i);
    Circuits out;
    out.count = count;
    out.of_volume.assign(of_node.begin(), of_node.begin() + static_cast<std::ptrdiff_t>(net.volumes.size()));
    out.of_junction.assign(of_node.begin() + static_cast<std::ptrdiff_t>(net.volumes.size()), of_node.end());
    for (const Line& l : net.lines) {
        const End& end = std::holds_alternative<Blank>(l.from) ? l.to : l.from;
        const std::size_t node = std::holds_alternative<PortRef>(end)
                                     ? graph_node(net, std::get<PortRef>(end))
                                     : graph_node(net, std::get<JunctionId>(end));
        out.of_line.push_back(of_node[node]);
    }
    for (const Screw& s : net.screws) out.of_screw.push_back(of_node[screw_node(net, s)]);
    return out;
}

namespace {

/// Of every node of the graph: distance from the nearest chamber [m], and by what it is reached on the shortest path.
struct Reached {
    double distance{std::numeric_limits<double>::infinity()};
    std::size_t from{}, line{no_line};
};

std::vector<Reached> reach_all(const Network& net) {
    const Graph g = graph_of(net);
    std::vector<Reached> out(g.touching.size());
    using Entry = std::pair<double, std::size_t>;
    std::priority_queue<Entry, std::vector<Entry>, std::greater<>> queue;
    for (const std::size_t c : chamber_nodes(net)) {
        out[c] = {0.0, c, no_line};
        queue.emplace(0.0, c);
    }
    while (!queue.empty()) {
        const auto [d, node] = queue.top();
        queue.pop();
        if (d > out[node].distance) continue;
        for (const auto& n : g.touching[node])
            if (const double next = d + (n.line == no_line ? 0.0 : net.lines[n.line].length);
                next < out[n.node].distance) {
                out[n.node] = {next, node, n.line};
                queue.emplace(next, n.node);
            }
    }
    return out;
}

} // namespace

double path_length(const Network& net, ScrewId screw) {
    return reach_all(net)[screw_node(net, net.screws[screw.index])].distance;
}

std::vector<LineId> shortest_path(const Network& net, ScrewId screw) {
    const std::vector<Reached> all = reach_all(net);
    std::vector<LineId> out;
    for (std::size_t node = screw_node(net, net.screws[screw.index]); all[node].distance > 0.0;
         node = all[node].from) {
        if (std::isinf(all[node].distance)) return {};
        if (all[node].line != no_line) out.insert(out.begin(), LineId{all[node].line});
    }
    return out;
}

namespace {

void check_bubbles(const SmallBubbles& b, const Contents& contents) {
    for (const double share : {b.poured, contents.dispersed})
        if (!(share >= 0.0 && share < densest_swarm))
            refuse("small bubbles", "must be less than a quarter of the fluid");
    for (const double x : {b.diameter, b.grip, b.out_of_solution})
        if (!(x >= 0.0)) refuse("small bubbles", "diameter, grip and time constant must not be negative");
    if (b.diameter == 0.0 && (b.poured > 0.0 || contents.dispersed > 0.0 || b.grip > 0.0))
        refuse("small bubbles", "in the fluid or washed off walls need a diameter");
}

} // namespace

double shortest_length(const Line& line) {
    double least = 0.0;
    HeightPoint last{0.0, line.from_height};
    const auto climb_to = [&](const HeightPoint& next) {
        least = std::max(least, std::abs(next.height - last.height) / (next.fraction - last.fraction));
        last = next;
    };
    for (const HeightPoint& point : line.heights) climb_to(point);
    climb_to({1.0, line.to_height});
    return least;
}

double content_of(const Line& line) { return circle_area(line.bore) * line.length; }

double gas_in_line(const Network& net, const Contents& contents, LineId id) {
    double share = 0.0;
    for (const GasStretch& s : contents.line_gas[id.index]) share += s.end - s.begin;
    return share * content_of(net.lines[id.index]);
}

void check(const Network& net, const Contents& contents) {
    check_names(net.volumes, "volume");
    check_names(net.lines, "line");
    check_names(net.junctions, "junction");
    check_names(net.reservoirs, "reservoir");
    check_names(net.actuators, "actuator");
    check_names(net.screws, "screw");
    if (net.actuators.empty()) refuse("circuit", "has no cylinder");
    for (const Volume& v : net.volumes) check_volume(v);
    for (const Line& l : net.lines) check_line(net, l);
    for (const Reservoir& r : net.reservoirs) {
        positive(r.area, r.name, "surface area");
        positive(r.initial, r.name, "level");
        if (r.initial > r.capacity) refuse(r.name, "holds more than its capacity");
        if (r.chambers < 1) refuse(r.name, "needs at least one chamber");
    }
    for (const Actuator& a : net.actuators) check_actuator(net, a);
    for (const Screw& s : net.screws) {
        if (const auto* p = std::get_if<PortRef>(&s.at)) check_port(net, *p, s.name);
        if (!std::isfinite(path_length(net, {static_cast<std::size_t>(&s - net.screws.data())})))
            refuse(s.name, "is on no circuit that a cylinder feeds");
    }
    positive(net.catch_hose.length, "clear hose", "length");
    positive(net.catch_hose.bore, "clear hose", "bore");
    check_bubbles(net.conditions.bubbles, contents);
    if (contents.volume_gas.size() != net.volumes.size() || contents.line_gas.size() != net.lines.size())
        refuse("contents", "must name every volume and line");
    for (std::size_t v = 0; v < net.volumes.size(); ++v)
        if (!contents.volume_held.empty() &&
            !(contents.volume_held[v] >= 0.0 && contents.volume_held[v] <= contents.volume_gas[v]))
            refuse(net.volumes[v].name, "gas held at its walls must be part of its gas");
        else if (!(contents.volume_gas[v] >= 0.0 && contents.volume_gas[v] <= net.volumes[v].content))
            refuse(net.volumes[v].name, "air must lie between none and the volume's content");
}

} // namespace clearstroke
