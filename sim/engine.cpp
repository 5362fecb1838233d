#include "sim/engine.hpp"

#include <algorithm>
#include <cmath>

#include "models/gas.hpp"
#include "models/long_bubble.hpp"

namespace clearstroke {
namespace {

constexpr double overdraw_allowed = 1e-11;    // of a parcel at an end [m^3]
constexpr double overdraw_share = 1e-3;       // of a parcel at an end that a step may take too much,
constexpr double overdraw_of_more = 5e-2;      // and of one behind which the lump holds more of the phase
constexpr double landing_overshoot = 2e-4;    // share by which a step that lands on a parcel's end is longer
constexpr double landing_margin = 1e-9;       // a step that lands on a parcel's end overshoots by this [s]
constexpr double port_resolution = 1e-7;      // at which a port's cut-off is located [m]
constexpr double rod_resolution = 1e-9;       // at which a rod's target counts as reached [m]
constexpr double force_reached = 0.98;        // of the force limit
constexpr double shortest_landing = 1e-6;      // steps this short may overdraw a parcel [s]
constexpr double first_step = 1e-3;            // after an act has changed the circuit [s]
constexpr int most_locations = 40;
constexpr int most_turns = 8;                 // cuts of a step to the instant at which a flow turns; then it is a corner
constexpr double early_turn = 0.01;           // share of a step before which a turn makes it a corner at once
constexpr double shortest_turn = 1e-6;        // steps this short may have a flow turn in them [s]

Eigen::Index at(std::size_t i) { return static_cast<Eigen::Index>(i); }
bool is_cell(const EdgeEnd& e) { return e.site == Site::cell || e.site == Site::hose_cell; }

}  // namespace

Engine::Engine(const Network& net, const Settings& settings, const Circuits& circuits)
    : net_(net), settings_(settings), circuits_(circuits), assembly_(net, settings), stepper_(settings.corner_step), line_flow_(net.lines.size()), line_gas_(net.lines.size()) {}

const Layout& Engine::layout(const State& s) {
    const Attitude wanted{s.pitch, s.roll, s.volume_roll, s.volume_lift};
    if (!layout_ || layout_->attitude != wanted) {
        layout_ = make_layout(net_, wanted, settings_.lump_factor);
        structure_.clear();
    }
    return *layout_;
}

std::vector<int> Engine::structure_of(const State& s) const {
    std::vector<int> out;
    const auto add_cells = [&](const std::vector<Cell>& cells) {
        for (const Cell& c : cells) out.push_back(c.end);
        out.push_back(-1);
    };
    for (const auto& cells : s.lines) add_cells(cells);
    for (const char c : s.line_capped) out.push_back(c);
    for (const ActuatorState& a : s.actuators)
        for (const char open : a.port_open) out.push_back(open);
    for (const double t : s.screw_turns) out.push_back(static_cast<int>(std::lround(t * 1000.0)));
    out.push_back(s.hose ? static_cast<int>(s.hose->screw.index) : -1);
    out.push_back(s.hose_submerged);
    out.push_back(s.hose_one_way);
    if (s.hose) add_cells(s.hose->cells);
    return out;
}

EndGas Engine::gas_at_ends(const State& s, std::size_t line) const {
    const auto gassy = [&](const End& end) {
        if (const auto* p = std::get_if<PortRef>(&end)) {
            const VolumeState& v = s.volumes[p->volume.index];
            if (v.gas <= 0.0) return false;
            const VolumeLayout& l = layout_->volumes[p->volume.index];
            const double pocket = gas_volume_at(v.gas, v.theta, v.pressure);
            return l.profile.interface_height(pocket) - l.ports[p->port].top_in_cavity < 10e-3;
        }
        if (const auto* j = std::get_if<JunctionId>(&end)) {
            for (std::size_t other = 0; other < net_.lines.size(); ++other) {
                const auto here = [&](const End& e) { return std::holds_alternative<JunctionId>(e) && std::get<JunctionId>(e) == *j; };
                if (here(net_.lines[other].from) && s.lines[other].front().gas > 0.0) return true;
                if (here(net_.lines[other].to) && s.lines[other].back().gas > 0.0) return true;
            }
        }
        return false;
    };
    return {gassy(net_.lines[line].from), gassy(net_.lines[line].to)};
}

void Engine::match_structure(State& s) {
    layout(s);
    for (std::size_t l = 0; l < net_.lines.size(); ++l) regroup(s.lines[l], layout_->lines[l], gas_at_ends(s, l), settings_);
    if (std::vector<int> now = structure_of(s); now != structure_) {
        structure_ = std::move(now);
        assembly_.build(s, *layout_);
        stepper_.reset();
    } else {
        assembly_.refresh(s);
    }
    z_.setZero(at(assembly_.size()));
}

double Engine::run_ahead_of(const LineLayout& line, double flow) const {
    const double ca = layout_->liquid.dynamic_viscosity * std::abs(flow) / (line.area * layout_->liquid.surface_tension);
    return run_ahead(ca, net_.conditions.run_ahead_scale) - 1.0;
}

double Engine::time_to_next_parcel(const State& s) const {
    const auto& nodes = assembly_.nodes();
    leaving_.assign(nodes.size(), {});
    for (const Edge& e : assembly_.edges()) {
        if (is_cell(e.up)) leaving_[e.up.index][e.up.side == Side::to] = {e.liquid, e.gas};
        if (is_cell(e.down)) leaving_[e.down.index][e.down.side == Side::to] = {-e.liquid, -e.gas};
    }
    double shortest = 1e300;
    for (std::size_t i = 0; i < nodes.size(); ++i) {
        const Node& n = nodes[i];
        if (n.site == Site::volume || n.start.gas <= 0.0) continue;
        const LineLayout& line = n.site == Site::cell ? layout_->lines[n.line] : layout_->hoses[n.line];
        const Train& train = (n.site == Site::cell ? s.lines[n.line][n.cell] : s.hose->cells[n.cell]).train;
        for (const Side side : {Side::from, Side::to}) {
            const double t = time_to_use_up(train, side, leaving_[i][side == Side::to], leaving_[i][side != Side::to], line);
            shortest = std::min(shortest, t);
        }
    }
    return shortest * (1.0 + landing_overshoot) + landing_margin;
}

/// Time until the parcel at one end is used up by what leaves there, what leaves at the other end past
/// it, and what runs behind the gas next to it.
double Engine::time_to_use_up(const Train& train, Side side, const Parcel& here, const Parcel& there, const LineLayout& line) const {
    if (train.empty()) return 1e300;
    const auto& parcels = train.parcels();
    const Parcel p = train.next_out(side, settings_.end_window);
    double liquid_rest = 0.0, gas_rest = 0.0;
    for (const Parcel& other : parcels) {
        liquid_rest += other.liquid;
        gas_rest += other.gas;
    }
    const bool only_liquid = liquid_rest <= p.liquid, only_gas = gas_rest <= p.gas;
    double liquid = std::max(here.liquid, 0.0) + (only_liquid ? std::max(there.liquid, 0.0) : 0.0);
    const double gas = std::max(here.gas, 0.0) + (only_gas ? std::max(there.gas, 0.0) : 0.0);
    if (train.size() > 2 && p.gas == 0.0 && here.liquid > 0.0) {
        const Parcel& next = side == Side::from ? parcels[1] : parcels[parcels.size() - 2];
        if (next.liquid == 0.0) liquid += here.liquid * run_ahead_of(line, here.liquid);
    }
    double shortest = 1e300;
    if (train.size() > 1 && p.liquid > trace_amount && liquid > 0.0) shortest = p.liquid / liquid;
    if (p.gas > trace_amount && gas > 0.0) shortest = std::min(shortest, p.gas / gas);
    return shortest;
}

double Engine::overdrawn(const State& s) const {
    const auto& edges = assembly_.edges();
    const std::size_t m = edges.size();
    double share = 1.0;
    for (std::size_t i = 0; i < m; ++i)
        for (const auto& [end, sign] : {std::pair{&edges[i].up, 1.0}, std::pair{&edges[i].down, -1.0}}) {
            if (!is_cell(*end)) continue;
            const Node& n = assembly_.nodes()[end->index];
            const Train& train = (n.site == Site::cell ? s.lines[n.line][n.cell] : s.hose->cells[n.cell]).train;
            if (train.size() < 2) continue;
            const Parcel& p = end->end;
            const double liquid = sign * z_[at(i)], gas = sign * z_[at(m + i)];
            const auto see = [&](double has, double all, double takes) {
                const double more = all > 1.1 * takes ? overdraw_of_more : overdraw_share;
                if (has > trace_amount && takes > has * (1.0 + more) + overdraw_allowed) share = std::min(share, has / takes);
            };
            see(p.liquid, n.start.liquid, liquid);
            see(p.gas, n.start.gas, gas);
        }
    return share;
}

std::optional<Engine::PortCrossing> Engine::port_crossed(const State& s) {
    std::optional<PortCrossing> first;
    double earliest = 2.0;
    for (std::size_t k = 0; k < net_.actuators.size(); ++k) {
        const ActuatorPoint& before = assembly_.actuator_before(k);
        const bool still = z_[at(2 * assembly_.edges().size() + k)] == 0.0 && s.actuators[k].x == 0.0;
        if (still) continue;
        const ActuatorPoint after = assembly_.actuator_at(k, z_);
        for (std::size_t j = 0; j < net_.actuators[k].pistons.size(); ++j) {
            if (net_.actuators[k].pistons[j].blind) continue;
            const double cut_off = net_.actuators[k].pistons[j].cut_off;
            const double b = before.d[j] - cut_off, a = after.d[j] - cut_off;
            const bool open = s.actuators[k].port_open[j];
            const bool crossed = open ? a > port_resolution : a < -port_resolution;
            if (!crossed) continue;
            const double share = a == b ? 0.0 : std::clamp(-b / (a - b), 0.0, 1.0);
            if (share < earliest) {
                earliest = share;
                first = PortCrossing{k, j, b, a};
            }
        }
    }
    return first;
}

RunStatus Engine::step(State& s, double longest, double& taken) {
    stepper_.begin(assembly_, z_);
    const double land = time_to_next_parcel(s);
    double dt = std::min({s.step, longest, land});
    bool cut = dt < s.step;
    int turns = 0;
    for (int tries = 0; tries < 200; ++tries) {
        if (dt < settings_.shortest_step && dt < longest) return {RunEnd::step_too_small, s.t, "", "no step down to the shortest one was acceptable"};
        double t = 0.0, next = dt;
        z_.setZero();
        if (stepper_.try_step(assembly_, z_, t, next) == boost::numeric::odeint::fail) {
            ++work_.rejected;
            dt = next;
            cut = false;
            continue;
        }
        if (!z_.allFinite()) return {RunEnd::non_finite_state, s.t, "", "a flow is not a finite number"};
        if (!stepper_.at_corner() && dt > shortest_turn) {
            const double turn = assembly_.turning(z_, dt);
            if (turn < dt) {
                ++work_.refused;
                cut = true;
                stepper_.refuse();
                if (++turns > most_turns || turn < early_turn * dt) stepper_.turn_corner(dt);
                else dt = turn;
                continue;
            }
        }
        double share = overdrawn(s);
        if (tries < most_locations) {
            if (const auto c = port_crossed(s)) {
                const double root = std::clamp(-c->before / (c->after - c->before), 0.0, 1.0);
                const double overshoot = 0.5 * port_resolution / std::abs(c->after - c->before);
                if (root + overshoot < share) share = root + overshoot;
            }
        }
        if (share < 1.0 && dt > shortest_landing) {
            stepper_.refuse();
            ++work_.refused;
            dt = std::max(dt * std::min(share, 0.999), shortest_landing);
            cut = true;
            continue;
        }
        taken = dt;
        s.step = cut ? std::max(next, s.step) : next;
        return {};
    }
    return {RunEnd::step_too_small, s.t, "", "an event could not be located"};
}

Work Engine::work() const {
    Work out = work_;
    out.evaluations = assembly_.evaluations();
    return out;
}

RunStatus Engine::advance(State& s, const Until& until, Meter* meter, bool* stopped_early) {
    const double end = s.t + until.duration;
    if (stopped_early) *stopped_early = false;
    for (std::size_t k = 0; k < net_.actuators.size(); ++k) assembly_.drive(k, {});
    if (until.actuator) assembly_.drive(*until.actuator, until.drive);
    layout(s);
    structure_.clear();
    s.step = std::min(s.step, first_step);
    double left = until.duration;
    while (left > 1e-12 * std::max(1.0, end)) {
        match_structure(s);
        double longest = left;
        bool rod_moves = false;
        if (until.actuator && (until.drive.mode == Drive::Mode::push || until.drive.mode == Drive::Mode::back)) {
            const double distance = std::abs(until.target - s.actuators[*until.actuator].x);
            rod_moves = true;
            if (distance <= rod_resolution) {
                if (stopped_early) *stopped_early = true;
                break;
            }
            longest = std::min(longest, distance / until.drive.speed);
        }
        double dt = 0.0;
        if (RunStatus status = step(s, longest, dt); !status.usable()) return status;
        ++work_.steps;
        work_.corners += stepper_.at_corner();
        apply(s, dt, meter);
        if (observer_) observer_(s);
        left -= dt;
        if (meter && until.actuator) {
            meter->peak_rod_force = std::max(meter->peak_rod_force, assembly_.actuator(*until.actuator).rod_force);
            meter->furthest_rod = std::max(meter->furthest_rod, s.actuators[*until.actuator].x);
        }
        if (rod_moves && until.stop_at_force && assembly_.actuator(*until.actuator).rod_force >= force_reached * until.drive.force_limit) {
            if (stopped_early) *stopped_early = true;
            break;
        }
    }
    transport(s, true);
    return {RunEnd::done, s.t, "", ""};
}

}  // namespace clearstroke
