#include "sim/small_bubbles.hpp"

#include <algorithm>
#include <numeric>

#include "models/gas.hpp"
#include "models/small_bubble.hpp"
#include "models/solution.hpp"
#include "models/wall_bubble.hpp"

namespace clearstroke {
namespace {

constexpr double towards_ambient = 0.2; // share of the suction that one step may take away

Eigen::Index at(std::size_t i) { return static_cast<Eigen::Index>(i); }

} // namespace

SmallBubblesBetweenSteps::SmallBubblesBetweenSteps(const Network& net, const Settings& settings)
    : net_(net), settings_(settings), law_(net.conditions.bubbles),
      on_(law_.diameter > 0.0 || law_.out_of_solution > 0.0) {}

/// Free air too much in the liquid of a volume [m^3]; negative where it has given up more.
double SmallBubblesBetweenSteps::excess_in(const VolumeState& v) const {
    const Conditions& c = net_.conditions;
    return oversaturation(c.fluid.dissolved_air, v.pressure, c.ambient_pressure) * v.liquid - v.given_up;
}

double SmallBubblesBetweenSteps::longest_step(const State& s, const Assembly& assembly) const {
    double shortest = 1e300;
    for (const VolumeState& v : s.volumes)
        if (law_.out_of_solution > 0.0 && excess_in(v) > trace_amount)
            shortest = settings_.bubble_step * law_.out_of_solution;
    for (const Edge& e : assembly.edges()) {
        const EdgeEnd& donor = e.liquid >= 0.0 ? e.up : e.down;
        if (donor.site != Site::volume || e.liquid == 0.0) continue;
        const VolumeState& v = s.volumes[donor.index];
        if (v.dispersed > trace_amount)
            shortest = std::min(shortest, settings_.bubble_step * v.liquid / std::abs(e.liquid));
    }
    return shortest;
}

/// What passed one end of an edge, seen from its volume.
void SmallBubblesBetweenSteps::weigh(const State& s, const EdgeEnd& end, const Node& n, double liquid_in,
                                     double gas_in) {
    const std::size_t v = end.index;
    const double volume_in = std::max(liquid_in, 0.0) + std::max(gas_volume(gas_in, n.pressure.p), 0.0);
    (liquid_in > 0.0 ? liquid_in_ : liquid_out_)[v] += std::abs(liquid_in);
    if (law_.diameter <= 0.0) return;
    if (gas_in < 0.0 && liquid_in < 0.0)
        dispersed_in_[v] -= std::min(-gas_in, -liquid_in * s.volumes[v].dispersed / n.start.liquid);
    if (gas_in > 0.0 && gas_volume(gas_in, n.pressure.p) < densest_swarm * volume_in)
        dispersed_in_[v] += gas_in;
}

void SmallBubblesBetweenSteps::weigh(const State& s, const Assembly& assembly,
                                     const Eigen::VectorXd& passed) {
    for (auto* amounts : {&liquid_in_, &liquid_out_, &dispersed_in_}) amounts->assign(s.volumes.size(), 0.0);
    const auto& edges = assembly.edges();
    for (std::size_t e = 0; e < edges.size(); ++e) {
        const double liquid = passed[at(e)], gas = passed[at(edges.size() + e)];
        for (const auto& [end, sign] : {std::pair{&edges[e].up, -1.0}, std::pair{&edges[e].down, 1.0}})
            if (end->site == Site::volume)
                weigh(s, *end, assembly.nodes()[end->index], sign * liquid, sign * gas);
    }
}

void SmallBubblesBetweenSteps::draw_from_reservoirs(State& s, const Assembly& assembly,
                                                    const Eigen::VectorXd& passed) const {
    const auto& edges = assembly.edges();
    for (std::size_t e = 0; e < edges.size(); ++e) {
        if (edges[e].up.site != Site::reservoir || passed[at(e)] <= 0.0) continue;
        ReservoirState& r = s.reservoirs[edges[e].up.index];
        const double left = std::accumulate(r.liquid.begin(), r.liquid.end(), 0.0);
        r.dispersed *= std::max(left, 0.0) / (std::max(left, 0.0) + passed[at(e)]);
    }
}

void SmallBubblesBetweenSteps::wash_walls(VolumeState& v, const Volume& part, const Layout& layout,
                                          double flow) const {
    const double depth = part.gap_width > 0.0 ? part.gap_width : part.cavity.depth;
    const double diameter = diameter_at(v.pressure, law_.diameter, layout.medium.ambient);
    if (wall_stress(flow, 2.0 * part.cavity.bore_radius, depth, layout.liquid.dynamic_viscosity) <
        detaching_stress(diameter, law_.grip, layout.liquid.surface_tension))
        return;
    v.dispersed += v.held;
    v.held = 0.0;
}

void SmallBubblesBetweenSteps::come_out(State& s, std::size_t volume, const Layout& layout, const Node& n,
                                        double dt) const {
    VolumeState& v = s.volumes[volume];
    v.given_up *= std::max(1.0 - liquid_out_[volume] / std::max(n.start.liquid, 1e-12), 0.0);
    const double ambient = layout.medium.ambient;
    if (v.pressure >= ambient) return;
    const double most = towards_ambient * (ambient - v.pressure) / n.pressure.per_gas;
    const double gas = std::min(comes_out(excess_in(v), dt, law_.out_of_solution), most);
    v.given_up += gas;
    v.gas += gas;
    if (law_.diameter > 0.0) v.dispersed += gas;
    s.ledger.gas_in += gas;
    s.ledger.out_of_solution += gas;
}

double SmallBubblesBetweenSteps::risen(double pressure, double height, const Layout& layout,
                                       double dt) const {
    const double diameter = diameter_at(pressure, law_.diameter, layout.medium.ambient);
    const double density = layout.gas_density * pressure / layout.medium.ambient;
    return share_risen(terminal_velocity(diameter, layout.liquid, density), height, dt);
}

void SmallBubblesBetweenSteps::after_step(State& s, const Layout& layout, const Assembly& assembly,
                                          const Eigen::VectorXd& passed, double dt) {
    weigh(s, assembly, passed);
    draw_from_reservoirs(s, assembly, passed);
    for (std::size_t i = 0; i < s.volumes.size(); ++i) {
        VolumeState& v = s.volumes[i];
        v.held = std::min(v.held, v.gas);
        v.dispersed = std::clamp(v.dispersed + dispersed_in_[i], 0.0, v.gas - v.held);
        if (v.held > 0.0 && law_.grip > 0.0) wash_walls(v, net_.volumes[i], layout, liquid_in_[i] / dt);
        if (law_.out_of_solution > 0.0) come_out(s, i, layout, assembly.nodes()[i], dt);
        if (v.dispersed > trace_amount)
            v.dispersed *= 1.0 - risen(v.pressure, layout.volumes[i].mean_height, layout, dt);
        else
            v.dispersed = 0.0;
    }
    for (std::size_t r = 0; r < s.reservoirs.size(); ++r) {
        ReservoirState& tank = s.reservoirs[r];
        if (tank.dispersed <= 0.0) continue;
        const double level =
            std::accumulate(tank.liquid.begin(), tank.liquid.end(), 0.0) / net_.reservoirs[r].area;
        const double p = layout.medium.ambient + s.reservoir_gauge;
        tank.dispersed = level > 0.0 ? tank.dispersed * (1.0 - risen(p, level, layout, dt)) : 0.0;
    }
}

} // namespace clearstroke
