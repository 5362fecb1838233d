/// Linear algebra of an Assembly: slopes, the pressure solve, and the norm of an error.
#include <algorithm>
#include <cmath>
#include <limits>
#include <span>

#include "sim/assembly.hpp"

namespace clearstroke {
namespace {

constexpr double least_rate = 10.0; // spring rate that keeps two chambers apart in the linear form [N/m]

Eigen::Index at(std::size_t i) { return static_cast<Eigen::Index>(i); }

} // namespace

Assembly::Coupled Assembly::coupled(std::size_t k) const {
    const Actuator& a = net_.actuators[k];
    const Linkage& link = linkages_[k];
    const ActuatorPoint& point = points_[k];
    Coupled out;
    out.n = a.pistons.size();
    const bool slides =
        point.slides || (point.on_the_brink && slid_[k]); // goes on sliding as in the last step
    const double held_u_x = slides ? 0.0 : point.carries(rod_speed_[k]);
    std::array<double, 2> c{};
    double softness = 0.0, stiffness = 0.0, rod_to_u = 0.0;
    for (std::size_t j = 0; j < out.n; ++j) {
        const double rate = a.pistons[j].spring.rate + least_rate;
        const double arm = link.e[j] + link.f[j] * held_u_x; // dF/dT_j of (M-4)
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
            for (std::size_t i = 0; i < out.n; ++i)
                out.inverse[j][i] += c[j] * link.f[j] * link.f[i] * a.pistons[i].area / softness;
    for (std::size_t j = 0; j < out.n; ++j)
        for (std::size_t i = 0; i < out.n; ++i) out.per_rod[j] += out.inverse[j][i] * direct[i];
    return out;
}

/// How fast a volume that gives gas gives less of it as it empties: |q| d alpha/dN [1/s].
double Assembly::thinning(const Edge& e) const {
    constexpr double slightly = 1e-3; // change of the gas, relative
    const EdgeEnd& donor = e.from_up ? e.up : e.down;
    if (donor.site != Site::volume || !donor.mixed || nodes_[donor.index].now.gas <= nodes_[donor.index].held)
        return 0.0;
    const Node& n = nodes_[donor.index];
    const double less = (1.0 - slightly) * n.pressure.gas_volume;
    double share = share_drawn(donor, less, interface_in(n, less));
    if (n.dispersed > 0.0) share = with_bubbles(n, share);
    return std::abs(e.q) * (e.alpha - share) / (slightly * n.now.gas);
}

void Assembly::linearise(const Eigen::VectorXd& z, Eigen::VectorXd& f) {
    evaluate(z, f, !given_, true);
    for (std::size_t i = 0; i < nodes_.size(); ++i) {
        Node& n = nodes_[i];
        n.base = n.pressure;
        n.at_base = n.now;
        rows_[i] = {n.base.per_liquid, n.base.per_gas, 0.0};
    }
    if (at_start_) {
        first_rates_ = f;
        base_points_ = points_;
        for (MovingColumn& c : moving_) c.first_rate = c.rate;
        for (Node& n : nodes_) n.guess = n.pressure.p;
    }
    at_start_ = false;
    for (std::size_t i = 0; i < edges_.size(); ++i)
        if (edges_[i].of_liquid_alone) slopes_[i].liquid = slopes_[i].flow = edges_[i].slope;
    for (const std::size_t i : other_edges_) {
        const Edge& e = edges_[i];
        Slopes& s = slopes_[i];
        s = {e.slope,   0.0, e.slope, 0.0,       0.0,         e.by_up,
             e.by_down, 0.0, 0.0,     e.up.spot, e.down.spot, e.liquid_only};
        if (e.alpha == 0.0 && e.gas == 0.0) continue;
        // X of (N-4) exchanges equal volumes, so pressures hardly feel it: left out of the slopes.
        s.gas_per_volume = e.donor_pressure / standard_atmosphere;
        s.liquid = (1.0 - e.alpha) * e.slope;
        s.gas = e.alpha * s.gas_per_volume * e.slope;
        const bool from_up = e.at_junction ? e.leaves_junction : e.from_up;
        (from_up ? s.gas_by_up : s.gas_by_down) = e.donor_pressure > 0.0 ? e.gas / e.donor_pressure : 0.0;
        s.thinned = thinning(e);
    }
    share_outflows();
    for (Warm& w : warm_) {
        const Node& n = nodes_[w.node];
        w.per_theta = n.base.gas_volume / (n.now.theta * n.base.softness);
    }
    coupled_.clear();
    for (std::size_t k = 0; k < net_.actuators.size(); ++k) coupled_.push_back(coupled(k));
}

void Assembly::prepare(double gamma_h) {
    matrix_.set_zero();
    for (std::size_t i = 0; i < nodes_.size(); ++i) matrix_.add(matrix_.diagonal(i), 1.0);
    for (std::size_t k = 0; k < coupled_.size(); ++k) {
        const Coupled& c = coupled_[k];
        const Entries& to = actuator_entries_[k];
        const double rod = gamma_h / (1.0 - gamma_h * c.rod_self);
        const auto value = [&](std::size_t j, std::size_t i) {
            return c.inverse[j][i] - c.per_rod[j] * rod * c.rod_gain[i];
        };
        matrix_.add(to.up_up, value(0, 0) - 1.0);
        if (c.n < 2) continue;
        matrix_.add(to.up_down, value(0, 1));
        matrix_.add(to.down_up, value(1, 0));
        matrix_.add(to.down_down, value(1, 1) - 1.0);
    }
    for (const Warm& w : warm_)
        matrix_.add(matrix_.diagonal(w.node),
                    -w.per_theta * lag_of(w, gamma_h) * w.wall_by_pressure / w.time_constant);
    weights_.resize(edges_.size());
    if (!moving_.empty()) find_stage_slopes(gamma_h);
    const std::vector<Slopes>& slopes = stage_slopes();
    for (std::size_t e = 0; e < edges_.size(); ++e) {
        const Slopes& s = slopes[e];
        const Row &up = rows_[s.up], &down = rows_[s.down];
        const Entries& to = entries_[e];
        if (s.liquid_only) {
            const Weights w{gamma_h * up.per_liquid, 0.0, gamma_h * down.per_liquid, 0.0, 0.0};
            weights_[e] = w;
            const double from = w.up_liquid * s.liquid + up.per_flow * s.flow,
                         into = w.down_liquid * s.liquid + down.per_flow * s.flow;
            matrix_.add(to.up_up, from * s.by_up);
            matrix_.add(to.up_down, -from * s.by_down);
            matrix_.add(to.down_up, -into * s.by_up);
            matrix_.add(to.down_down, into * s.by_down);
            continue;
        }
        // A drain that thins the donor's gas gives less of it by the end of the step, and liquid in its place.
        const double refilled = gamma_h * s.thinned, gas = gamma_h / (1.0 + refilled * s.gas_per_volume);
        const Weights w{gamma_h * up.per_liquid, (up.per_gas + refilled * up.per_liquid) * gas,
                        gamma_h * down.per_liquid, (down.per_gas + refilled * down.per_liquid) * gas, gas};
        weights_[e] = w;
        const double from = w.up_liquid * s.liquid + w.up_gas * s.gas + up.per_flow * s.flow;
        const double into = w.down_liquid * s.liquid + w.down_gas * s.gas + down.per_flow * s.flow;
        matrix_.add(to.up_up, from * s.by_up + w.up_gas * s.gas_by_up);
        matrix_.add(to.up_down, -from * s.by_down + w.up_gas * s.gas_by_down);
        matrix_.add(to.down_up, -into * s.by_up - w.down_gas * s.gas_by_up);
        matrix_.add(to.down_down, into * s.by_down - w.down_gas * s.gas_by_down);
    }
    for (std::size_t j = 0; j < junction_edges_.size(); ++j)
        if (junction_edges_[j].empty()) matrix_.add(matrix_.diagonal(nodes_.size() + j), 1.0);
    matrix_.factor();
}

void Assembly::solve(double gamma_h, const Eigen::VectorXd& r, Eigen::VectorXd& k) {
    const std::size_t m = edges_.size();
    k.resize(at(size()));
    std::ranges::fill(unknown_, 0.0);
    // Local views: what is stored in a loop then moves none of them.
    const std::span<const Slopes> slopes(stage_slopes());
    const std::span<const Weights> weights(weights_);
    const std::span<double> unknown(unknown_);
    const double *liquid_in = moving_.empty() ? r.data() : force_columns(r), *gas_in = liquid_in + m;
    double *liquid_out = k.data(), *gas_out = liquid_out + m;
    for (std::size_t e = 0; e < m; ++e) {
        const Slopes& s = slopes[e];
        const Weights& w = weights[e];
        if (s.liquid_only) {
            unknown[s.up] -= w.up_liquid * liquid_in[e];
            unknown[s.down] += w.down_liquid * liquid_in[e];
            continue;
        }
        unknown[s.up] -= w.up_liquid * liquid_in[e] + w.up_gas * gas_in[e];
        unknown[s.down] += w.down_liquid * liquid_in[e] + w.down_gas * gas_in[e];
    }
    for (std::size_t a = 0; a < coupled_.size(); ++a) {
        const double rod = gamma_h * r[at(2 * m + a)] / (1.0 - gamma_h * coupled_[a].rod_self);
        for (std::size_t j = 0; j < coupled_[a].n; ++j)
            unknown[chamber_node_[a][j]] += coupled_[a].per_rod[j] * rod;
    }
    for (std::size_t w = 0; w < warm_.size(); ++w)
        unknown[warm_[w].node] += warm_[w].per_theta * lag_of(warm_[w], gamma_h) * r[at(first_warm() + w)];
    matrix_.solve(unknown.first(matrix_.size()));
    for (std::size_t e = 0; e < m; ++e) {
        const Slopes& s = slopes[e];
        const double across = s.by_up * unknown[s.up] - s.by_down * unknown[s.down];
        if (s.liquid_only) {
            gas_out[e] = 0.0;
            liquid_out[e] = gamma_h * (liquid_in[e] + s.liquid * across);
            continue;
        }
        const double gas = weights[e].gas * (gas_in[e] + s.gas * across + s.gas_by_up * unknown[s.up] +
                                             s.gas_by_down * unknown[s.down]);
        gas_out[e] = gas;
        liquid_out[e] = gamma_h * (liquid_in[e] + s.liquid * across + s.thinned * gas);
    }
    for (std::size_t a = 0; a < coupled_.size(); ++a) {
        double gain = 0.0;
        for (std::size_t j = 0; j < coupled_[a].n; ++j)
            gain += coupled_[a].rod_gain[j] * unknown[chamber_node_[a][j]];
        k[at(2 * m + a)] = gamma_h * (gain + r[at(2 * m + a)]) / (1.0 - gamma_h * coupled_[a].rod_self);
    }
    for (std::size_t i = 0; i < warm_.size(); ++i) {
        const Warm& w = warm_[i];
        k[at(first_warm() + i)] =
            lag_of(w, gamma_h) *
            (r[at(first_warm() + i)] + w.wall_by_pressure / w.time_constant * unknown[w.node]);
    }
    for (std::size_t c = 0; c < moving_.size(); ++c) {
        const Slopes& s = slopes[moving_[c].edge];
        const double across = s.by_up * unknown[s.up] - s.by_down * unknown[s.down];
        k[at(first_column() + c)] = s.flow * (across + moving_[c].inertance * r[at(first_column() + c)]);
    }
    balance_junctions(k);
}

/// What changes of inventories, given as pressures by spot, and of rods become of the pressures in chambers: the rod
/// displaces, and a piston that slides shares between its chambers.
void Assembly::displace_chambers(std::vector<double>& pressure, const double* rods) const {
    for (std::size_t k = 0; k < coupled_.size(); ++k) {
        const Coupled& c = coupled_[k];
        for (std::size_t j = 0; j < c.n; ++j) pressure[chamber_node_[k][j]] += c.per_rod[j] * rods[k];
        if (c.n < 2) continue;
        double &first = pressure[chamber_node_[k][0]], &second = pressure[chamber_node_[k][1]];
        const double determinant = c.inverse[0][0] * c.inverse[1][1] - c.inverse[0][1] * c.inverse[1][0];
        const double a = (c.inverse[1][1] * first - c.inverse[0][1] * second) / determinant;
        const double b = (c.inverse[0][0] * second - c.inverse[1][0] * first) / determinant;
        first = a;
        second = b;
    }
}

/// How fast the pressures of all spots change at these rates of z, into unknown_ [Pa/s].
void Assembly::find_pressure_rates(const Eigen::VectorXd& rates) {
    const std::size_t m = edges_.size();
    std::ranges::fill(unknown_, 0.0);
    for (std::size_t e = 0; e < m; ++e) {
        const Row &up = rows_[slopes_[e].up], &down = rows_[slopes_[e].down];
        unknown_[slopes_[e].up] -= up.per_liquid * rates[at(e)] + up.per_gas * rates[at(m + e)];
        unknown_[slopes_[e].down] += down.per_liquid * rates[at(e)] + down.per_gas * rates[at(m + e)];
    }
    displace_chambers(unknown_, &rates[at(2 * m)]);
    for (std::size_t j = 0; j < junction_edges_.size(); ++j) {
        double conductance = 0.0, weighted = 0.0;
        for (const std::size_t e : junction_edges_[j]) {
            const std::size_t up = slopes_[e].up;
            conductance += slopes_[e].flow;
            weighted += slopes_[e].flow * unknown_[up == nodes_.size() + j ? slopes_[e].down : up];
        }
        unknown_[nodes_.size() + j] = conductance > 0.0 ? weighted / conductance : 0.0;
    }
}

/// Who leaves each junction, and what share of its outflow.
void Assembly::share_outflows() {
    for (auto& around : meetings_) {
        double weight = 0.0;
        for (Meeting& x : around) {
            const Edge& e = edges_[x.edge];
            x.share = e.leaves_junction == e.from_up ? e.weight : 0.0;
            weight += x.share;
        }
        for (Meeting& x : around)
            x.share = weight > 0.0 ? x.share / weight : 1.0 / static_cast<double>(around.size());
    }
}

/// A junction holds nothing: what its inflows bring beyond its outflows goes to the outflows.
void Assembly::balance_junctions(Eigen::VectorXd& k) const {
    const std::size_t m = edges_.size();
    const std::span<double> liquid(k.data(), m), gas(k.data() + m, m);
    const auto balance = [](const std::vector<Meeting>& around, std::span<double> passed) {
        double excess = 0.0;
        for (const Meeting& x : around) excess += x.into * passed[x.edge];
        for (const Meeting& x : around) passed[x.edge] -= x.into * x.share * excess;
    };
    for (std::size_t j = 0; j < meetings_.size(); ++j) {
        balance(meetings_[j], liquid);
        if (junction_has_gas_[j]) balance(meetings_[j], gas);
    }
}

double Assembly::error(const Eigen::VectorXd& e, const Eigen::VectorXd&) const {
    const std::size_t m = edges_.size();
    constexpr double rod_scale = 1e-2;    // [m]
    constexpr double least_volume = 1e-8; // of either phase, not resolved relatively [m^3]
    constexpr double least_flow = 1e-6;   // of a column with momentum, as well [m^3/s]
    liquid_error_.assign(rows_.size(), 0.0);
    gas_error_.assign(rows_.size(), 0.0);
    for (std::size_t i = 0; i < m; ++i) {
        const Slopes& s = slopes_[i];
        liquid_error_[s.up] -= e[at(i)];
        liquid_error_[s.down] += e[at(i)];
        if (s.liquid_only) continue;
        gas_error_[s.up] -= e[at(m + i)];
        gas_error_[s.down] += e[at(m + i)];
    }
    double worst = 0.0;
    pressure_error_.resize(nodes_.size());
    for (std::size_t i = 0; i < nodes_.size(); ++i)
        pressure_error_[i] =
            nodes_[i].base.per_liquid * liquid_error_[i] + nodes_[i].base.per_gas * gas_error_[i];
    for (std::size_t w = 0; w < warm_.size(); ++w)
        pressure_error_[warm_[w].node] += warm_[w].per_theta * e[at(first_warm() + w)];
    displace_chambers(pressure_error_, &e[at(2 * m)]);
    for (std::size_t i = 0; i < nodes_.size(); ++i) {
        const Node& n = nodes_[i];
        const double pressure = pressure_error_[i];
        // Cells beside gas are exempt: what stands at their ends goes by flows of stiff lumps.
        const double floor =
            n.site == Site::volume || (n.whole_line && n.start.gas <= 0.0) ? least_volume : 0.0;
        worst =
            std::max(worst, std::abs(pressure) / (n.base.p + standard_atmosphere + floor / n.base.softness));
        if (!n.liquid_only) worst = std::max(worst, std::abs(gas_error_[i]) / (n.start.gas + least_volume));
        if (n.base.void_open) worst = std::max(worst, std::abs(liquid_error_[i]) / (1e-2 * n.capacity));
        if (!std::isfinite(pressure)) return std::numeric_limits<double>::infinity();
    }
    for (std::size_t a = 0; a < rod_start_.size(); ++a)
        worst = std::max(worst, std::abs(e[at(2 * m + a)]) / rod_scale);
    for (std::size_t c = 0; c < moving_.size(); ++c)
        worst =
            std::max(worst, std::abs(e[at(first_column() + c)]) / (std::abs(moving_[c].start) + least_flow));
    return worst / settings_.tolerance;
}

} // namespace clearstroke
