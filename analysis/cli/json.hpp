#pragma once
/// Results as JSON documents: keys carry their unit, numbers six digits, objects keep their order.
#include <cmath>
#include <optional>
#include <string>

#include <nlohmann/json.hpp>

#include "analysis/cautions.hpp"
#include "analysis/finding.hpp"
#include "analysis/measure_next.hpp"
#include "analysis/plan_result.hpp"
#include "scenarios/scenario.hpp"

namespace clearstroke {

using Json = nlohmann::ordered_json;

/// `x` to six digits.
[[nodiscard]] double rounded(double x);
[[nodiscard]] inline double in_ml(double cubic_metres) { return rounded(1e6 * cubic_metres); }
[[nodiscard]] inline double in_mm(double metres) { return rounded(1e3 * metres); }
[[nodiscard]] inline double in_percent(double share) { return rounded(100.0 * share); }
[[nodiscard]] Json optional_json(const std::optional<double>&); ///< null when there is none

[[nodiscard]] Json scenario_json(const Scenario&);
[[nodiscard]] Json assumptions_json(const Scenario&);
[[nodiscard]] Json cautions_json(const Case&, AntiLockUnit, const std::vector<Act>& suggested);
[[nodiscard]] Json measure_json(const CaseFactory&, const std::vector<MeasureNext>&);
[[nodiscard]] Json balance_json(const Balance&);
/// The measures of one plan: visits, strokes, fluid, air, pedal and so on.
[[nodiscard]] Json plan_json(const Network&, const PlanResult&);

/// The document as it is printed.
[[nodiscard]] std::string document(const Json&);

} // namespace clearstroke
