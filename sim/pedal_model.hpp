#pragma once
/// A circuit as the pedal feels it: per piston, everything that gives volume at one pressure.
///
///     V_c(e) = sum over parts [ gas(rest) - gas(rest + e) + walls(rest + e) - walls(rest) ] + liquid   (P-1)
/// with e the gauge pressure above rest, gas by closure.hpp to the power 1/n (n = 1 slow, 1.4 quick), walls
/// by elastic.hpp. Sign: V grows with e. Pressure is uniform in a circuit; the heads within it (below
/// 0.1 bar) only set where gas and walls rest. Valid: pressing slower than lines and pockets settle (0.1 s).
/// Source: ours (statics).
#include <vector>

#include "models/closure.hpp"
#include "sim/run.hpp"

namespace clearstroke {

/// A volume, or all cells of a line.
struct PedalPart {
    bool line{};
    std::size_t index{};
    double gas{};    ///< free air [m^3]
    double rest{};   ///< pressure at rest [Pa]
    double liquid{}; ///< at ambient pressure [m^3]
    ElasticLaw walls;
    double play_memory{};                       ///< at rest [Pa]
    double knocked_back{}, leak{}, air_entry{}; ///< see network.hpp
    bool shoes{}; ///< drum shoes behind the middle of the vehicle, where a hand brake acts
};

/// One piston and what it feeds.
struct PedalCircuit {
    Piston piston;
    DropLaw port, cup;        ///< compensating port and open cup with this liquid
    double path_resistance{}; ///< from the parts at the lines' ends back to the chamber [Pa s/m^3]
    std::vector<PedalPart> parts;
};

struct PedalModel {
    Actuator actuator;
    Medium medium;
    std::vector<PedalCircuit> circuits; ///< per piston
};

/// Contents and walls of `state`; faults of the network.
[[nodiscard]] PedalModel make_pedal_model(const Simulation&, const State&, ActuatorId);

/// Parts, per circuit, that a clamp on a line shuts off: the line and all that is fed through it only.
using ShutOff = std::vector<std::vector<std::size_t>>;
[[nodiscard]] ShutOff shut_off_by(const PedalModel&, const Network&, LineId clamped);
[[nodiscard]] PedalModel without(const PedalModel&, const ShutOff&);

/// Gas exponents of (P-1).
inline constexpr double slow_gas = 1.0, quick_gas = 1.4;

/// (P-1) and its slope; `memory` per part [Pa].
[[nodiscard]] VolumeSlope yielded(const PedalCircuit&, const Medium&, const std::vector<double>& memory,
                                  double gauge, double gas_exponent);

} // namespace clearstroke
