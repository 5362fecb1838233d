/// Flows of an Assembly, and its rates.
#include "sim/assembly.hpp"

#include <algorithm>
#include <cmath>
#include <limits>

#include "models/long_bubble.hpp"

namespace clearstroke {
namespace {

constexpr double reversal_band =
    100.0; // pressure over which a hole's filling changes when flow turns, order 2 sigma/r [Pa]

Eigen::Index at(std::size_t i) { return static_cast<Eigen::Index>(i); }

} // namespace

/// (N-2): the restriction is filled with a mixture of this gas share, line ends with what stands in them.
DropLaw Assembly::resistance_of(const Edge& e, double gas_share_in_hole) const {
    const double ends = e.up.resistance + e.down.resistance;
    if (e.up.share == 0.0 && e.down.share == 0.0) return behind(ends, e.of_liquid);
    const double viscosity =
        std::lerp(layout_->liquid.dynamic_viscosity, layout_->gas_viscosity, gas_share_in_hole);
    const double density = std::lerp(layout_->liquid.density, layout_->gas_density, gas_share_in_hole);
    DropLaw law{ends + e.creeping * viscosity, e.inertial * density};
    if (e.kinetic > 0.0) {
        const EdgeEnd& cell = e.up.site == Site::cell || e.up.site == Site::hose_cell ? e.up : e.down;
        law.b += e.kinetic * std::lerp(layout_->liquid.density, layout_->gas_density, cell.share);
    }
    return law;
}

/// What drives flow past a threshold, and by how much its lip has lifted (0: shut, 1: free).
double Assembly::driving(Edge& e, double& opened) const {
    const double up = e.up.pressure, down = e.down.pressure;
    double cracking = e.cracking, lip = e.opening, sign = 1.0;
    if (e.valve) {
        const double ambient = layout_->medium.ambient;
        sign = up >= down ? 1.0 : -1.0;
        const ValveThreshold c = sign > 0.0 ? forward_threshold(*e.valve, up - ambient, down - ambient)
                                            : ValveThreshold{back_threshold(*e.valve), 0.0, 0.0};
        cracking = c.value;
        lip = std::min(e.opening, cracking);
        e.by_up = 1.0 - c.by_in;
        e.by_down = 1.0 + c.by_out;
    } else if (!e.one_way) {
        return up - down;
    }
    const double dp = sign * (up - down) - cracking;
    opened = dp <= 0.0 ? 0.0 : lip > 0.0 ? std::min(dp / lip, 1.0) : 1.0; // the lip lifts over a band: (M-3)
    return sign * (opened < 1.0 ? 0.5 * dp * opened : dp - 0.5 * lip);
}

void Assembly::flow_through(Edge& e) {
    if (e.moving >= 0) {
        see_moving_column(e);
        press_column(e);
        return;
    }
    if (e.carrier >= 0 &&
        edges_[static_cast<std::size_t>(e.carrier)].from_up != (e.down.site == Site::hose_cell)) {
        e.q = e.slope = 0.0;
        return;
    }
    double opened = 1.0, dp = driving(e, opened);
    if (opened == 0.0) {
        e.q = e.slope = 0.0;
        return;
    }
    const double up_share = e.up.share, down_share = e.down.share;
    const double towards_down = e.one_way ? 1.0 : std::clamp(0.5 + 0.5 * dp / reversal_band, 0.0, 1.0);
    const double resisting = std::lerp(down_share, up_share, towards_down);
    const double pushed = dp >= 0.0 ? up_share : down_share;
    if (e.meniscus > 0.0 && pushed > 0.5) dp = std::copysign(std::max(std::abs(dp) - e.meniscus, 0.0), dp);
    const DropLaw law = resistance_of(e, resisting);
    e.q = volume_flow(law, dp);
    e.slope = opened * flow_slope(law, e.q);
    if (e.choke > 0.0 && pushed > 0.5) {
        const double limit = choked_gas_flow_limit(e.choke, 1.0, net_.conditions.temperature);
        if (std::abs(e.q) > limit) {
            e.q = std::copysign(limit, e.q);
            e.slope *= 1e-3;
        }
    }
}

void Assembly::find_junction(std::size_t j) {
    double conductance = 0.0, weighted = 0.0, lightness = 0.0, pushed = 0.0, brought = 0.0;
    for (const std::size_t k : junction_edges_[j]) {
        Edge& e = edges_[k];
        const bool is_up = e.leaves_junction;
        const EdgeEnd& other = is_up ? e.down : e.up;
        if (e.moving >= 0) {
            see_moving_column(e);
            const MovingColumn& c = moving_[static_cast<std::size_t>(e.moving)];
            lightness += 1.0 / c.inertance;
            pushed += (other.pressure + (is_up ? c.drop : -c.drop)) / c.inertance;
            brought += is_up ? -e.q : e.q;
            continue;
        }
        const DropLaw law = resistance_of(e, other.share);
        e.slope = secant_slope(law, e.secant);
        conductance += e.slope;
        weighted += e.slope * other.pressure;
    }
    const double pressure = conductance > 0.0 ? (weighted + brought) / conductance
                            : lightness > 0.0 ? pushed / lightness
                                              : layout_->medium.ambient;
    spot_pressure_[nodes_.size() + j] = pressure;
    for (const std::size_t k : junction_edges_[j]) {
        Edge& e = edges_[k];
        (e.leaves_junction ? e.up : e.down).pressure = pressure;
        if (e.moving >= 0)
            press_column(e);
        else
            e.q = e.slope * (e.up.pressure - e.down.pressure);
    }
}

/// Which end of each edge gives in this step, and what a junction's mixture then is.
void Assembly::choose_donors() {
    for (Edge& e : edges_) {
        e.from_up = e.q >= 0.0;
        e.weight = std::abs(e.q);
    }
}

/// Gives every outflow of a junction its share of the gas that flows in (J-1).
void Assembly::share_at_junction(std::size_t j) {
    double inflow = 0.0, gas = 0.0, weight = 0.0;
    const auto into = [&](const Edge& e) { return !e.leaves_junction == e.from_up; };
    for (const std::size_t k : junction_edges_[j])
        if (const Edge& e = edges_[k]; into(e)) {
            inflow += e.weight;
            gas += e.alpha * e.weight;
        }
    if (gas == 0.0) {
        for (const std::size_t k : junction_edges_[j])
            if (Edge& e = edges_[k]; !into(e)) e.alpha = 0.0;
        return;
    }
    const double mix = inflow > 0.0 ? gas / inflow : 0.0;
    const auto favour = [&](const Edge& e) { return 1.0 + (e.gas_weight - 1.0) * (1.0 - mix); };
    for (const std::size_t k : junction_edges_[j])
        if (const Edge& e = edges_[k]; !into(e)) weight += favour(e) * e.weight;
    for (const std::size_t k : junction_edges_[j])
        if (Edge& e = edges_[k]; !into(e))
            e.alpha = weight > 0.0 ? std::min(favour(e) * gas / weight, 1.0) : mix;
}

void Assembly::split_phases(Edge& e) {
    const EdgeEnd& donor = e.from_up ? e.up : e.down;
    e.ahead = 0.0;
    double extra = e.rise;
    if (e.from_up ? e.ahead_to_down : e.ahead_to_up) {
        const double capillary = layout_->liquid.dynamic_viscosity / layout_->liquid.surface_tension;
        const double area =
            e.up.site == Site::hose_cell ? layout_->hoses[e.line].area : layout_->lines[e.line].area;
        const double nose = edges_[e.from_up ? e.nose_down : e.nose_up].q;
        e.ahead = run_ahead(capillary * std::abs(nose) / area, net_.conditions.run_ahead_scale) - 1.0;
        extra += e.ahead * nose;
    }
    e.donor_pressure = e.at_junction                    ? site_pressure(e.leaves_junction ? e.up : e.down)
                       : e.rise != 0.0 && e.alpha < 0.5 ? site_pressure(e.rise > 0.0 ? e.up : e.down)
                                                        : site_pressure(donor);
    double per_volume = e.donor_pressure / standard_atmosphere;
    if (donor.site == Site::volume && nodes_[donor.index].now.theta > 0.0 &&
        nodes_[donor.index].now.gas > 0.0)
        per_volume = nodes_[donor.index].now.gas / nodes_[donor.index].pressure.gas_volume;
    e.liquid = (1.0 - e.alpha) * e.q - extra;
    e.gas = (e.alpha * e.q + extra) * per_volume;
}

/// Pressures of both ends, if not at a junction, and what stands at them.
void Assembly::see_ends(Edge& e) {
    for (EdgeEnd* end : {&e.up, &e.down}) {
        end->pressure = spot_pressure_[end->spot] - end->rise;
        if (end->per_liquid > 0.0) see_column(*end);
        if (!end->mixed) continue;
        end->share = gas_share(*end);
        if (end->site == Site::volume) end->pressure -= uncovered(*end);
    }
}

void Assembly::find_flows(bool choose) {
    ++evaluations_;
    find_liquid_flows();
    for (const std::size_t i : other_edges_) see_ends(edges_[i]);
    for (const std::size_t j : other_junctions_) find_junction(j);
    for (const std::size_t i : other_edges_)
        if (Edge& e = edges_[i]; !e.at_junction) flow_through(e);
    if (choose) {
        choose_donors();
        for (const std::size_t i : other_edges_)
            if (Edge& e = edges_[i]; e.carrier >= 0) flow_through(e);
    }
    for (const std::size_t i : other_edges_) {
        Edge& e = edges_[i];
        e.alpha = e.liquid_only ? 0.0 : (e.from_up ? e.up : e.down).share;
    }
    for (const std::size_t j : other_junctions_)
        if (junction_has_gas_[j]) share_at_junction(j);
    for (const std::size_t i : other_edges_) {
        Edge& e = edges_[i];
        if (e.alpha > 0.0 || !e.quiet) {
            split_phases(e);
        } else {
            e.liquid = e.q;
            e.gas = 0.0;
        }
    }
}

/// Whether it makes no difference to composition which end gives.
bool Assembly::ends_alike(const Edge& edge) const {
    constexpr double alike = 1e-3; // gas share
    double low = 1.0, high = 0.0;
    const auto see = [&](const EdgeEnd& end) {
        if (end.site == Site::junction) return;
        low = std::min(low, end.share);
        high = std::max(high, end.share);
    };
    for (const EdgeEnd* end : {&edge.up, &edge.down}) {
        see(*end);
        if (end->site == Site::junction)
            for (const std::size_t k : junction_edges_[end->index]) {
                see(edges_[k].up);
                see(edges_[k].down);
            }
    }
    return high - low < alike;
}

double Assembly::passed(const Eigen::VectorXd& z, std::size_t e) const {
    const double liquid = z[at(e)], gas = z[at(edges_.size() + e)];
    if (gas == 0.0) return liquid;
    return liquid + gas * standard_atmosphere / std::max(edges_[e].donor_pressure, 1.0);
}

/// Time in which the flow with which a step began would have ended at the rate at which it began to fall [s]; that of a
/// jolt is short.
double Assembly::jolt(std::size_t e) const {
    const Slopes& s = slopes_[e];
    const Edge& edge = edges_[e];
    const double change = edge.moving >= 0
                              ? moving_[static_cast<std::size_t>(edge.moving)].first_rate
                              : s.flow * (s.by_up * unknown_[s.up] - s.by_down * unknown_[s.down]);
    const double falls = edge.from_up ? -change : change;
    return falls > 0.0 ? edges_[e].weight / falls : std::numeric_limits<double>::infinity();
}

double Assembly::turning(const Eigen::VectorXd& z, double dt) {
    constexpr double noticed = 1e-12; // passed volume below which composition does not matter [m^3]
    constexpr double little = 0.01;   // of what passed
    double earliest = dt;
    bool at_once = false, rates_known = false;
    for (std::size_t e = 0; e < edges_.size(); ++e) {
        const Edge& edge = edges_[e];
        const double sign = edge.from_up ? 1.0 : -1.0, along = sign * passed(z, e);
        if (edge.one_way || along > -noticed || ends_alike(edge)) continue;
        if (!rates_known) find_pressure_rates(first_rates_);
        rates_known = true;
        // Flow w falls to what it is at the end, soon where its mean is near to that.
        const double mean = along / dt, end = sign * edge.q;
        const double falling = end < 0.0 ? dt * std::max(mean - end, 0.0) / (edge.weight - end) : dt;
        const double settling = std::min(falling, jolt(e));
        if (settling * edge.weight < std::max(noticed, -little * along))
            at_once = true;
        else
            earliest = std::min(earliest, dt * edge.weight / (2.0 * (edge.weight - mean)));
    }
    return earliest < dt ? earliest : at_once ? 0.0 : dt;
}

void Assembly::give_as_passed(const Eigen::VectorXd& z, double dt) {
    for (std::size_t e = 0; e < edges_.size(); ++e) {
        const double volume = passed(z, e);
        edges_[e].from_up = edges_[e].one_way || volume >= 0.0;
        edges_[e].weight = std::abs(volume) / dt;
    }
    given_ = true;
}

void Assembly::rate(const Eigen::VectorXd& z, Eigen::VectorXd& f) { evaluate(z, f, false, false); }

void Assembly::evaluate(const Eigen::VectorXd& z, Eigen::VectorXd& f, bool choose, bool slopes) {
    find_pressures(z, slopes);
    find_flows(choose);
    const std::size_t m = edges_.size();
    f.setZero(at(size()));
    for (std::size_t e = 0; e < m; ++e) f[at(e)] = edges_[e].liquid;
    for (const std::size_t e : other_edges_) f[at(m + e)] = edges_[e].gas;
    for (std::size_t k = 0; k < rod_speed_.size(); ++k) f[at(2 * m + k)] = rod_speed_[k];
    for (std::size_t i = 0; i < warm_.size(); ++i) {
        Warm& w = warm_[i];
        const Node& n = nodes_[w.node];
        w.wall = theta_at_wall(n.pressure.p);
        w.wall_by_pressure = -theta_exponent * w.wall / n.pressure.p;
        f[at(first_warm() + i)] = (w.wall - n.now.theta) / w.time_constant;
    }
    for (std::size_t c = 0; c < moving_.size(); ++c) f[at(first_column() + c)] = moving_[c].rate;
}

} // namespace clearstroke
