#pragma once
/// What a study comes to: sensitivity tables for the file, and a summary for people.
#include "analysis/cli/json.hpp"
#include "analysis/cli/study_plan.hpp"
#include "analysis/cli/text.hpp"

namespace clearstroke {

/// Cells of one plan in a column, one per row.
using ColumnReader = std::function<std::vector<double>(const std::string& name, std::size_t plan)>;

/// Sobol' indices or elementary effects of every setting, measure and plan; nothing for other designs.
struct Sensitivity {
    std::vector<Axis> axes;
    std::vector<StoreTable> tables;
};
[[nodiscard]] Sensitivity sensitivity_of(const StudyPlan&, const ColumnReader&);

/// Rows, failures with their reasons, and each plan's figures by setting.
struct StudySummary {
    std::uint64_t rows{}, failed{};
    std::vector<std::pair<std::string, std::uint64_t>> reasons; ///< most frequent first
    struct Line {
        std::string setting, plan;
        std::uint64_t rows{};
        Estimate target_met, as_good, low, median, high; ///< shares [-]; 5, 50, 95 % of strokes
    };
    std::vector<Line> lines;       ///< of the first settings asked for
    std::uint64_t more_settings{}; ///< that have rows besides
};
/// Of at most so many `settings`.
[[nodiscard]] StudySummary summary_of(const StudyPlan&, const StoreLayout&, const std::vector<RowStatus>&,
                                      const std::function<std::string(std::uint64_t row)>& reason,
                                      const ColumnReader&, std::uint64_t settings);

[[nodiscard]] Lines summary_lines(const StudyPlan&, const StudySummary&);
[[nodiscard]] Json summary_json(const StudyPlan&, const StudySummary&, const std::string& file);

} // namespace clearstroke
