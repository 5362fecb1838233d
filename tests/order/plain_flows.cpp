// Flows of a PlainCircuit: lines, tees, ports and cups, open screws.
#include <algorithm>
#include <cmath>
#include <stdexcept>

#include "models/long_bubble.hpp"
#include "tests/order/plain_circuit.hpp"
#include "tests/order/rising_root.hpp"

namespace clearstroke::testing {

double PlainCircuit::reservoir_height(const double* y, std::size_t r) const {
    return net_.reservoirs[r].floor_height + 1e-6 * y[reservoirs_at_ + r] / net_.reservoirs[r].area;
}

double PlainCircuit::interface_height(const double* y, const Point& at, std::size_t v) const {
    const double pocket = gas_in(y, v) * standard_atmosphere / at.p[v];
    return profiles_[v].interface_height(pocket * profiles_[v].volume() / net_.volumes[v].content);
}

/// The pressure of a volume is that of its middle, or of its gas where that reaches below it.
double PlainCircuit::at_port(const double* y, const Point& at, const PortRef& port) const {
    const std::size_t v = port.volume.index;
    const double hole = port_heights_[v][port.port] - net_.volumes[v].height;
    if (gas_in(y, v) <= 0.0) return at.p[v] - weight_ * hole;
    const double level = interface_height(y, at, v);
    return at.p[v] + weight_ * (std::min(0.0, level) - std::min(hole, level));
}

PlainCircuit::LumpEnd PlainCircuit::lump_end(const double* y, const Point& at, std::size_t i,
                                             Side side) const {
    const Part& c = parts_[i];
    const double liquid = liquid_in(y, i), gas = gas_in(y, i) * standard_atmosphere / at.p[i];
    const double before = c.before_at < 0 ? 0.5 * liquid : 1e-6 * y[c.before_at];
    const double column = side == Side::from ? before : liquid - before;
    const double rise = c.rise * column / (liquid + gas) * (side == Side::from ? -1.0 : 1.0);
    return {at.p[i] - rise,
            std::max(c.per_liquid * column + 0.5 * c.per_gas * gas, 0.5 * c.per_gas * c.content),
            liquid_.density};
}

/// A flow of liquid into a lump at one of its ends.
void PlainCircuit::enter(double* f, std::size_t lump, Side side, double flow) const {
    f[lump] += flow;
    if (side == Side::from && parts_[lump].before_at >= 0) f[parts_[lump].before_at] += flow;
}

/// (N-4): the liquid that a plug passes goes from ahead of it to behind.
void PlainCircuit::run_ahead_of_plugs(double* f) const {
    for (std::size_t i = 0; i < parts_.size(); ++i) {
        const Part& c = parts_[i];
        if (c.before_at < 0) continue;
        const double in = f[c.before_at], out = in - f[i], through = 0.5 * (in + out);
        const double capillary =
            liquid_.dynamic_viscosity * std::abs(through) / (c.section * liquid_.surface_tension);
        f[c.before_at] += (run_ahead(capillary, net_.conditions.run_ahead_scale) - 1.0) * through;
    }
}

/// Share of gas in `flow` out of a port of a volume, (D-5) to (D-7).
double PlainCircuit::gas_share(const double* y, const Point& at, const PortRef& port, double flow) const {
    const std::size_t v = port.volume.index;
    const double gas = gas_in(y, v);
    if (gas <= 0.0) return 0.0;
    const Volume& part = net_.volumes[v];
    const Port& hole = part.ports[port.port];
    const double pocket = gas * standard_atmosphere / at.p[v];
    const double depth = interface_height(y, at, v) - port_tops_[v][port.port];
    const Opening opening{hole.solid_angle, hole.diameter, part.gap_width, part.gap_width > 0.0 ? pi : 0.0};
    const double reach = drawdown_reach(opening, flow, liquid_, net_.conditions.drawdown_scale);
    const double gathers = largest_gas_share(pocket, std::abs(flow));
    const double runs = largest_gas_share(liquid_in(y, v), std::abs(flow));
    if (gathers + runs < 1.0) return gathers / (gathers + runs);
    return std::max(std::min(gas_fraction_drawn(depth, reach, hole.diameter), gathers), 1.0 - runs);
}

/// A flow between a port and the lump next to it.
void PlainCircuit::pass(const double* y, const Point& at, double* f, const PortRef& port, std::size_t lump,
                        Side side, double flow) const {
    if (flow > 0.0 && gas_share(y, at, port, flow) > 0.0) throw std::domain_error("gas enters a line");
    f[port.volume.index] -= flow;
    enter(f, lump, side, flow);
}

void PlainCircuit::lines(const double* y, const Point& at, double* f) const {
    for (std::size_t l = 0; l < tubes_.size(); ++l) {
        const Tube& t = tubes_[l];
        for (std::size_t i = t.first; i + 1 < t.first + t.lumps; ++i) {
            const LumpEnd a = lump_end(y, at, i, Side::to), b = lump_end(y, at, i + 1, Side::from);
            const double q = (a.pressure - b.pressure) / (a.resistance + b.resistance);
            enter(f, i, Side::to, -q);
            enter(f, i + 1, Side::from, q);
        }
        const auto out_of_volume = [&](const End& end, std::size_t lump, Side side) {
            const auto* port = std::get_if<PortRef>(&end);
            if (!port) return;
            const LumpEnd e = lump_end(y, at, lump, side);
            pass(y, at, f, *port, lump, side,
                 volume_flow({e.resistance, t.kinetic * e.inertial}, at_port(y, at, *port) - e.pressure));
        };
        out_of_volume(net_.lines[l].from, t.first, Side::from);
        out_of_volume(net_.lines[l].to, t.first + t.lumps - 1, Side::to);
    }
}

/// The pressure of a tee is the one at which its flows add up to nothing.
void PlainCircuit::junctions(const double* y, const Point& at, double* f) const {
    for (std::size_t j = 0; j < net_.junctions.size(); ++j) {
        struct Branch {
            std::size_t lump{};
            Side side{};
            double pressure{};
            DropLaw law;
        };
        std::vector<Branch> branches;
        const auto add = [&](const End& end, std::size_t lump, Side side, double kinetic) {
            if (!std::holds_alternative<JunctionId>(end) || std::get<JunctionId>(end).index != j) return;
            const LumpEnd e = lump_end(y, at, lump, side);
            branches.push_back({lump, side, e.pressure, {e.resistance, kinetic * e.inertial}});
        };
        for (std::size_t l = 0; l < tubes_.size(); ++l) {
            add(net_.lines[l].from, tubes_[l].first, Side::from, tubes_[l].kinetic);
            add(net_.lines[l].to, tubes_[l].first + tubes_[l].lumps - 1, Side::to, tubes_[l].kinetic);
        }
        if (branches.empty()) continue;
        double low = 1e300, high = -1e300;
        for (const Branch& b : branches) {
            low = std::min(low, b.pressure);
            high = std::max(high, b.pressure);
        }
        const double p = rising_root(low, high, 0.5 * (low + high), 1e-15, [&](double tee) {
            Value sum;
            for (const Branch& b : branches) {
                const double q = volume_flow(b.law, tee - b.pressure);
                sum.value += q;
                sum.slope += flow_slope(b.law, q);
            }
            return sum;
        });
        for (const Branch& b : branches) enter(f, b.lump, b.side, volume_flow(b.law, p - b.pressure));
    }
}

/// Compensating ports and cups, from the reservoir.
void PlainCircuit::cylinders(const double* y, const Point& at, double* f) const {
    for (std::size_t j = 0; j < pistons(); ++j) {
        const Piston& piston = actuator_.pistons[j];
        const PortRef hole{piston.chamber, piston.port_opening};
        const std::size_t r = piston.reservoir.index;
        const double above = medium_.ambient +
                             weight_ * (reservoir_height(y, r) - port_heights_[hole.volume.index][hole.port]);
        const double dp = above - at_port(y, at, hole);
        double flow = 0.0;
        if (port_open_[j])
            flow += volume_flow(drop_law(piston.port, liquid_.density, liquid_.dynamic_viscosity), dp);
        // (M-3): the lip lifts over a fifth of its cracking pressure, 200 Pa at least.
        const double lip = std::max(0.2 * piston.cup.cracking, 200.0), beyond = dp - piston.cup.cracking;
        const double lifts = beyond <= 0.0  ? 0.0
                             : beyond < lip ? 0.5 * beyond * beyond / lip
                                            : beyond - 0.5 * lip;
        flow += volume_flow(drop_law(piston.cup.passage, liquid_.density, liquid_.dynamic_viscosity), lifts);
        if (flow < 0.0 && gas_share(y, at, hole, flow) > 0.0)
            throw std::domain_error("gas at a cylinder's port");
        f[hole.volume.index] += flow;
        f[reservoirs_at_ + r] -= flow;
    }
}

/// Out through an open screw. What fills the hole follows its flow and the flow what fills it: where both
/// agree.
double PlainCircuit::screw_flow(const double* y, const Point& at, std::size_t i) const {
    const Screw& s = net_.screws[i];
    const PortRef port = std::get<PortRef>(s.at);
    const double area = bleed_screw_area(s.geometry, turns_[i]), dp = at_port(y, at, port) - medium_.ambient;
    const double from_inside = std::clamp(0.5 + 0.005 * dp, 0.0, 1.0); // outside stands air
    const auto passes = [&](double share) {
        const double filled = std::lerp(1.0, share, from_inside);
        const double q = volume_flow(drop_law(area, s.geometry.drilling_length, s.geometry.axial_bore, 0.62,
                                              std::lerp(liquid_.density, gas_density_, filled),
                                              std::lerp(liquid_.dynamic_viscosity, gas_viscosity_, filled)),
                                     dp);
        const double limit = choked_gas_flow_limit(0.62 * area, 1.0, net_.conditions.temperature);
        return (dp >= 0.0 ? share : 1.0) > 0.5 ? std::clamp(q, -limit, limit) : q;
    };
    const double one = passes(0.0), other = passes(1.0);
    return rising_root(std::min(one, other), std::max(one, other), one, 1e-15, [&](double q) {
        return Value{q - passes(gas_share(y, at, port, q)), 0.0};
    });
}

void PlainCircuit::screws(const double* y, const Point& at, double* f) const {
    for (std::size_t i = 0; i < net_.screws.size(); ++i) {
        if (turns_[i] <= 0.0) continue;
        const PortRef port = std::get<PortRef>(net_.screws[i].at);
        const std::size_t v = port.volume.index;
        const double q = screw_flow(y, at, i), share = q > 0.0 ? gas_share(y, at, port, q) : 1.0;
        const double gas = share * q * (q > 0.0 ? at.p[v] : medium_.ambient) / standard_atmosphere;
        if (gas != 0.0 && parts_[v].gas_at < 0) throw std::domain_error("air enters a part that had none");
        f[v] -= (1.0 - share) * q;
        f[out_at_] += (1.0 - share) * q;
        if (parts_[v].gas_at >= 0) f[parts_[v].gas_at] -= gas;
        f[out_at_ + 1] += gas;
    }
}

} // namespace clearstroke::testing
