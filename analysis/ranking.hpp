#pragma once
/// Ranks results: those that meet the target first, by cost, then by excess; misses below, by excess, then by
/// cost (an unfinished job has no cost to compare); failed runs last. Neighbours that differ by no more than
/// the numerical resolution form one group. Source: ours.
#include <span>
#include <vector>

#include "analysis/plan_result.hpp"

namespace clearstroke {

enum class Cost { strokes, time, fluid };

/// Total strokes [-], hands-on time [s] or fluid drawn [m^3].
[[nodiscard]] double cost_of(const PlanResult&, Cost);

/// What ranking looks at.
struct Standing {
    bool failed{}, target_met{};
    double cost{}, excess{};
};
[[nodiscard]] Standing standing_of(const PlanResult&, Cost);

/// Differences up to these are ties.
struct TieWidth {
    double cost{}, excess{};
};

struct Place {
    std::size_t index{}; ///< of the standing
    int group{};         ///< from 1; equal: tied
};

/// Best first; within a group by index.
[[nodiscard]] std::vector<Place> rank(std::span<const Standing>, const TieWidth&);

} // namespace clearstroke
