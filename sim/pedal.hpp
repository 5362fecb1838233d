#pragma once
/// Pedal: travel against force for given contents, all screws closed, and what the travel is made of.
#include <string_view>
#include <vector>

#include "sim/pedal_stroke.hpp"

namespace clearstroke {

struct PedalPoint {
    double pad_force{};           ///< [N]
    double pad_travel{};          ///< [m]
    std::vector<double> pressure; ///< per piston of the actuator [Pa]
    bool at_stop{};               ///< a piston, the rod or the pad has reached its end
};

/// First stroke from rest, quasi-static, no vacuum in a booster. Compensating ports shut at their cut-off;
/// what was displaced before went back to the reservoir. Contents keep their inventories.
[[nodiscard]] PedalPoint pedal_at(const Simulation&, const State&, ActuatorId, double pad_force);
[[nodiscard]] std::vector<PedalPoint> pedal_curve(const Simulation&, const State&, ActuatorId,
                                                  const std::vector<double>& pad_forces);

/// The same State with every gas replaced by liquid: the layout without air.
[[nodiscard]] State without_air(const Simulation&, const State&);

/// What gives way under the pedal.
enum class Gives {
    lost_motion,
    air,
    fluid,
    hose,
    pipe,
    seals_and_pads,
    housing,
    slack,
    knocked_back,
    leaked,
    left_over
};
[[nodiscard]] std::string_view name_of(Gives);

/// A share of the travel, with the volume or line that it sits in; lost motion, what was knocked back, has
/// leaked or was left from the stroke before belongs to no part.
struct TravelShare {
    Gives cause{};
    bool of_line{};
    std::size_t index{};
    double travel{}; ///< at the pad [m]; left over: negative
};

/// Shares of the travel of a pressed pedal; they add up to it.
[[nodiscard]] std::vector<TravelShare> split_travel(const Network&, const PedalModel&, const PedalState&,
                                                    double gas_exponent = slow_gas);

} // namespace clearstroke
