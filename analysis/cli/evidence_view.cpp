#include "analysis/cli/evidence_view.hpp"

#include <fmt/format.h>
#include <fmt/ranges.h>

namespace clearstroke {
namespace {

constexpr double ml = 1e-6; // [m^3]

const char* unit_of(Cost cost) { return cost == Cost::time ? "s" : cost == Cost::fluid ? "mL" : "strokes"; }

// The cost's value in its unit.
double shown_cost(double value, Cost cost) { return cost == Cost::fluid ? value / ml : value; }

Json number(double x) { return std::isfinite(x) ? Json(rounded(x)) : Json(nullptr); }

Json estimate_json(const Estimate& e, double scale = 1.0) {
    return {{"value", number(e.value * scale)}, {"sampling_error", number(e.error * scale)}};
}

Json quantiles_json(const Quantiles& q, double scale = 1.0) {
    return {{"p05", estimate_json(q[0], scale)},
            {"p50", estimate_json(q[1], scale)},
            {"p95", estimate_json(q[2], scale)}};
}

Json paired_json(const Paired& p, double scale) {
    return {{"behind_percent", estimate_json(p.behind, 100.0)},
            {"tied_percent", estimate_json(p.tied, 100.0)},
            {"ahead_percent", estimate_json(p.ahead, 100.0)},
            {"both_meet_target_percent", estimate_json(p.both_meet, 100.0)},
            {"cost_more_p2_5", estimate_json(p.low, scale)},
            {"cost_more_p50", estimate_json(p.median, scale)},
            {"cost_more_p97_5", estimate_json(p.high, scale)}};
}

Json alternative_json(const AlternativeEvidence& a, const std::string& name, double scale) {
    return {{"name", name},
            {"target_met_percent", estimate_json(a.target_met, 100.0)},
            {"best_percent", estimate_json(a.best, 100.0)},
            {"as_good_as_the_best_percent", estimate_json(a.as_good, 100.0)},
            {"cost_mean", estimate_json(a.mean_cost, scale)},
            {"cost", quantiles_json(a.cost, scale)},
            {"strokes_to_target", quantiles_json(a.to_target)},
            {"fluid_drawn_ml", quantiles_json(a.drawn, 1.0 / ml)},
            {"duration_s", quantiles_json(a.duration)},
            {"air_left_ml", quantiles_json(a.air_left, 1.0 / ml)},
            {"against_chosen", paired_json(a.against_chosen, scale)}};
}

std::string share_text(const Estimate& e) {
    return std::isfinite(e.error) ? fmt::format("{:.1f} +-{:.1f}", 100.0 * e.value, 100.0 * e.error)
                                  : fmt::format("{:.1f}", 100.0 * e.value);
}

} // namespace

Lines evidence_lines(const Evidence& e, const std::vector<std::string>& names, std::size_t most) {
    Lines lines = labelled("EVIDENCE", evidence_sentence(e, names));
    if (const std::string drivers = drivers_sentence(e, names); !drivers.empty())
        append(lines, labelled("", drivers));
    if (e.failed > 0)
        append(lines, labelled("", fmt::format("{} of {} samples could not be computed: {}.", e.failed,
                                               e.samples, fmt::join(e.failures, "; "))));
    Table table({">best %", ">as good %", ">target met %", fmt::format(">{} 5 / 50 / 95 %", unit_of(e.cost)),
                 ">air left mL 95 %", "alternative"});
    for (std::size_t i = 0; i < e.alternatives.size() && (most == 0 || i < most); ++i) {
        const AlternativeEvidence& a = e.alternatives[i];
        const auto cost = [&](std::size_t k) { return shown_cost(a.cost[k].value, e.cost); };
        table.row({share_text(a.best), share_text(a.as_good), share_text(a.target_met),
                   fmt::format("{:.4g} / {:.4g} / {:.4g}", cost(0), cost(1), cost(2)),
                   ml_text(a.air_left[2].value), names[i]});
    }
    append(lines, table.lines());
    return lines;
}

Json evidence_json(const Evidence& e, const std::vector<std::string>& names, std::uint64_t seed) {
    const double scale = e.cost == Cost::fluid ? 1.0 / ml : 1.0;
    Json json = {{"samples", e.samples},
                 {"scramblings", e.scramblings},
                 {"seed", seed},
                 {"failed", e.failed},
                 {"failures", e.failures},
                 {"finding", evidence_sentence(e, names)},
                 {"drivers_finding", drivers_sentence(e, names)},
                 {"cost_unit", unit_of(e.cost)},
                 {"all_tie_percent", estimate_json(e.all_tie, 100.0)},
                 {"chosen", names[e.chosen]},
                 {"chosen_as_good_percent", estimate_json(e.chosen_as_good, 100.0)},
                 {"rival", names[e.rival]},
                 {"alternatives", Json::array()},
                 {"drivers_of", e.drivers_of_difference ? "difference to the rival" : "cost of the chosen"},
                 {"drivers_by_chance_percent", rounded(100.0 * e.by_chance)},
                 {"drivers", Json::array()}};
    for (std::size_t i = 0; i < names.size(); ++i)
        json["alternatives"].push_back(alternative_json(e.alternatives[i], names[i], scale));
    for (const Driver& d : e.drivers)
        json["drivers"].push_back(
            {{"name", d.name}, {"share_percent", in_percent(d.share)}, {"trend", rounded(d.trend)}});
    return json;
}

} // namespace clearstroke
