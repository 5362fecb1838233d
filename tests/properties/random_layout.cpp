#include "tests/properties/random_layout.hpp"

#include <algorithm>
#include <stdexcept>

#include "scenarios/build/acts.hpp"

namespace clearstroke::testing {
namespace {

constexpr int most_steps = 1'000'000; // half a minute to two; most need some thousand

/// Acts that may stand before a visit, each drawn as often as the others; empty where the circuit has no such
/// part.
class DrawnActs {
public:
    DrawnActs(Draw& draw, const Network& n) : d_(draw), n_(n) {}

    void some(std::vector<Act>& out) {
        while (d_.chance(0.4)) one(d_.count(0, 17), out);
    }

private:
    VolumeId volume() { return {d_.below(n_.volumes.size())}; }
    LineId line() { return {d_.below(n_.lines.size())}; }
    ActuatorId pedal() {
        for (;;)
            if (const std::size_t k = d_.below(n_.actuators.size()); !n_.actuators[k].pistons[0].blind)
                return {k};
    }
    void push_home(std::vector<Act>& out) {
        for (std::size_t k = 0; k < n_.actuators.size(); ++k)
            if (n_.actuators[k].pistons[0].blind) return out.push_back(PushHome{{k}});
    }
    void hold_valve(std::vector<Act>& out) {
        for (std::size_t l = 0; l < n_.lines.size(); ++l)
            if (n_.lines[l].valve) return out.push_back(HoldValve{{l}, true});
    }
    void one(int which, std::vector<Act>& out) {
        const auto in_turn = [&out](std::initializer_list<Act> acts) { out.insert(out.end(), acts); };
        const ScrewId screw{d_.below(n_.screws.size())};
        switch (which) {
        case 0:
            return in_turn({TurnPart{volume(), d_.between(-3.1, 3.1)}});
        case 1:
            return in_turn({LiftPart{volume(), d_.between(-0.2, 0.9)}});
        case 2:
            return in_turn({PitchVehicle{d_.between(-0.4, 0.4), d_.between(-0.4, 0.4)}});
        case 3:
            return in_turn({Cap{line(), d_.chance(0.6)}});
        case 4:
            return in_turn({Clamp{line(), d_.chance(0.6)}});
        case 5:
            return hold_valve(out);
        case 6:
            return in_turn({HoseEnd{d_.chance(0.5)}});
        case 7:
            return in_turn({Tap{}});
        case 8:
            return in_turn({Wait{d_.spread(1.0, 3600.0)}});
        case 9:
            return in_turn({TopUp{}});
        case 10:
            return in_turn({DrawOff{}});
        case 11:
            return push_home(out);
        case 12:
            return in_turn(
                {Press{pedal(), d_.between(0.05, 1.0), d_.spread(20.0, 1000.0), d_.between(0.0, 30.0)},
                 Release{pedal(), d_.spread(0.02, 1.0), 1.0}});
        case 13:
            return in_turn(
                {OpenScrew{screw, d_.between(0.1, 1.5)}, Wait{d_.between(1.0, 60.0)}, CloseScrew{screw}});
        case 14:
            return in_turn({ReservoirPressure{d_.between(0.2e5, 2e5)}, Wait{5.0}, ReservoirPressure{0.0}});
        case 15:
            return in_turn({HosePressure{d_.between(-0.8e5, 0.8e5)}, OpenScrew{screw, {}}, Wait{10.0},
                            CloseScrew{screw}, HosePressure{0.0}});
        case 16:
            return in_turn({Press{pedal(), 0.2, {}, 0.0}, HoseOff{}, Wait{30.0}, Release{}});
        default:
            return in_turn({OneWayHose{d_.chance(0.5)}, FillHose{}});
        }
    }

    Draw& d_;
    const Network& n_;
};

} // namespace

Contents random_contents(Draw& d, const Network& n) {
    Contents c;
    const double dry = d.chance(0.15) ? 0.9 : 0.0, some = d.between(0.0, 0.6), plugs = d.between(0.0, 0.4);
    for (const Volume& v : n.volumes) {
        const double gas = v.content * (d.chance(dry) ? 1.0 : d.chance(some) ? d.unit() * d.unit() : 0.0);
        c.volume_gas.push_back(gas);
        c.volume_held.push_back(d.chance(0.1) ? 0.5 * gas : 0.0);
    }
    for (std::size_t l = 0; l < n.lines.size(); ++l) {
        c.line_gas.emplace_back();
        const double begin = d.unit(), end = d.between(begin, 1.0);
        if (d.chance(dry))
            c.line_gas.back() = {{0.0, 1.0}};
        else if (d.chance(plugs))
            c.line_gas.back() = {{begin, end}};
    }
    c.fresh_fraction = d.unit();
    c.reservoir_fresh_fraction = 1.0;
    return c;
}

Procedure random_procedure(Draw& d, const Network& n) {
    Procedure p;
    const auto method = [&] { return *find_method(d.one_of(method_names())); };
    p.method = method();
    p.person.push_speed = d.spread(0.02, 0.25);
    p.person.release_speed = d.spread(0.03, 0.5);
    p.person.force_limit = d.spread(40.0, 600.0);
    p.person.stroke_share = d.between(0.3, 1.0);
    p.person.hold = d.between(0.1, 2.0);
    p.person.dwell = d.between(0.2, 4.0);
    p.person.move_time = d.between(5.0, 90.0);
    p.person.turns = d.between(0.2, 1.0);
    DrawnActs acts(d, n);
    for (int visits = d.count(1, 3); visits > 0; --visits) {
        Visit v{{d.below(n.screws.size())}, d.count(1, 3), {}, {}};
        acts.some(v.before);
        if (d.chance(0.5)) v.method = method();
        p.visits.push_back(v);
    }
    return p;
}

RandomLayout random_layout(std::uint64_t seed) {
    Draw draw(seed);
    RandomLayout out;
    out.network = random_network(draw);
    out.contents = random_contents(draw, out.network);
    out.procedure = random_procedure(draw, out.network);
    return out;
}

std::string described(const RandomLayout& r) {
    const Network& n = r.network;
    std::string out = std::to_string(n.volumes.size()) + " volumes, " + std::to_string(n.lines.size()) +
                      " lines, " + std::to_string(n.junctions.size()) + " tees, " +
                      std::to_string(n.screws.size()) + " screws, " + n.conditions.fluid.name;
    for (const Visit& v : r.procedure.visits) {
        out += "; ";
        for (const Act& a : v.before) out += write_act(a, n) + ", ";
        out += (v.method ? *v.method : r.procedure.method).name + " at " + n.screws[v.screw.index].name;
    }
    return out;
}

RandomRun run(const RandomLayout& r) {
    RandomRun out;
    try {
        Simulation sim(r.network);
        State s = sim.start(r.contents);
        sim.observe([&, steps = 0](const State&, Moment) mutable {
            if (++steps > most_steps)
                throw std::runtime_error("no end within " + std::to_string(most_steps) + " steps");
        });
        for (const Visit& v : r.procedure.visits) {
            const VisitRecord visit = sim.visit(s, v, r.procedure);
            out.status = visit.status;
            const Balance b = sim.balance(s);
            out.worst = {std::max(out.worst.liquid, b.liquid), std::max(out.worst.gas, b.gas)};
            if (!out.status.usable()) break;
        }
        for (const VolumeState& v : s.volumes) {
            out.sound = out.sound && v.liquid >= 0.0 && v.gas >= 0.0 && v.pressure > 0.0;
            out.bits.insert(out.bits.end(), {v.liquid, v.gas, v.pressure, v.fresh});
        }
        for (const auto& line : s.lines)
            for (const Cell& c : line) {
                out.sound = out.sound && c.liquid >= 0.0 && c.gas >= 0.0 && c.pressure > 0.0;
                out.bits.insert(out.bits.end(), {c.liquid, c.gas, c.pressure});
            }
        out.bits.insert(out.bits.end(),
                        {s.t, s.ledger.liquid_out, s.ledger.gas_in, s.ledger.gas_out, s.ledger.drawn});
    } catch (const std::invalid_argument& reason) {
        out.refused = reason.what();
    } catch (const std::exception& fault) {
        out.status = {RunEnd::non_finite_state, 0.0, "", fault.what()};
    }
    return out;
}

std::string failure_of(const RandomRun& one, const RandomRun& again) {
    constexpr double bound = 1e-12;
    if (!one.refused.empty()) return "";
    if (!one.status.usable())
        return "ended at " + std::to_string(one.status.t) + " s in " + one.status.where + ": " +
               one.status.detail;
    if (one.worst.liquid > bound || one.worst.gas > bound)
        return "balance " + std::to_string(1e12 * std::max(one.worst.liquid, one.worst.gas)) + "e-12";
    if (!one.sound) return "an amount or pressure below zero";
    return one.bits == again.bits ? "" : "other bits the second time";
}

} // namespace clearstroke::testing
