/// Engine: how old and fresh fluid go with what passed.
#include <algorithm>
#include <cmath>

#include "sim/engine.hpp"

namespace clearstroke {
namespace {

constexpr double stream_share = 0.02; // of a line's volume passes before its streams are moved
constexpr double remix_share = 0.05;  // of a line's volume as gas remixes its streams

Eigen::Index at(std::size_t i) { return static_cast<Eigen::Index>(i); }
bool is_cell(const EdgeEnd& e) { return e.site == Site::cell || e.site == Site::hose_cell; }

} // namespace

/// Share of fresh that leaves a volume: `stirred` of it mixes, the rest is displaced in order.
double Engine::fresh_leaving(const State& s, std::size_t volume) const {
    const double stirred = net_.conditions.stirred, mean = s.volumes[volume].fresh;
    return stirred >= 1.0 ? mean : std::clamp((mean - (1.0 - stirred)) / std::max(stirred, 1e-9), 0.0, 1.0);
}

double Engine::fresh_into(const State& s, const End& end) const {
    if (const auto* p = std::get_if<PortRef>(&end)) return fresh_leaving(s, p->volume.index);
    const auto* j = std::get_if<JunctionId>(&end);
    if (!j) return 0.0;
    double flow = 0.0, fresh = 0.0;
    for (const std::size_t e : assembly_.junction_edges()[j->index]) {
        const Edge& edge = assembly_.edges()[e];
        const bool into = (edge.down.site == Site::junction) == (edge.q > 0.0);
        if (!into || edge.kind != Edge::Kind::line) continue;
        flow += std::abs(edge.q);
        fresh += std::abs(edge.q) * s.streams[edge.line].leaving(edge.q > 0.0);
    }
    return flow > 0.0 ? fresh / flow : 0.0;
}

/// A volume takes in what its neighbour gives.
void Engine::freshen(State& s, const Edge& edge, const EdgeEnd& end, const EdgeEnd& giver,
                     double liquid) const {
    if (end.site != Site::volume) return;
    const double own = fresh_leaving(s, end.index);
    const double incoming = edge.kind == Edge::Kind::line   ? s.streams[edge.line].leaving(&end == &edge.down)
                            : giver.site == Site::reservoir ? s.reservoirs[giver.index].fresh
                            : giver.site == Site::volume    ? fresh_leaving(s, giver.index)
                            : edge.kind == Edge::Kind::screw && s.hose && s.hose->fresh
                                ? 1.0
                                : own; // the hose gives back what it just took
    VolumeState& v = s.volumes[end.index];
    v.fresh += std::min(liquid / std::max(v.liquid, 1e-12), 1.0) * (incoming - own);
    v.fresh = std::clamp(v.fresh, 0.0, 1.0);
}

void Engine::transport(State& s, bool flush) {
    const auto& edges = assembly_.edges();
    const std::size_t m = edges.size();
    std::vector<double>& pending = line_flow_;
    std::ranges::fill(line_moved_, 0.0);
    if (!flush)
        for (std::size_t e = 0; e < m; ++e) {
            const Edge& edge = edges[e];
            const double liquid = z_[at(e)];
            if (edge.kind == Edge::Kind::line && edge.up.site != Site::hose_cell &&
                !(is_cell(edge.up) && is_cell(edge.down))) {
                pending[edge.line] += 0.5 * liquid;
                line_moved_[edge.line] += 0.5 * (liquid + z_[at(m + e)]);
            }
            if (liquid > 0.0) freshen(s, edge, edge.down, edge.up, liquid);
            if (liquid < 0.0) freshen(s, edge, edge.up, edge.down, -liquid);
            if (edge.up.site == Site::reservoir && liquid < 0.0) {
                ReservoirState& r = s.reservoirs[edge.up.index];
                double held = 0.0;
                for (const double c : r.liquid) held += c;
                r.fresh += std::min(-liquid / std::max(held, 1e-12), 1.0) *
                           (fresh_leaving(s, assembly_.nodes()[edge.down.index].volume) - r.fresh);
            }
        }
    for (std::size_t l = 0; l < net_.lines.size(); ++l) {
        const double volume = layout_->lines[l].volume;
        if (pending[l] != 0.0 && (flush || std::abs(pending[l]) > stream_share * volume)) {
            const End& source = pending[l] > 0.0 ? net_.lines[l].from : net_.lines[l].to;
            s.streams[l].move(pending[l], fresh_into(s, source));
            pending[l] = 0.0;
        }
        for (const Cell& c : s.lines[l])
            if (c.gas > 0.0)
                line_gas_[l] +=
                    std::abs(line_moved_[l]) * c.gas * standard_atmosphere / (c.pressure * volume);
        if (line_gas_[l] > remix_share * volume) {
            s.streams[l].remix();
            line_gas_[l] = 0.0;
        }
        if (flush) line_gas_[l] = 0.0;
    }
}

} // namespace clearstroke
