#pragma once
/// What samples of the uncertain inputs say about alternatives that all ran on the same samples.
///
/// Quantiles over samples are the parameter uncertainty; the spread between scramblings is what sampling
/// leaves uncertain. In each sample the best group of the ranking shares one credit. The alternative
/// most often in that group is chosen on half of the scramblings and judged on the other half, so that luck
/// in choosing does not flatter it. Differences are paired: both sides of each come from the same sample.
#include <array>
#include <string>
#include <vector>

#include "analysis/sampling.hpp"
#include "analysis/statistics.hpp"

namespace clearstroke {

/// 5, 50 and 95 % quantiles over samples.
using Quantiles = std::array<Estimate, 3>;
inline constexpr std::array<double, 3> quantile_levels{0.05, 0.50, 0.95};

/// An alternative against the chosen one, on the judging half.
struct Paired {
    Estimate behind, tied, ahead; ///< shares of samples [-]
    Estimate both_meet;           ///< share in which both meet the target; differences are over these [-]
    Estimate low, median, high;   ///< 2.5, 50, 97.5 % quantiles of its cost less the chosen one's
};

struct AlternativeEvidence {
    Estimate target_met; ///< share of samples [-]
    Estimate best;       ///< share of best, ties sharing the credit [-]
    Estimate as_good;    ///< share in which none is better [-]
    Estimate mean_cost;  ///< in the unit of the cost
    Quantiles cost, to_target, drawn, duration, air_left;
    Paired against_chosen;
};

/// An uncertain input and how much of the variance it explains alone.
struct Driver {
    std::string name;
    double share{}; ///< (A-6) [-]
    double trend{}; ///< correlation; positive: more of it, more of the effect [-]
};

struct Evidence {
    std::size_t samples{}, scramblings{};
    std::vector<std::string> failures; ///< of samples left out, each reason once
    std::size_t failed{};              ///< samples left out
    Cost cost{};
    std::vector<AlternativeEvidence> alternatives;
    Estimate all_tie;              ///< share of samples without any difference [-]
    std::size_t chosen{}, rival{}; ///< positions
    Estimate chosen_as_good;       ///< on the judging half [-]
    bool drivers_of_difference{};  ///< else of the chosen one's cost
    std::vector<Driver> drivers;   ///< all inputs, largest share first
    double by_chance{};            ///< a share up to this may be chance [-]
};

/// `rival` is what the chosen alternative is held against; where it is chosen itself, the one most often
/// behind takes its place. Throws std::invalid_argument when no sample could be computed.
[[nodiscard]] Evidence evidence_of(const Samples&, Cost, const TieWidth&, std::size_t rival);

/// "in 97 % of 4096 samples ...": the finding, `names` being what the alternatives are called.
[[nodiscard]] std::string evidence_sentence(const Evidence&, const std::vector<std::string>& names);

/// "starting air (62 %), ...": what drives it; empty when nothing rises above chance.
[[nodiscard]] std::string drivers_sentence(const Evidence&, const std::vector<std::string>& names);

} // namespace clearstroke
