#pragma once
/// Runs alternatives (orders of one scenario, or several scenarios) on the same samples of the uncertain
/// inputs. Samples are spread over the cores and stored by number: same bits for any number of threads.
#include <cstdint>
#include <functional>
#include <optional>
#include <string>
#include <vector>

#include "analysis/order_tree.hpp"
#include "analysis/ranking.hpp"
#include "analysis/uncertain.hpp"

namespace clearstroke {

struct SampleRequest {
    std::size_t samples{};      ///< rounded up to a multiple of `scramblings`
    std::size_t scramblings{8}; ///< independent scramblings of the sequence (owen1997: at least 8)
    std::uint64_t seed{1};      ///< of the scramblings
    int threads{};              ///< 0: all cores
    Progress progress;          ///< counts samples
};

/// What evidence keeps of one run; amounts [m^3], time [s].
struct Outcome {
    bool failed{}, target_met{};
    double strokes{}, to_target{}; ///< infinite when the target is never reached
    double drawn{}, duration{}, air_left{}, excess{};
};
[[nodiscard]] Outcome outcome_of(const PlanResult&);
[[nodiscard]] Standing standing_of(const Outcome&, Cost);

/// One sample: where it was taken and what each alternative came to; none and a reason when it could not be
/// computed.
struct Sample {
    std::vector<double> u; ///< one per name
    std::vector<Outcome> outcomes;
    std::string failure;
};

struct Samples {
    std::vector<std::string> names; ///< of the coordinates
    std::vector<std::vector<Sample>> scramblings;
};

/// Outcomes of all alternatives at the values of each scenario; may throw std::invalid_argument.
using Alternatives = std::function<std::vector<Outcome>(const std::vector<std::vector<double>>& values)>;

/// Coordinates that scenarios share by name are drawn once for all of them.
[[nodiscard]] Samples run_samples(const std::vector<const CaseFactory*>&, const Alternatives&,
                                  const SampleRequest&);

} // namespace clearstroke
