/// Linear algebra of an Assembly: slopes, the pressure solve, and the norm of an error.
#include <algorithm>
#include <cmath>
#include <limits>

#include "sim/assembly.hpp"

namespace clearstroke {
namespace {

constexpr double least_rate = 10.0;  // spring rate that keeps two chambers apart in the linear form [N/m]

Eigen::Index at(std::size_t i) { return static_cast<Eigen::Index>(i); }

}  // namespace

Assembly::Coupled Assembly::coupled(std::size_t k) const {
    const Actuator& a = net_.actuators[k];
    const Linkage& link = linkages_[k];
    const ActuatorPoint& point = points_[k];
    Coupled out;
    out.n = a.pistons.size();
    const bool slides = point.slides || (point.on_the_brink && slid_[k]);  // goes on sliding as in the last step
    const double held_u_x = slides ? 0.0 : point.at_stop && point.u_x == 0.0 ? carried_[k] : point.u_x;
    std::array<double, 2> c{};
    double softness = 0.0, stiffness = 0.0, rod_to_u = 0.0;
    for (std::size_t j = 0; j < out.n; ++j) {
        const double rate = a.pistons[j].spring.rate + least_rate;
        const double arm = link.e[j] + link.f[j] * held_u_x;  // dF/dT_j of (M-4)
        c[j] = a.pistons[j].area / point.pressure[j].softness;
        softness += link.f[j] * link.f[j] * rate;
        stiffness += link.f[j] * link.f[j] * (a.pistons[j].area * c[j] + rate);
        rod_to_u += link.f[j] * link.e[j] * (a.pistons[j].area * c[j] + rate);
        out.rod_gain[j] = rod_speed_per_force_[k] * arm * a.pistons[j].area;
        out.rod_self += rod_speed_per_force_[k] * arm * arm * rate;
    }
    const double u_x = slides ? -rod_to_u / stiffness : held_u_x;
    std::array<double, 2> direct{};
    for (std::size_t j = 0; j < out.n; ++j) direct[j] = c[j] * (link.e[j] + link.f[j] * u_x);
    if (slides)
        for (std::size_t j = 0; j < out.n; ++j)
            for (std::size_t i = 0; i < out.n; ++i) out.inverse[j][i] += c[j] * link.f[j] * link.f[i] * a.pistons[i].area / softness;
    for (std::size_t j = 0; j < out.n; ++j)
        for (std::size_t i = 0; i < out.n; ++i) out.per_rod[j] += out.inverse[j][i] * direct[i];
    return out;
}

std::ptrdiff_t Assembly::unknown_of(const EdgeEnd& end) const {
    switch (end.site) {
        case Site::volume:
        case Site::cell:
        case Site::hose_cell: return static_cast<std::ptrdiff_t>(end.index);
        case Site::junction: return static_cast<std::ptrdiff_t>(nodes_.size() + end.index);
        default: return -1;
    }
}

void Assembly::linearise(const Eigen::VectorXd& z, Eigen::VectorXd& f) {
    evaluate(z, f, true);
    for (Node& n : nodes_) {
        n.base = n.pressure;
        n.at_base = n.now;
    }
    if (at_start_) {
        base_points_ = points_;
        for (Node& n : nodes_) n.guess = n.pressure.p;
    }
    at_start_ = false;
    slopes_.resize(edges_.size());
    for (std::size_t i = 0; i < edges_.size(); ++i) {
        const Edge& e = edges_[i];
        const double per_volume = e.donor_pressure / standard_atmosphere;
        Slopes& s = slopes_[i];
        // X of (N-4) exchanges equal volumes, so pressures hardly feel it: left out of the slopes.
        s.liquid = (1.0 - e.alpha) * e.slope;
        s.gas = e.alpha * per_volume * e.slope;
        s.flow = e.slope;
        s.by_up = e.by_up;
        s.by_down = e.by_down;
        s.gas_per_pressure = e.donor_pressure > 0.0 ? e.gas / e.donor_pressure : 0.0;
        s.up = unknown_of(e.up);
        s.down = unknown_of(e.down);
        const bool from_up = e.up.site == Site::junction || (e.down.site != Site::junction && e.from_up);
        s.donor = from_up ? s.up : s.down;
        s.weight = e.weight;
        s.forward = e.from_up;
    }
    for (Warm& w : warm_) {
        const Node& n = nodes_[w.node];
        w.per_theta = n.base.gas_volume / (n.now.theta * n.base.softness);
    }
    coupled_.clear();
    for (std::size_t k = 0; k < net_.actuators.size(); ++k) coupled_.push_back(coupled(k));
}

void Assembly::prepare(double gamma_h) {
    matrix_.set_zero();
    for (std::size_t i = 0; i < nodes_.size(); ++i) matrix_.add_diagonal(i, 1.0);
    for (std::size_t k = 0; k < coupled_.size(); ++k) {
        const Coupled& c = coupled_[k];
        const double rod = gamma_h / (1.0 - gamma_h * c.rod_self);
        for (std::size_t j = 0; j < c.n; ++j)
            for (std::size_t i = 0; i < c.n; ++i) {
                const double value = c.inverse[j][i] - c.per_rod[j] * rod * c.rod_gain[i];
                if (i == j) matrix_.add_diagonal(chamber_node_[k][j], value - 1.0);
                else matrix_.add(static_cast<std::size_t>(actuator_link_[k]), chamber_node_[k][j], value);
            }
    }
    for (const Warm& w : warm_) matrix_.add_diagonal(w.node, -w.per_theta * lag_of(w, gamma_h) * w.wall_by_pressure / w.time_constant);
    const auto nodes = static_cast<std::ptrdiff_t>(nodes_.size());
    for (std::size_t e = 0; e < edges_.size(); ++e) {
        const Slopes& s = slopes_[e];
        const auto put = [&](std::ptrdiff_t row, double sign) {
            if (row < 0) return;
            const auto r = static_cast<std::size_t>(row);
            double by_flow = s.flow, by_donor = 0.0;
            if (row < nodes) {
                by_flow = gamma_h * (nodes_[r].base.per_liquid * s.liquid + nodes_[r].base.per_gas * s.gas);
                by_donor = gamma_h * nodes_[r].base.per_gas * s.gas_per_pressure;
            }
            const auto add = [&](std::ptrdiff_t column, double value) {
                if (column < 0 || value == 0.0) return;
                if (column == row) matrix_.add_diagonal(r, value);
                else matrix_.add(static_cast<std::size_t>(edge_link_[e]), r, value);
            };
            add(s.up, sign * by_flow * s.by_up);
            add(s.down, -sign * by_flow * s.by_down);
            add(s.donor, sign * by_donor);
        };
        put(s.up, 1.0);
        put(s.down, -1.0);
    }
    for (std::size_t j = 0; j < junction_edges_.size(); ++j)
        if (junction_edges_[j].empty()) matrix_.add_diagonal(nodes_.size() + j, 1.0);
    matrix_.factor();
}

void Assembly::solve(double gamma_h, const Eigen::VectorXd& r, Eigen::VectorXd& k) {
    const std::size_t m = edges_.size();
    unknown_.setZero();
    const auto nodes = static_cast<std::ptrdiff_t>(nodes_.size());
    for (std::size_t e = 0; e < m; ++e) {
        const auto put = [&](std::ptrdiff_t row, double sign) {
            if (row < 0 || row >= nodes) return;
            const Pressure& p = nodes_[static_cast<std::size_t>(row)].base;
            unknown_[row] += sign * gamma_h * (p.per_liquid * r[at(e)] + p.per_gas * r[at(m + e)]);
        };
        put(slopes_[e].up, -1.0);
        put(slopes_[e].down, 1.0);
    }
    for (std::size_t a = 0; a < coupled_.size(); ++a) {
        const double rod = gamma_h * r[at(2 * m + a)] / (1.0 - gamma_h * coupled_[a].rod_self);
        for (std::size_t j = 0; j < coupled_[a].n; ++j) unknown_[at(chamber_node_[a][j])] += coupled_[a].per_rod[j] * rod;
    }
    for (std::size_t w = 0; w < warm_.size(); ++w) unknown_[at(warm_[w].node)] += warm_[w].per_theta * lag_of(warm_[w], gamma_h) * r[at(first_warm() + w)];
    matrix_.solve(unknown_);
    k.resize(at(size()));
    for (std::size_t e = 0; e < m; ++e) {
        const Slopes& s = slopes_[e];
        const double up = s.up >= 0 ? s.by_up * unknown_[s.up] : 0.0, down = s.down >= 0 ? s.by_down * unknown_[s.down] : 0.0;
        const double donor = s.donor >= 0 ? unknown_[s.donor] : 0.0;
        k[at(e)] = gamma_h * (r[at(e)] + s.liquid * (up - down));
        k[at(m + e)] = gamma_h * (r[at(m + e)] + s.gas * (up - down) + s.gas_per_pressure * donor);
    }
    for (std::size_t a = 0; a < coupled_.size(); ++a) {
        double gain = 0.0;
        for (std::size_t j = 0; j < coupled_[a].n; ++j) gain += coupled_[a].rod_gain[j] * unknown_[at(chamber_node_[a][j])];
        k[at(2 * m + a)] = gamma_h * (gain + r[at(2 * m + a)]) / (1.0 - gamma_h * coupled_[a].rod_self);
    }
    for (std::size_t i = 0; i < warm_.size(); ++i) {
        const Warm& w = warm_[i];
        k[at(first_warm() + i)] = lag_of(w, gamma_h) * (r[at(first_warm() + i)] + w.wall_by_pressure / w.time_constant * unknown_[at(w.node)]);
    }
    balance_junctions(k);
}

/// A junction holds nothing: what its inflows bring beyond its outflows goes to the outflows.
void Assembly::balance_junctions(Eigen::VectorXd& k) const {
    const std::size_t m = edges_.size();
    for (std::size_t j = 0; j < junction_edges_.size(); ++j) {
        const auto& around = junction_edges_[j];
        double liquid = 0.0, gas = 0.0, weight = 0.0;
        const auto leaves = [&](std::size_t e) { return (edges_[e].up.site == Site::junction && edges_[e].up.index == j) == slopes_[e].forward; };
        for (const std::size_t e : around) {
            const double sign = edges_[e].up.site == Site::junction && edges_[e].up.index == j ? -1.0 : 1.0;
            liquid += sign * k[at(e)];
            gas += sign * k[at(m + e)];
            if (leaves(e)) weight += slopes_[e].weight;
        }
        for (const std::size_t e : around) {
            const double sign = edges_[e].up.site == Site::junction && edges_[e].up.index == j ? 1.0 : -1.0;
            const double share = weight > 0.0 ? (leaves(e) ? slopes_[e].weight / weight : 0.0) : 1.0 / static_cast<double>(around.size());
            k[at(e)] += sign * share * liquid;
            k[at(m + e)] += sign * share * gas;
        }
    }
}

double Assembly::error(const Eigen::VectorXd& e, const Eigen::VectorXd&) const {
    const std::size_t m = edges_.size();
    constexpr double rod_scale = 1e-2;     // [m]
    constexpr double gas_floor = 1e-8;     // free air that is not resolved relatively [m^3]
    liquid_error_.assign(nodes_.size(), 0.0);
    gas_error_.assign(nodes_.size(), 0.0);
    for (std::size_t i = 0; i < m; ++i) {
        const auto put = [&](std::ptrdiff_t row, double sign) {
            if (row < 0 || row >= static_cast<std::ptrdiff_t>(nodes_.size())) return;
            liquid_error_[static_cast<std::size_t>(row)] += sign * e[at(i)];
            gas_error_[static_cast<std::size_t>(row)] += sign * e[at(m + i)];
        };
        put(slopes_[i].up, -1.0);
        put(slopes_[i].down, 1.0);
    }
    double worst = 0.0;
    pressure_error_.resize(nodes_.size());
    for (std::size_t i = 0; i < nodes_.size(); ++i)
        pressure_error_[i] = nodes_[i].base.per_liquid * liquid_error_[i] + nodes_[i].base.per_gas * gas_error_[i];
    for (std::size_t w = 0; w < warm_.size(); ++w) pressure_error_[warm_[w].node] += warm_[w].per_theta * e[at(first_warm() + w)];
    for (std::size_t k = 0; k < coupled_.size(); ++k) {  // a piston that slides shares an error between its chambers
        const Coupled& c = coupled_[k];
        if (c.n < 2) continue;
        double &first = pressure_error_[chamber_node_[k][0]], &second = pressure_error_[chamber_node_[k][1]];
        const double determinant = c.inverse[0][0] * c.inverse[1][1] - c.inverse[0][1] * c.inverse[1][0];
        const double a = (c.inverse[1][1] * first - c.inverse[0][1] * second) / determinant;
        const double b = (c.inverse[0][0] * second - c.inverse[1][0] * first) / determinant;
        first = a;
        second = b;
    }
    for (std::size_t i = 0; i < nodes_.size(); ++i) {
        const Node& n = nodes_[i];
        const double pressure = pressure_error_[i];
        worst = std::max(worst, std::abs(pressure) / (n.base.p + standard_atmosphere));
        worst = std::max(worst, std::abs(gas_error_[i]) / (n.start.gas + gas_floor));
        if (n.base.void_open) worst = std::max(worst, std::abs(liquid_error_[i]) / (1e-2 * n.capacity));
        if (!std::isfinite(pressure)) return std::numeric_limits<double>::infinity();
    }
    for (std::size_t a = 0; a < rod_start_.size(); ++a) worst = std::max(worst, std::abs(e[at(2 * m + a)]) / rod_scale);
    return worst / settings_.tolerance;
}

}  // namespace clearstroke
