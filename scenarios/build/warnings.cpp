/// What will go wrong, told before anything is run.
#include <algorithm>
#include <cmath>

#include <fmt/format.h>

#include "models/constants.hpp"
#include "models/gas.hpp"
#include "models/long_bubble.hpp"
#include "models/tube_flow.hpp"
#include "scenarios/build/parts.hpp"
#include "sim/layout.hpp"
#include "sim/sudden_opening.hpp"

namespace clearstroke {
namespace {

constexpr double loop_rise = 0.02; // above both ends that counts as a loop [m]
constexpr double hour = 3600.0;    // [s]
constexpr double as_good_as = 1.0; // rise in an hour below which gas stays where it is [m]

std::vector<Act> all_acts(const Procedure& p) {
    std::vector<Act> out = p.prepare;
    const auto add = [&](const std::vector<Act>& acts) { out.insert(out.end(), acts.begin(), acts.end()); };
    const auto add_method = [&](const Method& m) {
        for (const auto* acts : {&m.arrive, &m.stroke, &m.leave}) add(*acts);
    };
    add_method(p.method);
    for (const Visit& v : p.visits) {
        add(v.before);
        if (v.method) add_method(*v.method);
    }
    return out;
}

/// Largest gauge pressure that the acts put on the circuit [Pa]; nothing when a foot or hand does.
std::optional<double> largest_source(const std::vector<Act>& acts) {
    double most = 0.0;
    for (const Act& act : acts) {
        if (std::holds_alternative<Press>(act)) return std::nullopt;
        if (const auto* a = std::get_if<ReservoirPressure>(&act)) most = std::max(most, a->gauge);
    }
    return most;
}

void warn_of_valves(Inputs& in, const Network& net, const std::vector<Act>& acts) {
    const auto source = largest_source(acts);
    for (std::size_t l = 0; l < net.lines.size(); ++l) {
        const auto& valve = net.lines[l].valve;
        const bool held = std::ranges::any_of(acts, [&](const Act& act) {
            const auto* a = std::get_if<HoldValve>(&act);
            return a && a->open && a->line.index == l;
        });
        if (!valve || held) continue;
        if (valve->kind == ValveKind::shut)
            in.warn(
                fmt::format("the valve of {} is shut: what lies behind it is not bled unless it is held open",
                            net.lines[l].name));
        if (valve->kind == ValveKind::metering && source && *source < valve->hold_off)
            in.warn(fmt::format("the metering valve of {} passes from {:.1f} bar on, this method gives "
                                "{:.1f} bar: hold it open",
                                net.lines[l].name, valve->hold_off / 1e5, *source / 1e5));
    }
}

void warn_of_loops(Inputs& in, const Network& net) {
    for (const Line& line : net.lines) {
        const double ends = std::max(line.from_height, line.to_height);
        double top = ends;
        for (const HeightPoint& p : line.heights) top = std::max(top, p.height);
        if (top > ends + loop_rise)
            in.warn(fmt::format("{} has a loop {:.0f} mm above both its ends: air stays there unless the "
                                "fluid carries it over",
                                line.name, 1e3 * (top - ends)));
    }
}

/// Lengths and heights that do not go together: one of them is not what it is on the vehicle.
void warn_of_short_lines(Inputs& in, const Network& net) {
    constexpr double rounding = 1.1; // of lengths and heights of ends
    constexpr double bends = 2.0;    // where between the ends a pipe bends is seldom measured
    for (const Line& line : net.lines) {
        const double ends = std::abs(line.to_height - line.from_height), least = shortest_length(line);
        if (ends > rounding * line.length || least > bends * line.length)
            in.warn(fmt::format("{} is {:.2f} m long, but its heights need {:.2f} m (from {:.2f} to {:.2f} m "
                                "above ground): measure its length, or state the heights of its ends",
                                line.name, line.length, least, line.from_height, line.to_height));
    }
}

double above_outlets(const Reservoir& tank) {
    return std::max(tank.initial - tank.outlet_height * tank.area, 0.0);
}

/// Top-ups come between strokes, so a stroke must not take what stands above the outlets.
void warn_of_reservoirs(Inputs& in, const Network& net) {
    for (std::size_t r = 0; r < net.reservoirs.size(); ++r) {
        double stroke = 0.0;
        for (const Actuator& a : net.actuators)
            for (const Piston& p : a.pistons)
                if (!p.blind && !p.inlet && p.reservoir.index == r) stroke += p.area * p.stroke;
        const Reservoir& tank = net.reservoirs[r];
        const double above = above_outlets(tank);
        if (stroke > above)
            in.warn(fmt::format(
                "{} holds {:.1f} mL above its outlets, one full stroke takes {:.1f} mL: shorten the strokes",
                tank.name, 1e6 * above, 1e6 * stroke));
    }
}

/// A method that only waits and looks at an open screw: what drives the fluid, and for how long.
struct Look {
    double gauge{}; ///< of reservoir against hose end [Pa]
    double seconds{};
};
std::optional<Look> look_of(const Method& m) {
    Look look;
    for (const auto* acts : {&m.arrive, &m.stroke})
        for (const Act& act : *acts) {
            if (std::holds_alternative<Press>(act)) return std::nullopt;
            if (const auto* a = std::get_if<ReservoirPressure>(&act)) look.gauge += a->gauge;
            if (const auto* a = std::get_if<HosePressure>(&act)) look.gauge -= a->gauge;
        }
    for (const Act& act : m.stroke)
        if (const auto* a = std::get_if<Wait>(&act)) look.seconds += a->seconds;
    return look.seconds > 0.0 && look.gauge >= 0.0 ? std::optional(look) : std::nullopt;
}

/// The reservoir with least above its outlets of those that feed the circuit of a screw; none where none does.
const Reservoir* least_reservoir(const Network& net, const Circuits& circuits, ScrewId screw) {
    const Reservoir* least = nullptr;
    for (const Actuator& a : net.actuators)
        for (const Piston& p : a.pistons) {
            if (p.blind || p.inlet || circuits.of_volume[p.chamber.index] != circuits.of_screw[screw.index])
                continue;
            const Reservoir& tank = net.reservoirs[p.reservoir.index];
            if (!least || above_outlets(tank) < above_outlets(*least)) least = &tank;
        }
    return least;
}

/// Top-ups come between looks too: a look must not take what stands above the outlets, and something must drive it.
void warn_of_looks(Inputs& in, const Case& c) {
    const Network& net = c.network;
    const std::vector<double> still(net.volumes.size(), 0.0);
    const Layout layout = make_layout(net, {net.conditions.pitch, net.conditions.roll, still, still}, 1);
    const Circuits circuits = find_circuits(net);
    for (const Visit& v : c.procedure.visits) {
        const auto look = look_of(v.method ? *v.method : c.procedure.method);
        const Reservoir* tank = least_reservoir(net, circuits, v.screw);
        if (!look || !tank) continue;
        const std::string& screw = net.screws[v.screw.index].name;
        const double head = tank->floor_height + tank->initial / tank->area -
                            layout.hoses[v.screw.index].lumps.back().to_height,
                     pressure = look->gauge + layout.liquid.density * standard_gravity * head;
        if (pressure <= 0.0)
            return in.warn(
                fmt::format("the fluid in {} stands {:.0f} mm below the end of the hose at {}: nothing flows "
                            "there by itself",
                            tank->name, -1e3 * head, screw));
        const double flow = sudden_opening(net, v.screw, c.procedure.person.turns, pressure).flow,
                     above = above_outlets(*tank);
        if (flow * look->seconds > above)
            return in.warn(fmt::format(
                "{} holds {:.0f} mL above its outlets, a look of {:.0f} s at {} takes up to {:.0f} mL: "
                "look for at most {:.0f} s (operator.watch) and top up after each, or press with less",
                tank->name, 1e6 * above, look->seconds, screw, 1e6 * flow * look->seconds,
                std::max(std::floor(above / flow), 1.0)));
    }
}

/// Largest volume that a stroke displaces into the circuit of a screw [m^3].
double stroke_into(const Network& net, const Circuits& circuits, ScrewId screw, double share) {
    double most = 0.0;
    for (const Actuator& a : net.actuators)
        for (const Piston& p : a.pistons)
            if (circuits.of_volume[p.chamber.index] == circuits.of_screw[screw.index])
                most = std::max(most, share * p.area * p.stroke);
    return most;
}

/// Gas at the start in the part that a screw sits in and in the lines to it [m^3].
double gas_on_the_way(const Case& c, ScrewId screw) {
    double gas = 0.0;
    if (const auto* port = std::get_if<PortRef>(&c.network.screws[screw.index].at))
        gas += c.contents.volume_gas[port->volume.index];
    for (const LineId id : shortest_path(c.network, screw)) gas += gas_in_line(c.network, c.contents, id);
    return gas;
}

/// A visit takes at least what fills the clear hose, the strokes that end it, and fluid in the place of the gas on its way.
void warn_of_visits(Inputs& in, const Case& c) {
    const Network& net = c.network;
    const Circuits circuits = find_circuits(net);
    const StopRule& stop = c.procedure.stop;
    const double hose = circle_area(net.catch_hose.bore) * net.catch_hose.length;
    for (const Visit& v : c.procedure.visits) {
        const Reservoir* tank = least_reservoir(net, circuits, v.screw);
        if (!tank || look_of(v.method ? *v.method : c.procedure.method)) continue;
        const double takes =
            stop.hose_volumes * hose + gas_on_the_way(c, v.screw) +
            stop.clear_strokes * stroke_into(net, circuits, v.screw, c.procedure.person.stroke_share);
        if (takes > above_outlets(*tank))
            return in.warn(fmt::format(
                "{} holds {:.0f} mL above its outlets, a visit to {} takes at least {:.0f} mL: "
                "top up between its strokes, not only between visits",
                tank->name, 1e6 * above_outlets(*tank), net.screws[v.screw.index].name, 1e6 * takes));
    }
}

/// Methods that wait for gas to rise: how far it does.
void warn_of_still_gas(Inputs& in, const Case& c, const std::vector<Act>& acts) {
    const bool strokes = std::ranges::any_of(acts, [](const Act& act) {
        const auto* press = std::get_if<Press>(&act);
        return press && !press->share && !press->hold;
    });
    const bool driven = std::ranges::any_of(acts, [](const Act& act) {
        return std::holds_alternative<ReservoirPressure>(act) || std::holds_alternative<HosePressure>(act);
    });
    if (strokes || driven) return;
    const Conditions& k = c.network.conditions;
    const Liquid liquid = liquid_at(k.fluid, k.temperature);
    std::vector<double> told;
    for (std::size_t l = 0; l < c.network.lines.size(); ++l) {
        const Line& line = c.network.lines[l];
        const double rise =
            hour * bubble_rise_speed(line.bore, liquid, air_density(k.ambient_pressure, k.temperature));
        if (c.contents.line_gas[l].empty() || rise > as_good_as ||
            std::ranges::find(told, line.bore) != told.end())
            continue;
        told.push_back(line.bore);
        in.warn(fmt::format("air in a bore of {:.1f} mm ({}) rises {:.0f} mm an hour by itself: this method "
                            "moves it only as fast as "
                            "the fluid goes",
                            1e3 * line.bore, line.name, 1e3 * rise));
    }
}

/// Turns by which a method opens the screw while the pedal is pressed; nothing where it does not.
std::optional<double> opened_under_pressure(const Method& m, const Operator& person) {
    bool pressed = false;
    for (const Act& act : m.stroke) {
        if (std::holds_alternative<Press>(act)) pressed = true;
        if (std::holds_alternative<Release>(act)) pressed = false;
        if (const auto* a = std::get_if<OpenScrew>(&act); a && pressed)
            return a->turns.value_or(person.turns);
    }
    return std::nullopt;
}

/// Highest gauge pressure [Pa] that the operator's force makes in the circuit of a screw.
double highest_pressure(const Network& net, const Circuits& circuits, ScrewId screw, const Operator& person) {
    double most = 0.0;
    for (const Actuator& a : net.actuators)
        for (const Piston& p : a.pistons)
            if (!p.blind && circuits.of_volume[p.chamber.index] == circuits.of_screw[screw.index])
                most = std::max(most, (person.force_limit * a.ratio - a.rod_friction) / p.area);
    return most;
}

/// Screws opened at more than 10 bar: what the quasi-steady run leaves out, at the screw where it is most.
void warn_of_violent_openings(Inputs& in, const Case& c) {
    constexpr double violent = 10e5; // [Pa]
    if (c.network.conditions.unsteady_lines) return;
    const Procedure& work = c.procedure;
    const Circuits circuits = find_circuits(c.network);
    SuddenOpening worst;
    double pressure = 0.0;
    std::string where;
    for (const Visit& v : work.visits) {
        const auto turns = opened_under_pressure(v.method ? *v.method : work.method, work.person);
        const double p = highest_pressure(c.network, circuits, v.screw, work.person);
        if (!turns || p <= violent) continue;
        const SuddenOpening one = sudden_opening(c.network, v.screw, *turns, p);
        if (one.starting_time <= worst.starting_time) continue;
        worst = one;
        pressure = p;
        where = c.network.screws[v.screw.index].name;
    }
    if (where.empty()) return;
    const double open = work.person.hold + work.person.act_time;
    in.warn(fmt::format(
        "opened under up to {:.0f} bar at {}: the fluid's inertia, which is left out, takes up to "
        "{:.0f} ms ({:.1f} % of an opening of {:.1f} s); turbulence, left out in pipes, up to "
        "{:.1f} % of the flow; model.line_flow = \"unsteady\" runs with both",
        pressure / 1e5, where, 1e3 * worst.starting_time, 100.0 * worst.starting_time / open, open,
        100.0 * worst.run_too_fast));
}

} // namespace

void warn_of_work(Inputs& in, const Case& c) {
    const std::vector<Act> acts = all_acts(c.procedure);
    warn_of_valves(in, c.network, acts);
    warn_of_loops(in, c.network);
    warn_of_short_lines(in, c.network);
    warn_of_reservoirs(in, c.network);
    warn_of_visits(in, c);
    warn_of_looks(in, c);
    warn_of_still_gas(in, c, acts);
    warn_of_violent_openings(in, c);
}

} // namespace clearstroke
