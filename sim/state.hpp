#pragma once
/// Everything that changes during a procedure. A value: copy, keep, resume.
#include <array>
#include <limits>
#include <optional>
#include <vector>

#include "models/contents.hpp"
#include "models/laminar_streams.hpp"
#include "sim/network.hpp"

namespace clearstroke {

/// Amount below which a phase in a cell of line is too little to be an event or to feed a flow [m^3].
inline constexpr double trace_amount = 2e-11;

/// One or more lumps of a line that share a pressure (grouping.hpp): lumps [begin, end).
struct Cell {
    int begin{}, end{};
    double liquid{};      ///< [m^3] at ambient pressure; equals the sum over the train
    double gas{};         ///< [m^3] free air
    double pressure{};    ///< last computed [Pa]
    double play_memory{}; ///< [Pa] see elastic.hpp
    Train train;
};

struct VolumeState {
    double liquid{}, gas{};
    double theta{}; ///< see closure.hpp
    double pressure{};
    double play_memory{};
    double fresh{};     ///< share of fresh liquid [-]
    double held{};      ///< of the gas, held at the walls until they are tapped or washed [m^3] free air
    double dispersed{}; ///< of the gas, in small bubbles that go with the liquid [m^3] free air
    double given_up{};  ///< what its liquid has given up out of solution, G of (A-2) [m^3] free air
    double least_kept{std::numeric_limits<double>::infinity()}; ///< see BeyondReach::this_procedure [m^3]
};

struct ActuatorState {
    double x{};                  ///< rod travel from rest [m]
    double u{};                  ///< inner freedom, see network.hpp [m]
    std::vector<char> port_open; ///< per piston: compensating port uncovered
    bool slid{};                 ///< u moved against friction in the last step
};

struct ReservoirState {
    std::vector<double> liquid; ///< per chamber [m^3]
    double fresh{};
    double dispersed{}; ///< in small bubbles; no part of the circuit's gas before it is drawn [m^3] free air
};

/// The clear hose on one screw.
struct HoseState {
    ScrewId screw;
    std::vector<Cell> cells;
    bool fresh{}; ///< fitted full of fresh fluid, which is what comes back from it
};

/// Amounts that crossed the border since the start [m^3], for balances and reports.
struct Ledger {
    double liquid_start{}, gas_start{};
    double liquid_in{}, liquid_out{}; ///< top-ups; bottle (net, negative when drawn back)
    double gas_in{}, gas_out{}; ///< free air through reservoirs, hose end and threads, and out of solution
    double leaked_in{};         ///< free air drawn in past threads or from reservoirs
    double leaked_to_hose{};  ///< of that, past an open screw's thread or the hose's fit into the clear hose
    double out_of_solution{}; ///< of gas_in, free air
    double drawn{};           ///< liquid that left the reservoirs, net
    int top_ups{};
    double lowest_level{}; ///< least that any one reservoir held [m^3]
};

struct State {
    double t{};        ///< [s]
    double step{1e-4}; ///< last good step [s]
    std::vector<VolumeState> volumes;
    std::vector<std::vector<Cell>> lines; ///< cells of each line, from `from` to `to`
    std::vector<LaminarStreams> streams;  ///< old and fresh fluid, per line
    std::vector<std::array<double, 2>>
        line_flow; ///< at both ends of each line, towards `to` [m^3/s]; see (N-9)
    std::vector<ActuatorState> actuators;
    std::vector<ReservoirState> reservoirs;
    std::vector<double> screw_turns; ///< 0: closed
    std::vector<char> line_capped;
    std::optional<HoseState> hose;
    bool hose_submerged{true};
    bool hose_one_way{};             ///< a valve at the clear hose's end lets nothing back
    double hose_gauge{};             ///< at the clear hose's end: vacuum below zero [Pa]
    double reservoir_gauge{};        ///< above the fluid of all reservoirs [Pa]
    std::vector<char> valve_held;    ///< per line: its valve is held wide open
    std::vector<double> volume_lift; ///< of each part above its place [m]
    std::vector<double> volume_roll; ///< rotation of each part seen from outboard [rad]
    double pitch{}, roll{};          ///< of the vehicle [rad]
    Ledger ledger;
    double bottle{}; ///< liquid in the bottle [m^3]
};

} // namespace clearstroke
