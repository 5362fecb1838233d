#pragma once
/// Strokes on a pedal model: press to a force, hold, let go, press again.
///
/// Pressing: after its cut-off d_c each piston displaces what its circuit yields beyond what is left in it,
///     A (d - d_c) = V_c(e) - V_left + V_knocked + V_lost,   F_j = F_0 + r d + A e                     (P-2)
/// with V_left what a previous stroke left and what a quick push drove into the circuit before the cut-off,
///     dV/dt = A v - Q,   e + R A v = (R + a) Q + b Q^2   while d < d_c,                               (P-4)
/// V_knocked taken up once, V_lost what has leaked. A piston at its
/// stop, or the pad at the floor, fixes d and so e. Holding: V_lost grows by (bypass + leak) e dt.
/// Letting go: the piston goes back in the time t_r; the circuit returns
///     Q = min(A v, (e + e_s) / R)   while it moves,   e = (R + a) Q + b Q^2   with the port open      (P-3)
/// R: path resistance, a and b of the compensating port, e_s the suction (at most one atmosphere) at which
/// the cup lets the missing A v - Q through. What the circuit
/// has not given back when the next stroke begins is V_left: it shortens that stroke (pumping up). A blocked
/// port gives nothing back, not before the cut-off either. While the cup is open a leaky joint draws
/// air_entry e_s dt. Frictions oppose the push and, easing off, the return. Valid: quasi-static; one pressure
/// per circuit. Source: ours (statics, mass balance).
#include "sim/pedal_model.hpp"

namespace clearstroke {

struct CircuitState {
    double left{};              ///< V_left of the stroke before [m^3]
    double driven{};            ///< V of (P-4), in the present stroke [m^3]
    double knocked{};           ///< V_knocked still to be taken up [m^3]
    double lost{};              ///< V_lost in the present stroke [m^3]
    double pressure{};          ///< gauge, of the present stroke [Pa]
    double compression{};       ///< d [m]
    double drawn{};             ///< free air drawn in so far [m^3]
    double spilled{};           ///< liquid lost to the outside so far [m^3]
    std::vector<double> memory; ///< per part [Pa]
};

struct PedalState {
    std::vector<CircuitState> circuits;
    double vacuum{}; ///< share of the booster's full vacuum [-]
};

struct PedalReading {
    double travel{};    ///< at the pad [m]
    double rod{};       ///< [m]
    double rod_force{}; ///< [N]
    bool at_stop{};     ///< a piston at its end or the pad at the floor
};

/// As the model says, no vacuum.
[[nodiscard]] PedalState at_rest(const PedalModel&);
/// After the pedal has been pressed hard and let go for long: seals stand where that left them.
[[nodiscard]] PedalState used_before(const PedalModel&);

/// (M-5).
[[nodiscard]] double boosted(const Booster&, double rod_force, double vacuum);

/// How fast the pedal is pushed.
struct Push {
    double gas_exponent{slow_gas};
    double pad_speed{}; ///< until the cut-off [m/s]; 0: so slowly that all goes to the reservoir
};

/// Presses to `pad_force` [N]; the state then is that of the pressed pedal.
PedalReading press(const PedalModel&, PedalState&, double pad_force, const Push& = {});
/// Eases off to `pad_force` from a harder press: frictions turn round, seals keep their volume.
PedalReading ease(const PedalModel&, PedalState&, double pad_force);
/// Holds the force for `seconds` more.
PedalReading hold(const PedalModel&, PedalState&, double pad_force, double seconds);
/// Lets go at `pad_speed` [m/s] and waits `gap` seconds. The engine keeps the vacuum if it runs.
void let_go(PedalModel&, PedalState&, const PedalReading&, double pad_speed, double gap, bool engine = false);

} // namespace clearstroke
