#include "sim/engine.hpp"

#include <algorithm>
#include <cmath>

namespace clearstroke {
namespace {

constexpr double overdraw_allowed = 1e-11; // of a parcel at an end [m^3]
constexpr double overdraw_share = 1e-3;    // of a parcel at an end that a step may take too much,
constexpr double overdraw_of_more = 5e-2;  // and of one behind which the lump holds more of the phase
constexpr double landing_overshoot = 2e-4; // share by which a step that lands on a parcel's end is longer
constexpr double landing_margin = 1e-9;    // a step that lands on a parcel's end overshoots by this [s]
constexpr double share_of_last_gas = 0.7;  // of the last gas in a cell that one step may take,
constexpr double last_gas = 1e-10;         // down to this [m^3]
constexpr double share_of_reservoir =
    0.2;                              // of what its chamber holds that one step may take through an opening
constexpr double before_stop = 0.998; // of the time to a stop that a step may take,
constexpr double stop_near = 2e-4;    // until it is so near: then a step lands on it [s]
constexpr double past_stop = 1.001;   // of the time to a stop, so that the piston stands there
constexpr double stop_reached = 1e-8; // [s]
constexpr double port_resolution = 1e-7;  // at which a port's cut-off is located [m]
constexpr double rod_resolution = 1e-9;   // at which a rod's target counts as reached [m]
constexpr double force_reached = 0.98;    // of the force limit
constexpr double relief_time = 1.0;       // a force that would be gone sooner is being relieved [s]
constexpr double force_resolution = 1e-3; // at which a push's end at that force is located [s]
constexpr double shortest_landing = 1e-6; // steps this short may overdraw a parcel [s]
constexpr double first_step = 1e-3;       // after an act has changed the circuit [s]
constexpr int most_locations = 40;
constexpr int most_turns = 3; // cuts of a step to the instant at which a flow turns; then it is a corner
constexpr double early_turn = 0.01;    // share of a step before which a turn makes it a corner at once
constexpr double shortest_turn = 1e-6; // steps this short may have a flow turn in them [s]

Eigen::Index at(std::size_t i) { return static_cast<Eigen::Index>(i); }

/// What the parcels hold from which the next `window` [m^3] at an end is mixed.
Parcel at_hand(const Train& train, Side side, double window) {
    const auto& parcels = train.parcels();
    Parcel sum = train.end(side);
    for (std::size_t i = 1; i < parcels.size() && sum.liquid + sum.gas < window; ++i) {
        const Parcel& p = parcels[side == Side::from ? i : parcels.size() - 1 - i];
        sum.liquid += p.liquid;
        sum.gas += p.gas;
    }
    return sum;
}

} // namespace

Engine::Engine(const Network& net, const Settings& settings, const Circuits& circuits)
    : net_(net), settings_(settings), circuits_(circuits), assembly_(net, settings),
      stepper_(settings.corner_step), bubbles_(net, settings), line_flow_(net.lines.size()),
      line_gas_(net.lines.size()), line_moved_(net.lines.size()) {}

const Layout& Engine::layout(const State& s) {
    const auto is_for_this = [&](const Attitude& a) {
        return a.pitch == s.pitch && a.roll == s.roll && a.volume_roll == s.volume_roll &&
               a.volume_lift == s.volume_lift;
    };
    if (!layout_ || !is_for_this(layout_->attitude)) {
        layout_ = make_layout(net_, {s.pitch, s.roll, s.volume_roll, s.volume_lift}, settings_.lump_factor);
        structure_known_ = false;
    }
    return *layout_;
}

void Engine::match_structure(State& s) {
    for (std::size_t l = 0; l < net_.lines.size(); ++l)
        if (regroup(s.lines[l], layout_->lines[l], settings_)) structure_known_ = false;
    if (s.hose && regroup(s.hose->cells, layout_->hoses[s.hose->screw.index], settings_))
        structure_known_ = false;
    if (!structure_known_) {
        assembly_.build(s, *layout_);
        stepper_.reset();
        last_flow_.resize(0);
        for (std::vector<double>* amounts : {&holds_, &has_, &gives_}) amounts->resize(assembly_.spots());
        structure_known_ = true;
    } else {
        assembly_.refresh(s);
    }
    z_.setZero(at(assembly_.size()));
}

double Engine::time_to_next_parcel(const State& s) const {
    find_leaving();
    double shortest = 1e300;
    for (const std::size_t i : assembly_.cells_with_gas()) {
        const Node& n = assembly_.nodes()[i];
        for (const Side side : {Side::from, Side::to}) {
            const double t =
                time_to_use_up(s, n, side, leaving_[i][side == Side::to], leaving_[i][side != Side::to]);
            shortest = std::min(shortest, t);
        }
    }
    return shortest * (1.0 + landing_overshoot) + landing_margin;
}

/// What leaves cells with gas at their two ends.
void Engine::find_leaving() const {
    const auto& nodes = assembly_.nodes();
    const auto& edges = assembly_.edges();
    const std::size_t m = edges.size();
    leaving_.resize(nodes.size());
    for (const std::size_t i : assembly_.cells_with_gas()) leaving_[i] = {};
    // A flow that the start of the step sets off, and that its first moments take away again, uses up nothing.
    const auto lasting = [&](double now, std::size_t i) {
        if (last_flow_.size() == 0) return now;
        const double last = last_flow_[at(i)];
        return now * last <= 0.0 ? 0.0 : std::abs(now) < std::abs(last) ? now : last;
    };
    for (const EndOfEdge& e : assembly_.ends_at_gas()) {
        const EdgeEnd& end = assembly_.end(e);
        if (nodes[end.index].start.gas <= 0.0) continue;
        leaving_[end.index][end.side == Side::to] = {-e.into() * lasting(edges[e.edge].liquid, e.edge),
                                                     -e.into() * lasting(edges[e.edge].gas, m + e.edge)};
    }
}

/// Time until the parcel at one end is used up by what leaves there, what leaves at the other end past
/// it, and what runs behind the gas next to it; of the last gas of a cell, whose compliance goes with it,
/// until a share is.
double Engine::time_to_use_up(const State& s, const Node& n, Side side, const Parcel& here,
                              const Parcel& there) const {
    const Cell& cell = n.site == Site::cell ? s.lines[n.line][n.cell] : s.hose->cells[n.cell];
    const Train& train = cell.train;
    if (train.empty()) return 1e300;
    const auto& parcels = train.parcels();
    const Parcel p = at_hand(train, side, assembly_.end_window(n, train));
    const bool only_liquid = cell.liquid <= p.liquid, only_gas = cell.gas <= p.gas;
    double liquid = std::max(here.liquid, 0.0) + (only_liquid ? std::max(there.liquid, 0.0) : 0.0);
    const double gas = std::max(here.gas, 0.0) + (only_gas ? std::max(there.gas, 0.0) : 0.0);
    if (train.size() > 2 && p.gas == 0.0) {
        const std::size_t n_parcels = parcels.size();
        const Parcel &next = parcels[side == Side::from ? 1 : n_parcels - 2],
                     &behind = parcels[side == Side::from ? 2 : n_parcels - 3];
        if (kind_of(next) == ParcelKind::gas && kind_of(behind) == ParcelKind::liquid) {
            const double sign = side == Side::to ? 1.0 : -1.0;
            const double ahead = plug_in(n, cell).speed(sign * here.liquid);
            liquid = std::max(here.liquid + sign * ahead, 0.0);
        }
    }
    double shortest = 1e300;
    if (train.size() > 1 && p.liquid > trace_amount && liquid > 0.0) shortest = p.liquid / liquid;
    if (p.gas > trace_amount && gas > 0.0)
        shortest = std::min(shortest, (only_gas && p.gas > last_gas ? share_of_last_gas : 1.0) * p.gas / gas);
    return shortest;
}

PlugMotion Engine::plug_in(const Node& n, const Cell& cell) const {
    return {cell, n.columns, assembly_.line_of(n), layout_->liquid, net_.conditions.run_ahead_scale};
}

double Engine::time_to_next_mark() const {
    double shortest = 1e300;
    for (std::size_t k = 0; k < net_.actuators.size(); ++k) {
        const Actuator& a = net_.actuators[k];
        const Linkage link = linkage_of(a);
        const ActuatorPoint& point = assembly_.actuator_before(k);
        for (std::size_t j = 0; j < a.pistons.size(); ++j) {
            const double speed = link.e[j] * assembly_.rod_speed(k) + link.f[j] * inner_speed_[k];
            const auto time_to = [&](double mark) { return (mark - point.d[j]) / speed; };
            if (const double time = time_to(a.pistons[j].cut_off); !a.pistons[j].blind && time > 0.0)
                shortest = std::min(shortest, time + 0.5 * port_resolution / std::abs(speed));
            if (a.pistons.size() < 2) continue;
            if (const double time = time_to(speed > 0.0 ? a.pistons[j].stroke : 0.0); time > stop_near)
                shortest = std::min(shortest, before_stop * time);
            else if (time > stop_reached)
                shortest = std::min(shortest, past_stop * time);
        }
    }
    return shortest;
}

/// A step takes the levels of reservoirs, and what their outlets draw, as they are at its beginning.
double Engine::time_to_lower_reservoirs(const State& s) const {
    double shortest = 1e300;
    for (const Edge& e : assembly_.edges()) {
        if (e.up.site != Site::reservoir || e.liquid <= 0.0) continue;
        const double holds = s.reservoirs[e.up.index].liquid[static_cast<std::size_t>(e.up.chamber)];
        shortest = std::min(shortest, share_of_reservoir * holds / e.liquid);
    }
    return shortest;
}

double Engine::overdrawn(const State& s) const {
    const std::size_t m = assembly_.edges().size();
    double share = 1.0;
    for (const EndOfEdge& e : assembly_.ends_at_gas()) {
        const Parcel given{-e.into() * z_[at(e.edge)], -e.into() * z_[at(m + e.edge)]};
        share = std::min(share, share_had(s, assembly_.end(e), given));
    }
    return share;
}

/// Share of what an end gave that its parcel held; 1 where it held all of it, or nothing else stands in its cell.
double Engine::share_had(const State& s, const EdgeEnd& end, const Parcel& given) const {
    const Node& n = assembly_.nodes()[end.index];
    const Train& train = (n.site == Site::cell ? s.lines[n.line][n.cell] : s.hose->cells[n.cell]).train;
    if (train.size() < 2) return 1.0;
    const Parcel p = at_hand(train, end.side, assembly_.end_window(n, train));
    const auto see = [](double has, double all, double takes) {
        const double more = all > 1.1 * takes ? overdraw_of_more : overdraw_share;
        const bool over = has > trace_amount && takes > has * (1.0 + more) + overdraw_allowed;
        return over ? has / takes : 1.0;
    };
    return std::min(see(p.liquid, n.start.liquid, given.liquid), see(p.gas, n.start.gas, given.gas));
}

std::optional<Engine::PortCrossing> Engine::port_crossed(const State& s) const {
    std::optional<PortCrossing> first;
    double earliest = 2.0;
    for (std::size_t k = 0; k < net_.actuators.size(); ++k) {
        const ActuatorPoint& before = assembly_.actuator_before(k);
        const bool still = z_[at(2 * assembly_.edges().size() + k)] == 0.0 && s.actuators[k].x == 0.0;
        if (still) continue;
        const ActuatorPoint& after = assembly_.actuator(k);
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

/// Share of the step at which the rod passed its target; 1 when it did not.
double Engine::share_to_target(const Rod& rod) const {
    const double moved = z_[at(2 * assembly_.edges().size() + rod.actuator)] / rod.distance;
    return moved > 1.0 + rod_resolution / std::abs(rod.distance) ? 1.0 / moved : 1.0;
}

/// Share of the step at which the force at the rod passed the one that ends its push; 1 when it did not, or so
/// late that its push ends with the step.
double Engine::share_to_force(const Rod& rod, double dt) const {
    if (!rod.ending_force) return 1.0;
    const double before = assembly_.actuator_before(rod.actuator).rod_force,
                 after = assembly_.actuator(rod.actuator).rod_force;
    if (before >= *rod.ending_force || after <= *rod.ending_force) return 1.0;
    const double share = (*rod.ending_force - before) / (after - before);
    return (1.0 - share) * dt > force_resolution ? share + 0.5 * force_resolution / dt : 1.0;
}

RunStatus Engine::step(State& s, double longest, const std::optional<Rod>& rod, double& taken) {
    stepper_.begin(assembly_, z_);
    const double land = time_to_next_parcel(s);
    if (const double speed = rod ? assembly_.rod_speed(rod->actuator) : 0.0;
        speed != 0.0 && rod->distance / speed > 0.0)
        longest = std::min(longest, rod->distance / speed);
    if (bubbles_.on()) longest = std::min(longest, bubbles_.longest_step(s, assembly_));
    double dt = std::min({s.step, longest, land, time_to_next_mark(), time_to_lower_reservoirs(s)});
    bool cut = dt < s.step;
    bool turned = false;
    int turns = 0, givings = 0;
    for (int tries = 0; tries < 200; ++tries) {
        if (dt < settings_.shortest_step && dt < longest)
            return {RunEnd::step_too_small, s.t, "", "no step down to the shortest one was acceptable"};
        double t = 0.0, next = dt;
        z_.setZero();
        if (stepper_.try_step(assembly_, z_, t, next) == boost::numeric::odeint::fail) {
            ++work_.rejected;
            if (stepper_.corner_ahead()) assembly_.choose_again();
            dt = next;
            cut = false;
            continue;
        }
        if (!z_.allFinite()) return {RunEnd::non_finite_state, s.t, "", "a flow is not a finite number"};
        if (!stepper_.at_corner() && dt > shortest_turn) {
            const double turn = assembly_.turning(z_, dt);
            if (turn < dt) {
                ++work_.refused;
                stepper_.refuse();
                if (turn == 0.0 && ++givings <= most_turns) {
                    assembly_.give_as_passed(z_, dt);
                    z_.setZero();
                    stepper_.begin(assembly_, z_);
                    continue;
                }
                cut = true;
                assembly_.choose_again();
                turned = ++turns > most_turns || turn < early_turn * dt;
                if (turned) {
                    stepper_.turn_corner(dt);
                } else {
                    dt = turn;
                    z_.setZero();
                    if (givings > 0) stepper_.begin(assembly_, z_);
                }
                continue;
            }
        }
        assembly_.find_pressures(z_);
        double share = overdrawn(s);
        if (tries < most_locations) {
            if (const auto c = port_crossed(s)) {
                const double root = std::clamp(-c->before / (c->after - c->before), 0.0, 1.0);
                const double overshoot = 0.5 * port_resolution / std::abs(c->after - c->before);
                if (root + overshoot < share) share = root + overshoot;
            }
        }
        if (rod) share = std::min({share, share_to_target(*rod), share_to_force(*rod, dt)});
        if (share < 1.0 && dt > shortest_landing) {
            stepper_.refuse();
            if (stepper_.at_corner()) assembly_.choose_again();
            ++work_.refused;
            dt = std::max(dt * std::min(share, 0.999), shortest_landing);
            cut = true;
            continue;
        }
        taken = dt;
        s.step = cut && !turned ? std::max(next, s.step) : next;
        return {};
    }
    return {RunEnd::step_too_small, s.t, "", "an event could not be located"};
}

Work Engine::work() const {
    Work out = work_;
    out.evaluations = assembly_.evaluations();
    return out;
}

/// A foot that has gone to its limit stops there; one whose limit is just being relieved, by a screw that opens
/// under it, goes on down.
bool Engine::has_reached_force(const Rod& rod, double dt) const {
    if (!rod.ending_force) return false;
    const double force = assembly_.actuator(rod.actuator).rod_force,
                 fall = assembly_.actuator_before(rod.actuator).rod_force - force;
    return force >= *rod.ending_force && fall * relief_time <= force * dt;
}

RunStatus Engine::advance(State& s, const Until& until, Meter* meter, bool* stopped_early) {
    const double end = s.t + until.duration;
    if (stopped_early) *stopped_early = false;
    for (std::size_t k = 0; k < net_.actuators.size(); ++k) assembly_.drive(k, {});
    if (until.actuator) assembly_.drive(*until.actuator, until.drive);
    layout(s);
    structure_known_ = false;
    inner_speed_.assign(net_.actuators.size(), 0.0);
    s.step = std::min(s.step, first_step);
    double left = until.duration;
    while (left > 1e-12 * std::max(1.0, end)) {
        match_structure(s);
        std::optional<Rod> rod;
        if (until.actuator &&
            (until.drive.mode == Drive::Mode::push || until.drive.mode == Drive::Mode::back)) {
            const double distance = until.target - s.actuators[*until.actuator].x;
            if (std::abs(distance) <= rod_resolution) {
                if (stopped_early) *stopped_early = true;
                break;
            }
            rod = Rod{*until.actuator, distance, {}};
            if (until.stop_at_force) rod->ending_force = force_reached * until.drive.force_limit;
        }
        double dt = 0.0;
        if (RunStatus status = step(s, left, rod, dt); !status.usable()) return status;
        ++work_.steps;
        work_.corners += stepper_.at_corner();
        apply(s, dt, meter);
        last_flow_ = z_ / dt;
        if (observer_) observer_(s);
        left -= dt;
        if (meter && until.actuator) {
            meter->peak_rod_force =
                std::max(meter->peak_rod_force, assembly_.actuator(*until.actuator).rod_force);
            meter->furthest_rod = std::max(meter->furthest_rod, s.actuators[*until.actuator].x);
        }
        if (rod && has_reached_force(*rod, dt)) {
            if (stopped_early) *stopped_early = true;
            break;
        }
    }
    transport(s, true);
    return {RunEnd::done, s.t, "", ""};
}

} // namespace clearstroke
