/// Engine: hands what crossed the border in a step to ledger, reservoirs and meter.
#include <algorithm>
#include <cmath>
#include <numeric>

#include "sim/engine.hpp"

namespace clearstroke {
namespace {

Eigen::Index at(std::size_t i) { return static_cast<Eigen::Index>(i); }

} // namespace

/// What the flow of liquid through a screw leaves in its volume [m^3 free air]: what stands above its reach.
double Engine::kept_by(const Edge& screw, double flow) const {
    const EdgeEnd& opening = screw.up;
    const VolumeLayout& place = layout_->volumes[opening.index];
    const double reach = assembly_.reach_of(opening, std::max(flow, 0.0));
    return air_above(net_.volumes[opening.index], place, place.ports[opening.port].top_in_cavity + reach,
                     assembly_.nodes()[opening.index].pressure.p);
}

/// What an opening of a reservoir gave; less than nothing when it took.
void Engine::draw(State& s, const Edge& edge, const Parcel& p, Meter* meter) {
    s.reservoirs[edge.up.index].liquid[static_cast<std::size_t>(edge.up.chamber)] -= p.liquid;
    s.ledger.drawn += p.liquid;
    (p.gas > 0.0 ? s.ledger.gas_in : s.ledger.gas_out) += std::abs(p.gas);
    s.ledger.leaked_in += std::max(p.gas, 0.0);
    if (!meter) return;
    meter->drawn += p.liquid;
    meter->gas_in_reservoir += std::max(-p.gas, 0.0);
}

/// Air past a thread, a joint or the fit of the hose.
void Engine::leak_in(State& s, const Edge& edge, double gas, Meter* meter) {
    s.ledger.gas_in += gas;
    s.ledger.leaked_in += gas;
    if (edge.down.site != Site::hose_cell) return;
    s.ledger.leaked_to_hose += gas;
    if (meter && meter->screw && meter->screw->index == edge.part) meter->gas_in_hose += gas;
}

/// What left through a screw: of the watched one for the stroke's record, of any for the least that its flow left behind.
void Engine::watch_screw(State& s, std::size_t e, const Parcel& p, double dt, Meter* meter) const {
    const Edge& edge = assembly_.edges()[e];
    if (edge.up.site == Site::volume && edge.up.mixed) {
        double& least = s.volumes[edge.up.index].least_kept;
        least = std::min(least, kept_by(edge, p.liquid / dt));
    }
    if (!meter || !meter->screw || meter->screw->index != edge.part) return;
    meter->liquid_out += p.liquid;
    meter->gas_out += p.gas;
    meter->gas_in_hose += std::max(p.gas, 0.0);
    meter->hose_through += std::max(p.liquid, 0.0) + std::max(p.gas, 0.0);
    meter->peak_flow = std::max(meter->peak_flow, std::abs(assembly_.passed(z_, e)) / dt);
    const double fresh = edge.up.site == Site::volume ? fresh_leaving(s, edge.up.index)
                                                      : fresh_into(s, JunctionId{edge.up.index});
    meter->fresh_out += std::max(p.liquid, 0.0) * fresh;
}

/// Above its divider a reservoir's chambers stand level.
void Engine::level_reservoirs(State& s) const {
    for (std::size_t r = 0; r < s.reservoirs.size(); ++r) {
        auto& chambers = s.reservoirs[r].liquid;
        const Reservoir& part = net_.reservoirs[r];
        const double sum = std::accumulate(chambers.begin(), chambers.end(), 0.0);
        if (sum / part.area > part.divider_height)
            std::ranges::fill(chambers, sum / static_cast<double>(chambers.size()));
        s.ledger.lowest_level = std::min(s.ledger.lowest_level, sum);
    }
}

void Engine::keep_ledger(State& s, double dt, Meter* meter) {
    const auto& edges = assembly_.edges();
    for (const std::size_t e : assembly_.border_edges()) {
        const Parcel p{z_[at(e)], z_[at(edges.size() + e)]};
        const Edge& edge = edges[e];
        if (edge.up.site == Site::reservoir) draw(s, edge, p, meter);
        if (edge.kind == Edge::Kind::thread) leak_in(s, edge, p.gas, meter);
        if (edge.down.site == Site::bottle || edge.down.site == Site::ambient) {
            if (edge.kind != Edge::Kind::leak) s.bottle += p.liquid;
            s.ledger.liquid_out += p.liquid;
            (p.gas > 0.0 ? s.ledger.gas_out : s.ledger.gas_in) += std::abs(p.gas);
        }
        if (edge.kind == Edge::Kind::screw) watch_screw(s, e, p, dt, meter);
    }
    if (meter)
        for (const Node& n : assembly_.nodes())
            if (n.site != Site::hose_cell)
                meter->lowest_pressure = std::min(meter->lowest_pressure, n.base.p);
    level_reservoirs(s);
}

} // namespace clearstroke
