#include "analysis/cli/study_view.hpp"

#include <algorithm>
#include <cmath>

#include <fmt/format.h>

namespace clearstroke {
namespace {

const std::vector<std::string> explained = {"strokes_total",   "strokes_to_target", "duration_s",
                                            "fluid_drawn_ml",  "air_left_ml",       "excess_ml",
                                            "pedal_travel_mm", "cost_behind_best"};

// Values over (measure, setting, plan, input), a table for each name.
class Tables {
public:
    Tables(const std::vector<std::pair<std::string, std::string>>& names) {
        for (const auto& [name, long_name] : names)
            tables_.push_back({name, long_name, "1", {1, 2, 0, 3}, {}});
    }
    void add(std::size_t table, const std::vector<double>& values) {
        tables_[table].values.insert(tables_[table].values.end(), values.begin(), values.end());
    }
    void add(std::size_t first, const std::vector<Interval>& of) {
        for (const Interval& i : of) {
            tables_[first].values.push_back(i.value);
            tables_[first + 1].values.push_back(i.low);
            tables_[first + 2].values.push_back(i.high);
        }
    }
    std::vector<StoreTable> all(std::size_t axes_before) {
        for (StoreTable& table : tables_)
            for (std::size_t& axis : table.axes)
                if (axis > 0) axis += axes_before - 1; // 0 is the plan
        return std::move(tables_);
    }

private:
    std::vector<StoreTable> tables_;
};

using Parts = std::vector<std::vector<double>>;

// Cells of one setting, in the independent parts of its samples; those that are no number left out.
Parts parts_of(const StudyPlan& plan, const StoreLayout& layout, const std::vector<double>& cells,
               std::size_t setting) {
    const std::uint64_t samples = plan.samples_per_setting(), begin = setting * samples;
    Parts parts(plan.study().scramblings);
    std::uint64_t k = begin > layout.first ? (begin - layout.first + layout.stride - 1) / layout.stride : 0;
    for (; k < cells.size(); ++k) {
        const std::uint64_t number = layout.first + k * layout.stride;
        if (number >= begin + samples) break;
        if (!std::isnan(cells[k])) parts[plan.part_of(number)].push_back(cells[k]);
    }
    return parts;
}

std::vector<std::pair<std::string, std::string>> with_ends(const std::string& name, const std::string& is) {
    return {{name, is},
            {name + "_low", is + ", lower end of the 95 % interval"},
            {name + "_high", is + ", upper end of the 95 % interval"}};
}

} // namespace

Sensitivity sensitivity_of(const StudyPlan& plan, const ColumnReader& column) {
    const bool indices = plan.study().design == StudyDesign::indices;
    if (!indices && plan.study().design != StudyDesign::effects) return {};
    auto names = indices
                     ? with_ends("first_index", "share of the variance that an input explains alone")
                     : with_ends("effect_mean", "mean elementary effect, unit of the measure over the band");
    for (auto& more : indices ? with_ends("total_index", "the same with all it acts together with")
                              : with_ends("effect_mean_absolute", "mean size of the elementary effects"))
        names.push_back(more);
    if (!indices) names.emplace_back("effect_deviation", "standard deviation of the elementary effects");
    Tables tables(names);
    const std::size_t samples = plan.samples_per_setting();
    for (const std::string& measure : explained) {
        for (std::size_t s = 0; s < plan.setting_names().size(); ++s)
            for (std::size_t p = 0; p < plan.plans().labels.size(); ++p) {
                const std::vector<double> cells = column(measure, p);
                const auto from = cells.begin() + static_cast<std::ptrdiff_t>(s * samples);
                const std::vector<double> y(from, from + static_cast<std::ptrdiff_t>(samples));
                if (indices) {
                    const SobolIndices found = sobol_indices(plan.index_design(), y);
                    tables.add(0, found.first);
                    tables.add(3, found.total);
                } else {
                    const ElementaryEffects found = elementary_effects(plan.effect_design(), y);
                    tables.add(0, found.mean);
                    tables.add(3, found.mean_absolute);
                    tables.add(6, found.deviation);
                }
            }
    }
    return {{{"measure", "number that varies", "", explained, {}},
             {"setting", "scenario and factors", "", plan.setting_names(), {}},
             {"input", "what it varies with", "", plan.coordinates(), {}}},
            tables.all(plan.layout().axes.size())};
}

StudySummary summary_of(const StudyPlan& plan, const StoreLayout& layout,
                        const std::vector<RowStatus>& status,
                        const std::function<std::string(std::uint64_t row)>& reason,
                        const ColumnReader& column) {
    StudySummary all;
    all.rows = status.size();
    std::vector<char> here(plan.setting_names().size()); // a shard need not hold cases of every setting
    for (std::uint64_t k = 0; k < status.size(); ++k) {
        here[(layout.first + k * layout.stride) / plan.samples_per_setting()] = 1;
        if (status[k] != RowStatus::failed) continue;
        ++all.failed;
        const std::string why = reason(k);
        auto at = std::ranges::find(all.reasons, why, &std::pair<std::string, std::uint64_t>::first);
        if (at == all.reasons.end()) at = all.reasons.insert(at, {why, 0});
        ++at->second;
    }
    std::ranges::stable_sort(all.reasons, std::greater{}, &std::pair<std::string, std::uint64_t>::second);
    const std::vector<std::string> settings = plan.setting_names();
    const std::size_t plans = plan.plans().labels.size();
    std::vector<StudySummary::Line> lines(settings.size() * plans);
    // One measure of one plan at a time: nothing else of the rows is held.
    const auto see = [&](const std::string& measure, std::size_t p, const auto& take) {
        const std::vector<double> cells = column(measure, p);
        for (std::size_t s = 0; s < settings.size(); ++s)
            if (here[s]) take(lines[s * plans + p], parts_of(plan, layout, cells, s));
    };
    const auto share = [](const std::vector<double>& v) { return mean(v); };
    for (std::size_t p = 0; p < plans; ++p) {
        see("strokes_total", p, [](StudySummary::Line& line, const Parts& of) {
            const auto at = [&](double level) {
                return estimate(of, [level](std::vector<double> v) { return quantile(std::move(v), level); });
            };
            for (const auto& part : of) line.rows += part.size();
            line.low = at(0.05);
            line.median = at(0.5);
            line.high = at(0.95);
        });
        see("target_met", p,
            [&](StudySummary::Line& line, const Parts& of) { line.target_met = estimate(of, share); });
        see("as_good_as_best", p,
            [&](StudySummary::Line& line, const Parts& of) { line.as_good = estimate(of, share); });
    }
    for (std::size_t s = 0; s < settings.size(); ++s)
        for (std::size_t p = 0; here[s] && p < plans; ++p) {
            StudySummary::Line& line = lines[s * plans + p];
            line.setting = settings[s];
            line.plan = plan.plans().labels[p];
            all.lines.push_back(std::move(line));
        }
    return all;
}

Lines summary_lines(const StudyPlan& plan, const StudySummary& all) {
    Lines lines =
        wrap(fmt::format("{}: {} cases, {} failed.", plan.study().title, all.rows, all.failed), text_width);
    for (const auto& [why, count] : all.reasons)
        append(lines, labelled("", fmt::format("{} x {}", count, why)));
    const auto percent = [](const Estimate& e) {
        if (std::isnan(e.value)) return std::string("-");
        return std::isfinite(e.error) ? fmt::format("{:.1f} +-{:.1f}", 100.0 * e.value, 100.0 * e.error)
                                      : fmt::format("{:.1f}", 100.0 * e.value);
    };
    Table table(
        {"setting", "order", ">rows", ">target met %", ">as good as best %", ">strokes 5 / 50 / 95 %"});
    for (const StudySummary::Line& line : all.lines)
        table.row(
            {line.setting, line.plan, fmt::format("{}", line.rows), percent(line.target_met),
             percent(line.as_good),
             fmt::format("{:.0f} / {:.0f} / {:.0f}", line.low.value, line.median.value, line.high.value)});
    append(lines, table.lines(140));
    return lines;
}

Json summary_json(const StudyPlan& plan, const StudySummary& all, const std::string& file) {
    const auto number = [](double x) { return std::isfinite(x) ? Json(rounded(x)) : Json(nullptr); };
    Json json = {{"schema", "clearstroke/study/1"},
                 {"title", plan.study().title},
                 {"file", file},
                 {"cases", all.rows},
                 {"failed", all.failed},
                 {"reasons", Json::array()},
                 {"plans", Json::array()}};
    for (const auto& [why, count] : all.reasons)
        json["reasons"].push_back({{"reason", why}, {"cases", count}});
    for (const StudySummary::Line& line : all.lines)
        json["plans"].push_back({{"setting", line.setting},
                                 {"order", line.plan},
                                 {"rows", line.rows},
                                 {"target_met_percent", number(100.0 * line.target_met.value)},
                                 {"target_met_percent_error", number(100.0 * line.target_met.error)},
                                 {"as_good_as_best_percent", number(100.0 * line.as_good.value)},
                                 {"as_good_as_best_percent_error", number(100.0 * line.as_good.error)},
                                 {"strokes_p05", number(line.low.value)},
                                 {"strokes_p50", number(line.median.value)},
                                 {"strokes_p95", number(line.high.value)}});
    return json;
}

} // namespace clearstroke
