#include "analysis/cli/study_view.hpp"

#include <algorithm>
#include <cmath>

#include <fmt/format.h>

namespace clearstroke {
namespace {

const std::vector<std::string> explained = {"strokes_total",   "strokes_to_target", "duration_s",
                                            "fluid_drawn_ml",  "air_left_ml",       "excess_ml",
                                            "pedal_travel_mm", "cost_behind_best"};

using Columns = std::vector<std::vector<double>>;

// Values over (measure, setting, plan, input), a table for each name.
class Tables {
public:
    Tables(const std::vector<std::pair<std::string, std::string>>& names) {
        for (const auto& [name, long_name] : names)
            tables_.push_back({name, long_name, "1", {1, 2, 0, 3}, {}});
    }
    /// Values of each table for one measure, setting and plan.
    void add(const Columns& values) {
        for (std::size_t t = 0; t < tables_.size(); ++t)
            tables_[t].values.insert(tables_[t].values.end(), values[t].begin(), values[t].end());
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

// Cells of one setting, in the independent parts of its samples; those that are no number left out.
Columns parts_of(const StudyPlan& plan, const StoreLayout& layout, const std::vector<double>& cells,
                 std::size_t setting) {
    const std::uint64_t samples = plan.samples_per_setting(), begin = setting * samples;
    Columns parts(plan.study().scramblings);
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

// Value and ends of each interval.
void append_intervals(Columns& to, const std::vector<Interval>& of) {
    const std::size_t first = to.size();
    to.resize(first + 3);
    for (const Interval& i : of) {
        to[first].push_back(i.value);
        to[first + 1].push_back(i.low);
        to[first + 2].push_back(i.high);
    }
}

// What explains y, a column for each table.
Columns explained_by(const StudyPlan& plan, const std::vector<double>& y) {
    Columns out;
    if (plan.study().design == StudyDesign::indices) {
        const SobolIndices found = sobol_indices(plan.index_design(), y);
        append_intervals(out, found.first);
        append_intervals(out, found.total);
        return out;
    }
    const ElementaryEffects found = elementary_effects(plan.effect_design(), y);
    append_intervals(out, found.mean);
    append_intervals(out, found.mean_absolute);
    out.push_back(found.deviation);
    return out;
}

std::vector<std::string> setting_names(const StudyPlan& plan) {
    std::vector<std::string> names;
    for (std::uint64_t s = 0; s < plan.settings(); ++s) names.push_back(plan.setting_name(s));
    return names;
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
    const std::size_t samples = plan.samples_per_setting(), settings = plan.settings(),
                      plans = plan.plans().labels.size();
    for (const std::string& measure : explained) {
        std::vector<Columns> found(settings * plans);
        for (std::size_t p = 0; p < plans; ++p) {
            const std::vector<double> cells = column(measure, p);
            for (std::size_t s = 0; s < settings; ++s) {
                const auto from = cells.begin() + static_cast<std::ptrdiff_t>(s * samples);
                found[s * plans + p] =
                    explained_by(plan, {from, from + static_cast<std::ptrdiff_t>(samples)});
            }
        }
        for (const Columns& of : found) tables.add(of);
    }
    return {{{"measure", "number that varies", "", explained, {}},
             {"setting", "scenario and factors", "", setting_names(plan), {}},
             {"input", "what it varies with", "", plan.coordinates(), {}}},
            tables.all(plan.layout().axes.size())};
}

StudySummary summary_of(const StudyPlan& plan, const StoreLayout& layout,
                        const std::vector<RowStatus>& status,
                        const std::function<std::string(std::uint64_t row)>& reason,
                        const ColumnReader& column, std::uint64_t settings) {
    StudySummary all;
    all.rows = status.size();
    std::vector<std::uint64_t> shown; // a shard need not hold cases of every setting
    std::uint64_t seen = 0;           // settings up to here
    for (std::uint64_t k = 0; k < status.size(); ++k) {
        const std::uint64_t setting = (layout.first + k * layout.stride) / plan.samples_per_setting();
        if (setting >= seen) {
            seen = setting + 1;
            if (shown.size() < settings)
                shown.push_back(setting);
            else
                ++all.more_settings;
        }
        if (status[k] != RowStatus::failed) continue;
        ++all.failed;
        const std::string why = reason(k);
        auto at = std::ranges::find(all.reasons, why, &std::pair<std::string, std::uint64_t>::first);
        if (at == all.reasons.end()) at = all.reasons.insert(at, {why, 0});
        ++at->second;
    }
    std::ranges::stable_sort(all.reasons, std::greater{}, &std::pair<std::string, std::uint64_t>::second);
    const std::vector<std::string>& labels = plan.plans().labels;
    for (const std::uint64_t setting : shown)
        for (const std::string& label : labels)
            all.lines.push_back({plan.setting_name(setting), label, 0, {}, {}, {}, {}, {}});
    // One measure of one plan at a time: nothing else of the rows is held.
    const auto see = [&](const std::string& measure, std::size_t p, const auto& take) {
        const std::vector<double> cells = column(measure, p);
        for (std::size_t s = 0; s < shown.size(); ++s)
            take(all.lines[s * labels.size() + p], parts_of(plan, layout, cells, shown[s]));
    };
    const auto share = [](const std::vector<double>& v) { return mean(v); };
    for (std::size_t p = 0; p < labels.size(); ++p) {
        see("strokes_total", p, [](StudySummary::Line& line, const Columns& of) {
            const auto at = [&](double level) {
                return estimate(of, [level](std::vector<double> v) { return quantile(std::move(v), level); });
            };
            for (const auto& part : of) line.rows += part.size();
            line.low = at(0.05);
            line.median = at(0.5);
            line.high = at(0.95);
        });
        see("target_met", p,
            [&](StudySummary::Line& line, const Columns& of) { line.target_met = estimate(of, share); });
        see("as_good_as_best", p,
            [&](StudySummary::Line& line, const Columns& of) { line.as_good = estimate(of, share); });
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
    if (all.more_settings > 0)
        append(lines,
               wrap(fmt::format("And {} more settings: --json lists all, and all rows are in the file.",
                                all.more_settings),
                    text_width));
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
