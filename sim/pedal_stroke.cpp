#include "sim/pedal_stroke.hpp"

#include <algorithm>
#include <cmath>

namespace clearstroke {
namespace {

constexpr int most_iterations = 60;
constexpr double resolution = 1e-7;    // relative, of a pressure found
constexpr double hard_press = 5e6;     // gauge at which every seal has slid [Pa]
constexpr double settled = 100.0;      // gauge below which a circuit has given back all [Pa]
constexpr double unloading_step = 0.8; // ratio of successive pressures on the way back
constexpr int hold_steps = 16;
constexpr int push_steps = 12; // before the cut-off

enum class Going { down, back };

/// Forces on the pistons that a rod force makes; friction of the floating part acts on the second.
std::array<double, 2> piston_forces(const Actuator& a, double pushed, Going going) {
    const double sign = going == Going::down ? -1.0 : 1.0,
                 rod_force = std::max(pushed + sign * a.rod_friction, 0.0);
    switch (a.coupling) {
    case Coupling::single:
        return {rod_force, 0.0};
    case Coupling::tandem:
        return {rod_force, std::max(rod_force + sign * a.friction, 0.0)};
    case Coupling::balance_bar:
        return {a.bar_share * rod_force, (1.0 - a.bar_share) * rod_force};
    }
    return {};
}

double rod_travel(const PedalModel& m, const PedalState& s) {
    const double first = s.circuits[0].compression,
                 second = s.circuits.size() > 1 ? s.circuits[1].compression : 0.0;
    if (m.actuator.coupling == Coupling::balance_bar)
        return m.actuator.bar_share * first + (1.0 - m.actuator.bar_share) * second;
    return first + second;
}

/// Root of a rising function with slope, from `x`, in [0, inf).
template <class Function> double rising_root(Function f, double x) {
    double low = 0.0, high = 1e9;
    for (int i = 0; i < most_iterations; ++i) {
        const VolumeSlope y = f(x);
        (y.volume > 0.0 ? high : low) = x;
        double next = x - y.volume / y.slope;
        if (!(next > low && next < high)) next = high < 1e9 ? 0.5 * (low + high) : 2.0 * x + 1e3;
        if (std::abs(next - x) <= resolution * x + 1e-3) return next;
        x = next;
    }
    return x;
}

struct Yield {
    const PedalCircuit& circuit;
    const Medium& medium;
    const CircuitState& state;
    double exponent;
    [[nodiscard]] double beyond() const { return state.knocked + state.lost - state.left - state.driven; }
    VolumeSlope operator()(double gauge) const {
        return yielded(circuit, medium, state.memory, gauge, exponent);
    }
};

/// (P-2) for one piston.
bool press_piston(const PedalCircuit& c, const Medium& m, CircuitState& s, double force, double exponent) {
    const Piston& p = c.piston;
    const Yield yield{c, m, s, exponent};
    const double spare = force - p.spring.preload - p.spring.rate * p.cut_off;
    if (spare <= 0.0) {
        s.compression =
            force <= p.spring.preload ? 0.0 : std::min((force - p.spring.preload) / p.spring.rate, p.cut_off);
        s.pressure = 0.0;
        return false;
    }
    const auto excess = [&](double e) {
        const VolumeSlope v = yield(e);
        const double stiff = p.spring.rate / p.area;
        return VolumeSlope{p.area * e + stiff * (v.volume + yield.beyond()) - spare,
                           p.area + stiff * v.slope};
    };
    s.pressure = excess(0.0).volume >= 0.0 ? 0.0 : rising_root(excess, spare / p.area);
    s.compression = p.cut_off + (yield(s.pressure).volume + yield.beyond()) / p.area;
    if (s.pressure == 0.0)
        s.compression = std::clamp((force - p.spring.preload) / p.spring.rate, p.cut_off, s.compression);
    if (s.compression < p.stroke) return false;
    s.compression = p.stroke;
    const double room = (p.stroke - p.cut_off) * p.area - yield.beyond();
    const auto over = [&](double e) {
        const VolumeSlope v = yield(e);
        return VolumeSlope{v.volume - room, v.slope};
    };
    s.pressure = over(0.0).volume >= 0.0 ? 0.0 : rising_root(over, s.pressure + 1e4);
    return true;
}

PedalReading read(const PedalModel& m, const PedalState& s, double rod_force, bool at_stop) {
    PedalReading out{0.0, rod_travel(m, s), rod_force, at_stop};
    out.travel = m.actuator.ratio * (out.rod + (out.rod > 0.0 ? m.actuator.free_play : 0.0));
    return out;
}

PedalReading press_rod(const PedalModel& m, PedalState& s, double rod_force, double exponent,
                       Going going = Going::down) {
    const std::array<double, 2> force = piston_forces(m.actuator, rod_force, going);
    bool at_stop = false;
    for (std::size_t j = 0; j < m.circuits.size(); ++j)
        at_stop = press_piston(m.circuits[j], m.medium, s.circuits[j], force[j], exponent) || at_stop;
    return read(m, s, rod_force, at_stop);
}

void remember(const PedalModel& m, PedalState& s) {
    for (std::size_t j = 0; j < m.circuits.size(); ++j)
        for (std::size_t i = 0; i < m.circuits[j].parts.size(); ++i) {
            const PedalPart& p = m.circuits[j].parts[i];
            double& memory = s.circuits[j].memory[i];
            if (p.walls.play > 0.0)
                memory =
                    play_operator(p.rest - m.medium.ambient + s.circuits[j].pressure, p.walls.play, memory);
        }
}

/// (P-4): what a push at rod speed `speed` drives into the circuit before its port is shut. Gas as when slow:
/// pressures stay low.
double driven_before_cut_off(const PedalCircuit& c, const Medium& m, const CircuitState& s, double speed) {
    if (c.piston.port_blocked) return c.piston.area * c.piston.cut_off;
    if (speed <= 0.0) return 0.0;
    const double flow = c.piston.area * speed, dt = c.piston.cut_off / speed / push_steps,
                 r = c.path_resistance;
    const double start = s.left - s.knocked;
    double driven = 0.0, e = s.pressure;
    for (int i = 0; i < push_steps; ++i) {
        const double gain = (flow - volume_flow({c.port.a + r, c.port.b}, e + r * flow)) * dt;
        driven = std::max(driven + gain, -std::max(start, 0.0));
        if (start + driven > 0.0) e = std::max(e + gain / yielded(c, m, s.memory, e, slow_gas).slope, 0.0);
    }
    return driven;
}

/// Presses without touching what the seals remember, so that a floor can be looked for.
PedalReading reach(const PedalModel& m, PedalState& s, double pad_force, double exponent) {
    const double rod_force = boosted(m.actuator.booster, pad_force * m.actuator.ratio, s.vacuum);
    PedalReading out = press_rod(m, s, rod_force, exponent);
    const double floor = m.actuator.pad_travel;
    if (!(floor > 0.0 && out.travel > floor)) return out;
    double low = 0.0, high = rod_force;
    for (int i = 0; i < most_iterations && high - low > 1e-6 * rod_force; ++i) {
        const double middle = 0.5 * (low + high);
        (press_rod(m, s, middle, exponent).travel > floor ? high : low) = middle;
    }
    out = press_rod(m, s, low, exponent);
    out.travel = floor;
    out.at_stop = true;
    return out;
}

/// Flow along the path back to a piston that wants `wanted` and the suction there, (P-3).
struct Drawn {
    double flow{}, suction{};
};
Drawn drawn_back(const PedalCircuit& c, double ambient, double e, double wanted) {
    const double r = std::max(c.path_resistance, 1.0);
    if (e >= r * wanted) return {wanted, 0.0};
    const double lifted = e + c.piston.cup.cracking;
    if (lifted >= r * wanted) return {wanted, r * wanted - e};
    // r Q = lifted + drop of the cup at wanted - Q: the missing flow solves b x^2 + (a + r) x = r wanted -
    // lifted.
    const double missing = volume_flow({c.cup.a + r, c.cup.b}, r * wanted - lifted);
    const double suction = std::min(c.piston.cup.cracking + pressure_drop(c.cup, missing), ambient);
    return {std::min((e + suction) / r, wanted), suction};
}

/// The way back of one circuit: what is left after `moving` + `gap`, its pressure, suction times time.
struct Return {
    double left{}, pressure{}, starved{};
};
Return give_back(const PedalCircuit& c, const Medium& m, const CircuitState& s, double moving, double gap) {
    const Piston& p = c.piston;
    const double held = yielded(c, m, s.memory, s.pressure, slow_gas).volume;
    constexpr double least_flow = 1e-12; // [m^3/s]
    const double speed = std::max((s.compression - p.cut_off) * p.area / moving, least_flow);
    double time = 0.0, e = s.pressure, volume = held, starved = 0.0;
    while (e > settled) {
        const bool open = time >= moving;
        if (open && p.port_blocked) break;
        const double next_e = e * unloading_step, middle = 0.5 * (e + next_e);
        const double next = yielded(c, m, s.memory, next_e, slow_gas).volume;
        const Drawn drawn = open ? Drawn{volume_flow({c.port.a + c.path_resistance, c.port.b}, middle), 0.0}
                                 : drawn_back(c, m.ambient, middle, speed);
        const double step = (volume - next) / drawn.flow, until = open ? moving + gap : moving;
        const double share = std::min(1.0, (until - time) / step);
        starved += share * step * drawn.suction;
        volume -= share * (volume - next);
        e -= share * (e - next_e);
        time += share * step;
        if (share < 1.0 && open) break;
        if (share < 1.0) time = moving;
    }
    const double home = yielded(c, m, s.memory, 0.0, slow_gas).volume;
    if (e <= settled) return {home, 0.0, starved};
    return {volume, e, starved};
}

} // namespace

double boosted(const Booster& b, double rod_force, double vacuum) {
    return rod_force + std::min((b.gain - 1.0) * std::max(rod_force - b.from, 0.0), b.run_out * vacuum);
}

PedalState at_rest(const PedalModel& m) {
    PedalState out;
    for (const PedalCircuit& c : m.circuits) {
        CircuitState s;
        for (const PedalPart& p : c.parts) {
            s.memory.push_back(p.play_memory);
            s.knocked += p.knocked_back;
        }
        out.circuits.push_back(std::move(s));
    }
    return out;
}

PedalState used_before(const PedalModel& m) {
    PedalState out = at_rest(m);
    for (std::size_t j = 0; j < m.circuits.size(); ++j) {
        const PedalCircuit& c = m.circuits[j];
        CircuitState& s = out.circuits[j];
        for (std::size_t i = 0; i < c.parts.size(); ++i) {
            const double e = c.parts[i].rest - m.medium.ambient, play = c.parts[i].walls.play;
            s.memory[i] = play_operator(e, play, play_operator(e + hard_press, play, s.memory[i]));
        }
        s.left = yielded(c, m.medium, s.memory, 0.0, slow_gas).volume;
    }
    return out;
}

PedalReading press(const PedalModel& m, PedalState& s, double pad_force, const Push& push) {
    const double speed =
        push.pad_speed / m.actuator.ratio / (m.actuator.coupling == Coupling::tandem ? 2.0 : 1.0);
    for (std::size_t j = 0; j < m.circuits.size(); ++j)
        if (s.circuits[j].compression == 0.0)
            s.circuits[j].driven = driven_before_cut_off(m.circuits[j], m.medium, s.circuits[j], speed);
    const PedalReading out = reach(m, s, pad_force, push.gas_exponent);
    remember(m, s);
    return out;
}

PedalReading ease(const PedalModel& m, PedalState& s, double pad_force) {
    const double rod_force = boosted(m.actuator.booster, pad_force * m.actuator.ratio, s.vacuum);
    PedalReading out = press_rod(m, s, rod_force, slow_gas, Going::back);
    if (m.actuator.pad_travel > 0.0) out.travel = std::min(out.travel, m.actuator.pad_travel);
    remember(m, s);
    return out;
}

PedalReading hold(const PedalModel& m, PedalState& s, double pad_force, double seconds) {
    const double dt = seconds / hold_steps;
    PedalReading out = press(m, s, pad_force);
    for (int i = 0; i < hold_steps; ++i) {
        double leaks = 0.0;
        for (std::size_t j = 0; j < m.circuits.size(); ++j) {
            CircuitState& c = s.circuits[j];
            double leak = 0.0;
            for (const PedalPart& p : m.circuits[j].parts) leak += p.leak;
            const double gone = (leak + m.circuits[j].piston.bypass) * c.pressure * dt;
            c.lost += gone;
            c.spilled += leak * c.pressure * dt;
            leaks += gone;
        }
        if (leaks == 0.0) break;
        out = press(m, s, pad_force);
    }
    return out;
}

void let_go(PedalModel& m, PedalState& s, const PedalReading& pressed, double pad_speed, double gap,
            bool engine) {
    const double moving = std::max(pressed.travel / pad_speed, 1e-3);
    for (std::size_t j = 0; j < m.circuits.size(); ++j) {
        PedalCircuit& c = m.circuits[j];
        CircuitState& state = s.circuits[j];
        const Return back = give_back(c, m.medium, state, moving, gap);
        for (PedalPart& p : c.parts) {
            const double air = p.air_entry * back.starved;
            p.gas += air;
            state.drawn += air;
        }
        state.left = back.left;
        state.pressure = back.pressure;
        state.lost = state.compression = state.knocked = state.driven = 0.0;
        for (std::size_t i = 0; i < c.parts.size(); ++i) {
            const PedalPart& p = c.parts[i];
            state.memory[i] =
                play_operator(p.rest - m.medium.ambient + back.pressure, p.walls.play, state.memory[i]);
        }
    }
    if (!engine) s.vacuum *= 1.0 - m.actuator.booster.spent;
}

} // namespace clearstroke
