/// Engine: no node gives more than it has.
#include <algorithm>
#include <cmath>

#include "sim/engine.hpp"

namespace clearstroke {
namespace {

constexpr double rounding = 1e-14;

Eigen::Index at(std::size_t i) { return static_cast<Eigen::Index>(i); }

} // namespace

/// Whether a node may give more than it has and gets: by what it holds where the step ends, as find_pressures left it.
bool Engine::may_run_short() const {
    return std::ranges::any_of(assembly_.nodes(), [](const Node& n) {
        return n.now.liquid < 0.0 || n.now.gas < 2.0 * n.held; // well above what rounding makes of it
    });
}

/// No node gives more gas or liquid than it has and gets: the last trace of a phase is shared out.
bool Engine::limit_outflows() {
    if (!may_run_short()) return false;
    const bool liquid = limit_outflows(0, &Filling::liquid);
    const bool gas = limit_outflows(assembly_.edges().size(), &Filling::gas);
    return liquid || gas;
}

bool Engine::limit_outflows(std::size_t first, double Filling::*phase) {
    const auto& edges = assembly_.edges();
    const auto& nodes = assembly_.nodes();
    constexpr int most_passes = 16; // a scaled outflow is another node's inflow
    for (int pass = 0; pass < most_passes; ++pass) {
        gives_.assign(assembly_.spots(), 0.0);
        for (std::size_t i = 0; i < nodes.size(); ++i)
            has_[i] =
                nodes[i].start.*phase - (phase == &Filling::gas ? nodes[i].held - nodes[i].dispersed : 0.0);
        for (std::size_t e = 0; e < edges.size(); ++e) {
            const double x = z_[at(first + e)];
            if (x == 0.0) continue;
            const std::size_t up = edges[e].up.spot, down = edges[e].down.spot;
            gives_[x > 0.0 ? up : down] += std::abs(x);
            has_[x > 0.0 ? down : up] += std::abs(x);
        }
        bool short_of = false;
        for (std::size_t i = 0; i < nodes.size(); ++i) {
            has_[i] = std::max(has_[i], 0.0);
            short_of = short_of || gives_[i] > has_[i] * (1.0 + rounding);
        }
        if (!short_of) return pass > 0;
        for (std::size_t e = 0; e < edges.size(); ++e) {
            double& x = z_[at(first + e)];
            const std::size_t from = (x >= 0.0 ? edges[e].up : edges[e].down).spot;
            if (from < nodes.size() && gives_[from] > has_[from] * (1.0 + rounding))
                x *= has_[from] / gives_[from];
        }
        balance_junctions_after_limits(first);
    }
    return true;
}

/// What a junction gets less, it gives less.
void Engine::balance_junctions_after_limits(std::size_t first) {
    const auto& edges = assembly_.edges();
    for (std::size_t j = 0; j < assembly_.junction_edges().size(); ++j) {
        double net = 0.0, out = 0.0;
        const auto into = [&](std::size_t e) {
            return edges[e].down.site == Site::junction && edges[e].down.index == j ? 1.0 : -1.0;
        };
        for (const std::size_t e : assembly_.junction_edges()[j]) {
            const double x = into(e) * z_[at(first + e)];
            net += x;
            if (x < 0.0) out -= x;
        }
        if (out <= 0.0) continue;
        for (const std::size_t e : assembly_.junction_edges()[j])
            if (double& x = z_[at(first + e)]; into(e) * x < 0.0) x += x * (net / out);
    }
}

} // namespace clearstroke
