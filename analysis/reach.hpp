#pragma once
/// Air that can't be moved at each bleed screw, from geometry alone, and how far to turn the part to reach
/// it.
#include <optional>
#include <string>
#include <vector>

#include "analysis/plan_result.hpp"

namespace clearstroke {

/// Free air that stays above the opening of a screw, no flow, ambient pressure [m^3].
struct ScrewReach {
    ScrewId screw;
    bool has_pocket{};             ///< sits in a part with a cavity (not on a junction)
    double level{};                ///< vehicle as stated
    double nose_up{}, nose_down{}; ///< pitched by `attitude_step`
    double turn{};   ///< of the part that brings the opening to the top, clockwise from outboard [rad]
    double turned{}; ///< left then
};
inline constexpr double attitude_step = 0.17453292519943295; ///< 10 degrees [rad]

[[nodiscard]] std::vector<ScrewReach> reach_of_screws(const Network&);

/// Something to do about air that a procedure leaves.
struct Advice {
    std::string sentence;
    std::optional<Act> act; ///< that it speaks of
};

/// For each place with more than `worth` [m^3] beyond reach: what would move it.
[[nodiscard]] std::vector<Advice> advice_for(const Network&, const std::vector<PlaceAir>&,
                                             double worth = 5e-8);

/// For what a run left: air it can't move, and all the air where the rest stood still.
[[nodiscard]] std::vector<Advice> advice_for(const Network&, const PlanResult&);

/// Places of a run's air with all of it as air to move.
[[nodiscard]] std::vector<PlaceAir> all_that_stays(const PlanResult&);

} // namespace clearstroke
