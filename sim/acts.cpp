/// What each act does to a State.
#include <algorithm>
#include <cmath>

#include "sim/simulation.hpp"

namespace clearstroke {

namespace {

/// Rod travel at which no piston can go on: all at their stops, or one of them and the bar at the end of its travel (M-1).
double travel_to_stops(const Actuator& a) {
    const double first = a.pistons[0].stroke;
    if (a.pistons.size() == 1) return first;
    const double second = a.pistons[1].stroke;
    if (a.coupling == Coupling::tandem) return first + second;
    return std::min({std::lerp(second, first, a.bar_share), first + (1.0 - a.bar_share) * a.bar_travel,
                     second + a.bar_share * a.bar_travel});
}

} // namespace

double full_rod_travel(const Actuator& a) {
    const double travel = travel_to_stops(a);
    return a.pad_travel > 0.0 ? std::min(travel, a.pad_travel / a.ratio - a.free_play) : travel;
}

std::size_t Simulation::Impl::actuator_for(std::optional<ActuatorId> chosen,
                                           std::optional<ScrewId> here) const {
    if (chosen) return chosen->index;
    if (here)
        for (std::size_t k = 0; k < net.actuators.size(); ++k)
            for (const Piston& p : net.actuators[k].pistons)
                if (!p.blind && circuits.of_volume[p.chamber.index] == circuits.of_screw[here->index])
                    return k;
    return 0;
}

RunStatus Simulation::Impl::press(State& s, std::size_t k, const Operator& person) {
    const Actuator& a = net.actuators[k];
    const double target = full_rod_travel(a) * person.stroke_share;
    if (s.actuators[k].x >= target) return pass(s, person.hold);
    const Drive drive{Drive::Mode::push, person.push_speed / a.ratio,
                      std::max(person.force_limit * a.ratio - a.rod_friction, 1.0)};
    const double patience = 4.0 * target / drive.speed + 1.0;
    if (RunStatus r = engine.advance(s, {patience, k, drive, target, true}, watch()); !r.usable()) return r;
    // The foot follows at its force limit until the travel limit, then stays.
    const double until = s.t + person.hold;
    if (RunStatus r = engine.advance(s, {person.hold, k, drive, target, false}, watch()); !r.usable())
        return r;
    return s.t < until ? pass(s, until - s.t) : RunStatus{RunEnd::done, s.t, "", ""};
}

RunStatus Simulation::Impl::release(State& s, std::size_t k, const Operator& person) {
    const Drive drive{Drive::Mode::back, person.release_speed / net.actuators[k].ratio, 0.0};
    const double patience = s.actuators[k].x / drive.speed + 1.0;
    if (RunStatus r = engine.advance(s, {patience, k, drive, 0.0, false}, watch()); !r.usable()) return r;
    return pass(s, person.dwell);
}

void Simulation::Impl::top_up(State& s) {
    for (std::size_t r = 0; r < s.reservoirs.size(); ++r) {
        ReservoirState& tank = s.reservoirs[r];
        const double held = held_in(tank);
        const double added = net.reservoirs[r].initial - held;
        if (added <= 0.0) continue;
        tank.fresh = (tank.fresh * held + added) / (held + added);
        for (double& c : tank.liquid) c = net.reservoirs[r].initial / static_cast<double>(tank.liquid.size());
        tank.dispersed += poured_with(net.conditions, added);
        s.ledger.liquid_in += added;
    }
    ++s.ledger.top_ups;
}

void Simulation::Impl::draw_off(State& s) {
    for (std::size_t r = 0; r < s.reservoirs.size(); ++r) {
        ReservoirState& tank = s.reservoirs[r];
        const double held = held_in(tank), above = held - net.reservoirs[r].initial;
        if (above <= 0.0) continue;
        for (double& c : tank.liquid) c = net.reservoirs[r].initial / static_cast<double>(tank.liquid.size());
        tank.dispersed *= net.reservoirs[r].initial / held;
        s.ledger.liquid_out += above;
    }
}

void Simulation::Impl::detach_hose(State& s) {
    if (!s.hose) return;
    for (const Cell& c : s.hose->cells) {
        s.ledger.liquid_out += c.liquid;
        s.ledger.gas_out += c.gas;
        s.bottle += c.liquid;
    }
    s.hose.reset();
}

void Simulation::Impl::attach_hose(State& s, ScrewId screw, bool full) {
    detach_hose(s);
    const Layout& layout = engine.layout(s);
    const std::vector<GasStretch> air =
        full ? std::vector<GasStretch>{} : std::vector<GasStretch>{{0.0, 1.0}};
    HoseState hose{
        screw, fill_line(layout.hoses[screw.index], air, layout.medium, layout.medium.ambient, 0.0), full};
    for (const Cell& c : hose.cells) {
        s.ledger.gas_in += c.gas;
        s.ledger.liquid_in += c.liquid;
    }
    s.hose = std::move(hose);
}

namespace {

/// Lines whose `from` end is in the part that a screw opens.
std::vector<std::size_t> lines_from(const Network& net, ScrewId screw) {
    const auto at = [&](const End& end) {
        const Screw& s = net.screws[screw.index];
        if (const auto* port = std::get_if<PortRef>(&s.at))
            return std::holds_alternative<PortRef>(end) && std::get<PortRef>(end).volume == port->volume;
        return std::holds_alternative<JunctionId>(end) &&
               std::get<JunctionId>(end) == std::get<JunctionId>(s.at);
    };
    std::vector<std::size_t> out;
    for (std::size_t l = 0; l < net.lines.size(); ++l)
        if (at(net.lines[l].from)) out.push_back(l);
    return out;
}

} // namespace

struct Simulation::Impl::Performer {
    Impl& in;
    State& s;
    const Operator& person;
    std::optional<ScrewId> here;

    ScrewId screw(const std::optional<ScrewId>& named) const {
        if (named) return *named;
        if (here) return *here;
        throw std::invalid_argument("an act on a screw outside a visit must name the screw");
    }
    RunStatus done() const { return {RunEnd::done, s.t, "", ""}; }

    RunStatus turn_screw(ScrewId id, double turns) const {
        if (turns == 0.0) s.screw_turns[id.index] = 0.0; // it is shut first, then the time passes
        RunStatus r = in.pass(s, person.act_time);
        s.screw_turns[id.index] = turns;
        return r;
    }
    RunStatus turn_all(double turns) const {
        RunStatus r = done();
        for (std::size_t i = 0; i < in.net.screws.size() && r.usable(); ++i)
            if (in.circuits.of_screw[i] == in.circuits.of_screw[screw({}).index])
                r = turn_screw(ScrewId{i}, turns);
        return r;
    }

    RunStatus operator()(const OpenScrew& a) const {
        return turn_screw(screw(a.screw), a.turns.value_or(person.turns));
    }
    RunStatus operator()(const CloseScrew& a) const { return turn_screw(screw(a.screw), 0.0); }
    RunStatus operator()(const OpenAll&) const { return turn_all(person.turns); }
    RunStatus operator()(const CloseAll&) const { return turn_all(0.0); }
    RunStatus operator()(const Press& a) const {
        Operator one = person;
        one.stroke_share = a.share.value_or(person.stroke_share);
        one.force_limit = a.force.value_or(person.force_limit);
        one.hold = a.hold.value_or(person.hold);
        return in.press(s, in.actuator_for(a.actuator, here), one);
    }
    RunStatus operator()(const Release& a) const {
        Operator one = person;
        one.release_speed = a.speed.value_or(person.release_speed);
        one.dwell = a.dwell.value_or(person.dwell);
        return in.release(s, in.actuator_for(a.actuator, here), one);
    }
    RunStatus operator()(const PushHome& a) const {
        Operator one = person;
        one.stroke_share = 1.0;
        return in.press(s, a.actuator.index, one);
    }
    RunStatus operator()(const Wait& a) const { return in.pass(s, a.seconds); }
    RunStatus operator()(const TopUp&) const {
        in.top_up(s);
        return done();
    }
    RunStatus operator()(const DrawOff&) const {
        in.draw_off(s);
        return done();
    }
    RunStatus operator()(const TurnPart& a) const {
        s.volume_roll[a.volume.index] = a.roll;
        return done();
    }
    RunStatus operator()(const LiftPart& a) const {
        s.volume_lift[a.volume.index] = a.lift;
        return done();
    }
    RunStatus operator()(const PitchVehicle& a) const {
        s.pitch = a.pitch;
        s.roll = a.roll;
        return done();
    }
    RunStatus operator()(const Cap& a) const {
        s.line_capped[a.line.index] = a.capped;
        return done();
    }
    RunStatus operator()(const CapAround& a) const {
        for (const std::size_t l : lines_from(in.net, screw({}))) s.line_capped[l] = a.capped;
        return done();
    }
    RunStatus operator()(const Clamp& a) const {
        s.line_capped[a.line.index] = a.clamped;
        return done();
    }
    RunStatus operator()(const HoldValve& a) const {
        s.valve_held[a.line.index] = a.open;
        return done();
    }
    RunStatus operator()(const HoseEnd& a) const {
        s.hose_submerged = a.submerged;
        return done();
    }
    RunStatus operator()(const HoseOff&) const {
        in.detach_hose(s);
        return done();
    }
    RunStatus operator()(const FillHose&) const {
        in.attach_hose(s, screw({}), true);
        return done();
    }
    RunStatus operator()(const OneWayHose& a) const {
        s.hose_one_way = a.fitted;
        return done();
    }
    RunStatus operator()(const HosePressure& a) const {
        s.hose_gauge = a.gauge;
        return done();
    }
    RunStatus operator()(const ReservoirPressure& a) const {
        s.reservoir_gauge = a.gauge;
        return done();
    }
    RunStatus operator()(const Tap& a) const {
        for (std::size_t v = 0; v < s.volumes.size(); ++v)
            if (!a.volume || a.volume->index == v) s.volumes[v].held = 0.0;
        return done();
    }
};

RunStatus Simulation::Impl::perform(State& s, const Act& act, const Operator& person,
                                    std::optional<ScrewId> here) {
    return std::visit(Performer{*this, s, person, here}, act);
}

} // namespace clearstroke
