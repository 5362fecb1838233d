#pragma once
/// What a person can read at a pedal with a ruler, a watch and a force gauge, and what a pedal model says of
/// it.
///
/// The order of work: the first stroke pressed to rising forces; further quick strokes, each after `seconds`;
/// a stroke after a rest; a hold; then fresh strokes with the engine, clamps and the hand brake.
#include <span>
#include <string>
#include <vector>

#include "sim/pedal_stroke.hpp"

namespace clearstroke {

enum class Reads {
    travel,    ///< first stroke, engine off, at `force` [m]
    stroke,    ///< of the `count`-th stroke in a row, `seconds` apart, at `force` [m]
    rested,    ///< of a stroke after a rest of `seconds` [m]
    sink,      ///< gained while `force` is held for `seconds`, after the first two [m]
    lost,      ///< liquid that the reservoirs lose in that hold [m^3]
    engine,    ///< the pedal goes down by when the engine starts with `force` on it [m]
    clamped,   ///< first stroke at `force` with `hose` clamped [m]
    hand_brake ///< first stroke at `force` with the shoes held on by the hand brake [m]
};

struct Reading {
    Reads what{};
    double force{}; ///< as the gauge says [N]
    double seconds{};
    int count{1};
    LineId hose{};
};

/// A reading and what was read, with the standard deviation of the reading itself.
struct MeasuredReading {
    Reading reading;
    double value{}, error{};
};

[[nodiscard]] std::string text_of(const Reading&, const Network&);

/// Puts readings in the order of work.
void in_order_of_work(std::vector<MeasuredReading>&);

/// What of a person's hand and gauge is not known.
struct Hand {
    double quick_push{0.25}, quick_return{0.4}; ///< at the pad [m/s]
    double gas_exponent{1.2};                   ///< of quick strokes, between slow_gas and quick_gas [-]
    std::vector<double> force_error;            ///< of each reading, relative [-]
};

/// Parts that clamps shut off, one per reading (empty: no clamp).
[[nodiscard]] std::vector<ShutOff> clamps_of(std::span<const Reading>, const Network&, const PedalModel&);

/// One value per reading. Readings are in the order of work; `clamps` as clamps_of gives.
[[nodiscard]] std::vector<double> read_pedal(const PedalModel&, std::span<const Reading>,
                                             std::span<const ShutOff> clamps, const Hand&);

} // namespace clearstroke
