#pragma once
/// One case of a study: the orders it is run in and the numbers that are kept of each.
#include <functional>
#include <optional>
#include <string>
#include <vector>

#include "analysis/orders.hpp"
#include "analysis/store.hpp"

namespace clearstroke {

/// Which orders are run and which of them are kept, under what names.
struct StudyPlans {
    enum class Which {
        own,   ///< the case's own
        rules, ///< all are run; "best", "worst", the usual rules and the case's own are kept
        all,   ///< all are run and kept, as the first case names them
        listed ///< those listed
    };
    Which which{};
    std::vector<std::string> labels; ///< of what is kept
    Cost cost{Cost::strokes};
    TieWidth tie; ///< differences up to these are ties
};

/// Labels of what is kept: by the screws of a sample case for `all`, by the lists for `listed`.
[[nodiscard]] std::vector<std::string> plan_labels(StudyPlans::Which, const Case& sample,
                                                   const std::vector<std::vector<std::string>>& listed);

/// A number kept of every plan.
struct Measure {
    std::string name, long_name, units;
};
[[nodiscard]] const std::vector<Measure>& study_measures();

/// A number kept of every stroke of every plan: "air_inside_ml", ...
[[nodiscard]] const std::vector<Measure>& study_traces();

struct CaseCells {
    std::vector<double> numbers;     ///< measures, then traces; plan, then stroke run fastest; NaN: none
    std::vector<std::string> orders; ///< per plan: "RR, LR, RF, LF"
};

/// Runs a case. Throws std::runtime_error with the reason when no plan could be computed.
[[nodiscard]] CaseCells run_study_case(const Case&, const StudyPlans&, const std::vector<std::string>& traces,
                                       std::size_t trace_strokes, const Settings& = {});

} // namespace clearstroke
