#include <array>

#include <fmt/format.h>

#include "analysis/cli/diagnosis.hpp"
#include "analysis/diagnosis_trials.hpp"
#include "analysis/plan_run.hpp"

namespace clearstroke {
namespace {

constexpr std::array<const char*, 3> suites{"without clamps", "with clamps", "with clamps, mismatched"};

TrialSettings settings_of(const PedalArgs& args, std::size_t suite) {
    TrialSettings out;
    out.per_cause = static_cast<std::size_t>(args.trials);
    out.clamps = suite > 0;
    out.mismatched = suite == 2;
    out.seed = static_cast<std::uint64_t>(args.seed);
    return out;
}

std::string truth(const TrialRow& r) { return Suspect{r.cause, r.place, {}, 0.0}.name(); }
double share(const TrialRow& r, std::size_t n) {
    return static_cast<double>(n) / static_cast<double>(r.trials);
}

double mean_in_first(const TrialRow& r) { return share(r, r.in_first); }

Lines text_of(const TrialTable& table) {
    Table text({"truth", ">first", ">first two", ">no fault", ">cannot tell", ">none fits", ">air inside",
                ">in the set"});
    for (const TrialRow& r : table.rows) {
        const auto percent = [&](std::size_t n) { return fmt::format("{:.1f}", 100.0 * share(r, n)); };
        text.row({truth(r), percent(r.first), percent(r.among_two), percent(r.no_fault),
                  percent(r.cannot_tell), percent(r.none_fits), is_air(r.cause) ? percent(r.air_inside) : "-",
                  fmt::format("{:.1f}", mean_in_first(r))});
    }
    return text.lines();
}

/// What was told, by cause; places of air together.
Lines confusion_of(const TrialTable& table) {
    static constexpr std::array short_names{"none", "air",    "joint", "slack", "drawn", "knock",
                                            "hose", "bypass", "leak",  "port",  "boost"};
    static_assert(short_names.size() == causes_in_all);
    std::array<TrialRow, causes_in_all> sums{};
    for (const TrialRow& r : table.rows) {
        TrialRow& sum = sums[static_cast<std::size_t>(r.cause)];
        sum.trials += r.trials;
        sum.cannot_tell += r.cannot_tell;
        sum.none_fits += r.none_fits;
        for (std::size_t k = 0; k < causes_in_all; ++k) sum.called[k] += r.called[k];
    }
    std::vector<std::string> headings{"called"};
    for (const char* name : short_names) headings.push_back(fmt::format(">{}", name));
    headings.insert(headings.end(), {">cannot", ">no fit"});
    Table text(headings);
    for (std::size_t c = 0; c < causes_in_all; ++c) {
        const TrialRow& sum = sums[c];
        if (sum.trials == 0) continue;
        const auto percent = [&](std::size_t n) { return fmt::format("{:.0f}", 100.0 * share(sum, n)); };
        std::vector<std::string> cells{std::string(name_of(static_cast<Cause>(c)))};
        for (const std::size_t n : sum.called) cells.push_back(percent(n));
        cells.insert(cells.end(), {percent(sum.cannot_tell), percent(sum.none_fits)});
        text.row(cells);
    }
    return text.lines();
}

Json json_of(const TrialRow& r) {
    Json called = Json::object();
    for (std::size_t k = 0; k < causes_in_all; ++k)
        called[std::string(name_of(static_cast<Cause>(k)))] = r.called[k];
    return {{"truth", truth(r)},
            {"trials", r.trials},
            {"first", rounded(share(r, r.first))},
            {"among_first_two", rounded(share(r, r.among_two))},
            {"no_fault", rounded(share(r, r.no_fault))},
            {"cannot_tell", rounded(share(r, r.cannot_tell))},
            {"none_fits", rounded(share(r, r.none_fits))},
            {"air_in_interval", is_air(r.cause) ? Json(rounded(share(r, r.air_inside))) : Json(nullptr)},
            {"in_first_set", rounded(mean_in_first(r))},
            {"called", called}};
}

} // namespace

DiagnosisReport trials_report(const PedalArgs& args, const Scenario& scenario) {
    const ActuatorId id = working_actuators(usual_case(scenario).network).front();
    DiagnosisReport out{wrap(scenario.title, text_width),
                        {{"schema", "clearstroke/pedal_trials/1"},
                         {"scenario", scenario_json(scenario)},
                         {"suites", Json::array()}}};
    for (std::size_t suite = 0; suite < suites.size(); ++suite) {
        const TrialTable table = run_trials(scenario.factory, id, settings_of(args, suite));
        out.lines.emplace_back();
        append(out.lines,
               wrap(fmt::format(
                        "{}: {} pedals for each row, per cent of them; readings expected to take away "
                        "{:.0f} % of the question which cause it is. Last column: suspects in the first set.",
                        suites[suite], args.trials, 100.0 * table.information),
                    text_width));
        append(out.lines, text_of(table));
        out.lines.emplace_back();
        append(out.lines, confusion_of(table));
        Json rows = Json::array();
        for (const TrialRow& r : table.rows) rows.push_back(json_of(r));
        out.json["suites"].push_back(
            {{"suite", suites[suite]}, {"information", rounded(table.information)}, {"rows", rows}});
    }
    return out;
}

} // namespace clearstroke
