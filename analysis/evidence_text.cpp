#include <algorithm>
#include <cmath>

#include <fmt/format.h>
#include <fmt/ranges.h>

#include "analysis/evidence.hpp"
#include "analysis/finding.hpp"

namespace clearstroke {
namespace {

constexpr double nearly_all = 0.95; // shares from here on are called a plain finding, ours
constexpr std::size_t most_drivers = 4;

std::string percent(double share) {
    const double p = 100.0 * share;
    if (p > 99.0 && p < 100.0) return "over 99 %";
    if (p > 0.0 && p < 1.0) return "under 1 %";
    return fmt::format("{:.0f} %", p);
}

// "3 to 9 strokes", with the unit once where both have it.
std::string range_text(double low, double high, Cost cost) {
    const std::string to = cost_text(high, cost), from = cost_text(low, cost);
    if (low == high) return to;
    const auto unit_at = [](const std::string& text) { return text.find_last_of(' '); };
    const bool same_unit = from.substr(unit_at(from)) == to.substr(unit_at(to)) || cost == Cost::strokes;
    return fmt::format("{} to {}", same_unit ? from.substr(0, unit_at(from)) : from, to);
}

std::string difference_text(const Paired& p, const std::string& rival, Cost cost) {
    if (p.tied.value >= nearly_all)
        return fmt::format("no difference to {} in {} of them", rival, percent(p.tied.value));
    const std::string shares = fmt::format("ahead in {}, tied in {}, behind in {}", percent(p.behind.value),
                                           percent(p.tied.value), percent(p.ahead.value));
    if (!(p.both_meet.value >= 0.5))
        return fmt::format("against {}: {}, as they seldom both meet the target", rival, shares);
    const double low = p.low.value, high = p.high.value;
    const std::string saved =
        low >= 0.0    ? fmt::format("saves {}", range_text(low, high, cost))
        : high <= 0.0 ? fmt::format("costs {} more", range_text(-high, -low, cost))
                      : fmt::format("from {} more to {} less", cost_text(-low, cost), cost_text(high, cost));
    return fmt::format("against {}: {} in 95 % of samples ({})", rival, saved, shares);
}

std::string alone_text(const Evidence& e, const std::string& name) {
    const AlternativeEvidence& a = e.alternatives.front();
    return fmt::format("Over {} samples {} takes {} in 90 % of them and meets the target in {}.", e.samples,
                       name, range_text(a.cost[0].value, a.cost[2].value, e.cost),
                       percent(a.target_met.value));
}

} // namespace

std::string evidence_sentence(const Evidence& e, const std::vector<std::string>& names) {
    const std::string& chosen = names[e.chosen];
    if (e.alternatives.size() == 1) return alone_text(e, chosen);
    const AlternativeEvidence& own = e.alternatives[e.chosen];
    const std::string met =
        own.target_met.value < nearly_all
            ? fmt::format(" It meets the target in {} of samples.", percent(own.target_met.value))
            : "";
    if (e.all_tie.value >= nearly_all)
        return fmt::format("No difference in {} of {} samples: all {} are as good.{}",
                           percent(e.all_tie.value), e.samples, e.alternatives.size(),
                           met.empty() ? ""
                                       : fmt::format(" They meet the target in {} of samples.",
                                                     percent(own.target_met.value)));
    std::string text = fmt::format("{}: none is better in {} of the samples it was judged on", chosen,
                                   percent(e.chosen_as_good.value));
    if (e.rival != e.chosen)
        text += "; " + difference_text(e.alternatives[e.rival].against_chosen, names[e.rival], e.cost);
    return text + "." + met;
}

std::string drivers_sentence(const Evidence& e, const std::vector<std::string>& names) {
    std::vector<std::string> parts;
    for (const Driver& d : e.drivers) {
        if (d.share <= std::max(e.by_chance, 0.01) || parts.size() == most_drivers) break;
        parts.push_back(fmt::format("{} {} ({})", d.trend < 0.0 ? "less" : "more", d.name, percent(d.share)));
    }
    if (parts.empty()) return "";
    const std::string what = e.drivers_of_difference ? fmt::format("{} falls further behind", names[e.rival])
                                                     : fmt::format("{} costs more", names[e.chosen]);
    return fmt::format("{} with {}; shares of the variance that each explains alone, up to {} may be chance.",
                       what, fmt::join(parts, ", "), percent(e.by_chance));
}

} // namespace clearstroke
