/// Linear algebra of an Assembly: the matrix of the pressures for one gamma h, and a stage's solution.
#include <algorithm>
#include <span>

#include "sim/assembly.hpp"

namespace clearstroke {
namespace {

Eigen::Index at(std::size_t i) { return static_cast<Eigen::Index>(i); }

} // namespace

void Assembly::prepare(double gamma_h) {
    matrix_.set_zero();
    for (std::size_t i = 0; i < nodes_.size(); ++i) matrix_.add(matrix_.diagonal(i), 1.0);
    prepare_actuators(gamma_h);
    for (const Warm& w : warm_)
        matrix_.add(matrix_.diagonal(w.node),
                    -w.per_theta * lag_of(w, gamma_h) * w.wall_by_pressure / w.time_constant);
    prepare_liquid(gamma_h);
    prepare_others(gamma_h);
    for (std::size_t j = 0; j < junction_edges_.size(); ++j)
        if (junction_edges_[j].empty()) matrix_.add(matrix_.diagonal(nodes_.size() + j), 1.0);
    matrix_.factor();
}

void Assembly::prepare_actuators(double gamma_h) {
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
}

void Assembly::prepare_liquid(double gamma_h) {
    for (LiquidPath& path : liquid_paths_) {
        const Row &up = rows_[path.up], &down = rows_[path.down];
        const Entries& to = entries_[path.edge];
        path.up_liquid = gamma_h * up.per_liquid;
        path.down_liquid = gamma_h * down.per_liquid;
        const double from = (path.up_liquid + up.per_flow) * path.slope,
                     into = (path.down_liquid + down.per_flow) * path.slope;
        matrix_.add(to.up_up, from);
        matrix_.add(to.up_down, -from);
        matrix_.add(to.down_up, -into);
        matrix_.add(to.down_down, into);
    }
}

void Assembly::prepare_others(double gamma_h) {
    weights_.resize(edges_.size());
    if (!moving_.empty()) find_stage_slopes(gamma_h);
    const std::vector<Slopes>& slopes = stage_slopes();
    for (const std::size_t e : other_edges_) {
        const Slopes& s = slopes[e];
        const Row &up = rows_[s.up], &down = rows_[s.down];
        const Entries& to = entries_[e];
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
}

/// What a stage's rates of liquid and gas in the edges do to the pressures of the spots, into unknown_.
void Assembly::gather_rates(const double* liquid, const double* gas) {
    const std::span<double> unknown(unknown_);
    for (const LiquidPath& path : liquid_paths_) {
        unknown[path.up] -= path.up_liquid * liquid[path.edge];
        unknown[path.down] += path.down_liquid * liquid[path.edge];
    }
    const std::span<const Slopes> slopes(stage_slopes());
    const std::span<const Weights> weights(weights_);
    for (const std::size_t e : other_edges_) {
        const Weights& w = weights[e];
        unknown[slopes[e].up] -= w.up_liquid * liquid[e] + w.up_gas * gas[e];
        unknown[slopes[e].down] += w.down_liquid * liquid[e] + w.down_gas * gas[e];
    }
}

/// What passes the edges in a stage, once the changes of all pressures are known.
void Assembly::pass_stage(double gamma_h, const double* liquid_in, const double* gas_in, double* liquid_out,
                          double* gas_out) const {
    const std::span<const double> unknown(unknown_);
    for (const LiquidPath& path : liquid_paths_) {
        const double across = unknown[path.up] - unknown[path.down];
        liquid_out[path.edge] = gamma_h * (liquid_in[path.edge] + path.slope * across);
        gas_out[path.edge] = 0.0;
    }
    const std::span<const Slopes> slopes(stage_slopes());
    const std::span<const Weights> weights(weights_);
    for (const std::size_t e : other_edges_) {
        const Slopes& s = slopes[e];
        const double up = unknown[s.up], down = unknown[s.down], across = s.by_up * up - s.by_down * down;
        const double gas =
            weights[e].gas * (gas_in[e] + s.gas * across + s.gas_by_up * up + s.gas_by_down * down);
        gas_out[e] = gas;
        liquid_out[e] = gamma_h * (liquid_in[e] + s.liquid * across + s.thinned * gas);
    }
}

void Assembly::solve(double gamma_h, const Eigen::VectorXd& r, Eigen::VectorXd& k) {
    const std::size_t m = edges_.size();
    k.resize(at(size()));
    std::ranges::fill(unknown_, 0.0);
    const double *liquid_in = moving_.empty() ? r.data() : force_columns(r), *gas_in = liquid_in + m;
    gather_rates(liquid_in, gas_in);
    for (std::size_t a = 0; a < coupled_.size(); ++a) {
        const double rod = gamma_h * r[at(2 * m + a)] / (1.0 - gamma_h * coupled_[a].rod_self);
        for (std::size_t j = 0; j < coupled_[a].n; ++j)
            unknown_[chamber_node_[a][j]] += coupled_[a].per_rod[j] * rod;
    }
    for (std::size_t w = 0; w < warm_.size(); ++w)
        unknown_[warm_[w].node] += warm_[w].per_theta * lag_of(warm_[w], gamma_h) * r[at(first_warm() + w)];
    matrix_.solve(std::span(unknown_).first(matrix_.size()));
    pass_stage(gamma_h, liquid_in, gas_in, k.data(), k.data() + m);
    for (std::size_t a = 0; a < coupled_.size(); ++a) {
        double gain = 0.0;
        for (std::size_t j = 0; j < coupled_[a].n; ++j)
            gain += coupled_[a].rod_gain[j] * unknown_[chamber_node_[a][j]];
        k[at(2 * m + a)] = gamma_h * (gain + r[at(2 * m + a)]) / (1.0 - gamma_h * coupled_[a].rod_self);
    }
    for (std::size_t i = 0; i < warm_.size(); ++i) {
        const Warm& w = warm_[i];
        k[at(first_warm() + i)] =
            lag_of(w, gamma_h) *
            (r[at(first_warm() + i)] + w.wall_by_pressure / w.time_constant * unknown_[w.node]);
    }
    for (std::size_t c = 0; c < moving_.size(); ++c) {
        const Slopes& s = stage_slopes()[moving_[c].edge];
        const double across = s.by_up * unknown_[s.up] - s.by_down * unknown_[s.down];
        k[at(first_column() + c)] = s.flow * (across + moving_[c].inertance * r[at(first_column() + c)]);
    }
    balance_junctions(k);
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

} // namespace clearstroke
