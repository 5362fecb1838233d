#pragma once
/// Quasi-static pedal: travel against force for given contents, all screws closed.
#include <vector>

#include "sim/run.hpp"

namespace clearstroke {

struct PedalPoint {
    double pad_force{};                  ///< [N]
    double pad_travel{};                 ///< [m]
    std::vector<double> pressure;        ///< per piston of the actuator [Pa]
    bool at_stop{};                      ///< a piston or the rod has reached its end
};

/// First stroke from rest. Compensating ports shut at their cut-off; what was displaced before went
/// back to the reservoir. Contents keep their inventories; pressure is uniform in a circuit up to
/// its heads, which are neglected (error below 0.1 bar).
[[nodiscard]] PedalPoint pedal_at(const Simulation&, const State&, ActuatorId, double pad_force);
[[nodiscard]] std::vector<PedalPoint> pedal_curve(const Simulation&, const State&, ActuatorId,
                                                  const std::vector<double>& pad_forces);

/// The same State with every gas replaced by liquid: the layout without air.
[[nodiscard]] State without_air(const Simulation&, const State&);

/// Pad travel at `pad_force` on successive quick strokes, released for `gap` seconds between [m].
[[nodiscard]] std::vector<double> successive_strokes(Simulation&, const State&, ActuatorId, double pad_force,
                                                     int count, double gap);

/// Pad travel gained while `pad_force` is held for `seconds` [m].
[[nodiscard]] double sink_under_hold(Simulation&, const State&, ActuatorId, double pad_force, double seconds);

}  // namespace clearstroke
