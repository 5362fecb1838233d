#pragma once
/// The beam of plan_search.hpp: plans from copies of the State, at the usual inputs.
#include <memory>
#include <optional>

#include "analysis/order_row.hpp"

namespace clearstroke {

/// Visits made so far, and what they left.
struct PartPlan {
    std::shared_ptr<const State> state;
    std::vector<Visit> visits;
    std::vector<int> made;   ///< visits to each screw, by position
    std::vector<char> clear; ///< the last visit to it ended on what is seen
    std::size_t last{};      ///< position of the screw visited last
    double spent{}, excess{};
    AirInside air;
};

struct BeamRequest {
    std::vector<Visit> visits; ///< the file's, one per screw
    int most_visits{};
    std::size_t width{};
    Cost cost{};
    std::optional<double> known; ///< cost of an order that meets the target
    double least_gain{};         ///< plans that save no more are not followed
    double lambda{};             ///< of (A-14) [cost/m^3]
};

struct Beam {
    std::vector<PartPlan> complete; ///< reached the target, every screw clear; cheapest first
    TreeWork work;
    std::optional<double> bound;
};

[[nodiscard]] Beam search_plans(const Case&, const BeyondAll&, const BeamRequest&, const Settings& = {});

} // namespace clearstroke
