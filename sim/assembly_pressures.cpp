/// Pressures of an Assembly, and what stands at the ends of its edges.
#include <algorithm>
#include <cmath>

#include "models/drawdown.hpp"
#include "sim/assembly.hpp"

namespace clearstroke {
namespace {

constexpr double push_band = 0.1; // last share of the force limit over which the push slows

Eigen::Index at(std::size_t i) { return static_cast<Eigen::Index>(i); }

} // namespace

void Assembly::fill_nodes(const Eigen::VectorXd& z) {
    std::ranges::fill(gained_, 0.0);
    std::ranges::fill(gas_gained_, 0.0);
    const std::size_t m = edges_.size();
    for (std::size_t e = 0; e < m; ++e) {
        gained_[slots_[e][0]] -= z[at(e)];
        gained_[slots_[e][1]] += z[at(e)];
    }
    for (const std::size_t e : other_edges_) {
        gas_gained_[slots_[e][0] / 2] -= z[at(m + e)];
        gas_gained_[slots_[e][1] / 2] += z[at(m + e)];
    }
    for (std::size_t i = 0; i < nodes_.size(); ++i) {
        Node& n = nodes_[i];
        const double gained = gained_[2 * i] + gained_[2 * i + 1];
        mean_gained_[i] = 0.5 * gained;
        n.now.liquid = n.start.liquid + gained;
        if (!n.liquid_only) n.now.gas = n.start.gas + gas_gained_[i];
    }
    for (std::size_t w = 0; w < warm_.size(); ++w) {
        Node& n = nodes_[warm_[w].node];
        n.now.theta = n.start.theta + z[at(first_warm() + w)];
    }
    for (std::size_t c = 0; c < moving_.size(); ++c) moving_[c].gained = z[at(first_column() + c)];
}

std::array<Chamber, 2> Assembly::chambers(std::size_t k) const {
    std::array<Chamber, 2> out;
    for (std::size_t j = 0; j < net_.actuators[k].pistons.size(); ++j) {
        const Node& n = nodes_[chamber_node_[k][j]];
        out[j] = {{std::max(n.now.liquid, 0.0), std::max(n.now.gas, 0.0), n.now.theta},
                  n.capacity,
                  &n.walls,
                  n.play_memory,
                  guess_of(n)};
    }
    return out;
}

/// Pressure that the slopes of the step's start foretell, to start from.
double Assembly::guess_of(const Node& n) const {
    if (at_start_ || n.actuator >= 0) return n.guess;
    const double foretold = n.base.p + n.base.per_liquid * (n.now.liquid - n.at_base.liquid) +
                            n.base.per_gas * (n.now.gas - n.at_base.gas);
    return foretold > 0.25 * n.guess && foretold < 4.0 * n.guess ? foretold : n.guess;
}

/// The rod of an actuator at x, pushed at its speed up to its force limit.
void Assembly::push(std::size_t k, double x) {
    const Drive& d = drives_[k];
    const ActuatorPoint& point = points_[k];
    const double band = push_band * d.force_limit;
    const double ahead = d.force_limit - point.rod_force,
                 behind = x > 0.0 ? d.force_limit - point.rod_force_back : 0.0;
    const double share = std::max(ahead, 0.0) / band + std::min(behind, 0.0) / band;
    rod_speed_[k] = d.speed * std::clamp(share, -1.0, 1.0);
    if (share != 0.0 && std::abs(share) < 1.0) rod_speed_per_force_[k] = -d.speed / band;
}

void Assembly::find_pressure(Node& n) const {
    const Filling f{std::max(n.now.liquid, 0.0), std::max(n.now.gas, 0.0), n.now.theta};
    n.pressure = pressure_of(f, n.capacity, n.walls, n.play_memory, layout_->medium, guess_of(n));
}

void Assembly::find_pressures(const Eigen::VectorXd& z, bool slopes) {
    fill_nodes(z);
    find_liquid_pressures(slopes);
    for (const std::size_t i : other_nodes_) find_pressure(nodes_[i]);
    for (std::size_t k = 0; k < net_.actuators.size(); ++k) {
        const double x = rod_start_[k] + z[at(2 * edges_.size() + k)];
        points_[k] =
            actuator_point(net_.actuators[k], linkages_[k], x, u_start_[k], chambers(k), layout_->medium);
        for (std::size_t j = 0; j < net_.actuators[k].pistons.size(); ++j)
            nodes_[chamber_node_[k][j]].pressure = points_[k].pressure[j];
        const Drive& d = drives_[k];
        rod_speed_per_force_[k] = 0.0;
        switch (d.mode) {
        case Drive::Mode::free:
        case Drive::Mode::held:
            rod_speed_[k] = 0.0;
            break;
        case Drive::Mode::back:
            rod_speed_[k] = -d.speed;
            break;
        case Drive::Mode::push:
            push(k, x);
            break;
        }
    }
    for (std::size_t i = 0; i < nodes_.size(); ++i) spot_pressure_[i] = nodes_[i].pressure.p;
    for (std::size_t i = 0; i < net_.volumes.size(); ++i)
        if (Node& n = nodes_[i]; n.now.gas > n.held) n.interface = interface_in(n, n.pressure.gas_volume);
}

/// What the columns of a cell do to pressure and resistance of its end, (N-5), (N-6); full of gas it resists with its half.
void Assembly::see_column(EdgeEnd& end) const {
    const double gained = gained_[end.slot], mean = mean_gained_[end.spot];
    const Node& n = nodes_[end.spot];
    if (n.now.gas <= 0.0) {
        end.resistance = liquid_resistance(end.per_liquid, end.column + mean);
        return;
    }
    end.pressure -= end.rise_per_liquid * gained;
    const double liquid = std::max(end.column + mean + (gained - mean) * end.by_gas, 0.0);
    end.resistance =
        std::max(end.per_liquid * liquid + 0.5 * end.per_gas * n.pressure.gas_volume, end.least_resistance);
}

/// Height of the interface above the middle of a volume's bore, with this much gas in it [m].
double Assembly::interface_in(const Node& n, double gas_volume) const {
    const CavityProfile& profile = layout_->volumes[n.volume].profile;
    double pocket = gas_volume * (1.0 - n.held / n.now.gas);
    if (n.actuator >= 0) {
        const auto k = static_cast<std::size_t>(n.actuator), j = static_cast<std::size_t>(n.piston);
        pocket *= n.capacity / (n.capacity - net_.actuators[k].pistons[j].area * points_[k].d[j]);
    }
    return profile.interface_height(pocket * profile.volume() / n.capacity);
}

/// The pressure of a volume is that of the middle of its bore, or of its gas where that reaches below it: heads count
/// from the interface down only.
double Assembly::uncovered(const EdgeEnd& end) const {
    const Node& n = nodes_[end.index];
    if (n.now.gas <= n.held) return 0.0;
    const VolumeLayout& v = layout_->volumes[n.volume];
    const double port = v.ports[end.port].height - v.height;
    return layout_->liquid.density * standard_gravity *
           (std::min(port, n.interface) - port - std::min(0.0, n.interface));
}

double Assembly::gas_share(const EdgeEnd& end) const {
    if (!end.mixed) return end.share;
    switch (end.site) {
    case Site::cell:
    case Site::hose_cell: {
        const double gas = end.end.gas * standard_atmosphere / nodes_[end.index].pressure.p;
        return gas / (gas + end.end.liquid);
    }
    case Site::volume: {
        const Node& n = nodes_[end.index];
        const double pocket = n.now.gas > n.held ? share_drawn(end, n.pressure.gas_volume, n.interface) : 0.0;
        return n.dispersed > 0.0 ? with_bubbles(n, pocket) : pocket;
    }
    default:
        return end.share;
    }
}

/// Gas share that an opening draws, by (D-6) and (D-7), with this much gas in its volume and its interface there.
double Assembly::share_drawn(const EdgeEnd& end, double gas_volume, double interface) const {
    const Node& n = nodes_[end.index];
    const double depth = interface - layout_->volumes[n.volume].ports[end.port].top_in_cavity;
    const double pocket = n.held > 0.0 ? gas_volume * (1.0 - n.held / n.now.gas) : gas_volume;
    const double drawn =
        gas_fraction_drawn(depth, end.reach, net_.volumes[n.volume].ports[end.port].diameter);
    return gathered_gas_share(drawn, pocket, std::max(n.now.liquid, 0.0), end.flow);
}

/// gas share of a stream that takes this share of pocket and small bubbles with the rest.
double Assembly::with_bubbles(const Node& n, double share) const {
    const double at_walls = n.held - n.dispersed;
    const double dispersed = std::clamp(n.now.gas - at_walls, 0.0, n.dispersed);
    const double volume = n.now.gas > 0.0 ? dispersed / n.now.gas * n.pressure.gas_volume : 0.0;
    return share + (1.0 - share) * volume / (volume + std::max(n.now.liquid, trace_amount));
}

} // namespace clearstroke
