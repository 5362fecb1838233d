#include "analysis/finding.hpp"

#include <algorithm>
#include <cctype>
#include <cmath>
#include <utility>

#include <fmt/format.h>
#include <fmt/ranges.h>

namespace clearstroke {
namespace {

constexpr double ml = 1e-6;

std::string order_text(const OrdersReport& report, const RankedOrder& order) {
    return order_text(report.usual.network, order.screws);
}

std::string difference_text(double difference, Cost cost) {
    return fmt::format("{} {}", cost_text(std::abs(difference), cost), difference > 0.0 ? "more" : "less");
}

bool ties_with_best(const OrdersReport& report, const Standing& s) {
    const Standing best = standing_of(report.best().result, report.cost);
    return !s.failed && s.target_met == best.target_met && std::abs(s.cost - best.cost) <= report.tie.cost &&
           (s.target_met || std::abs(s.excess - best.excess) <= report.tie.excess);
}

bool is_whole(const OrdersReport& report, const RankedOrder& order) {
    return left_out(report, order).empty();
}

// Of the orders that leave out no screw.
bool all_tie(const OrdersReport& report) {
    return is_whole(report, report.best()) &&
           std::ranges::all_of(report.others,
                               [&](const OtherOrder& o) { return ties_with_best(report, o.standing); }) &&
           std::ranges::all_of(report.orders, [&](const RankedOrder& order) {
               return !is_whole(report, order) || as_good_as_best(report, order);
           });
}

std::size_t whole_orders(const OrdersReport& report) {
    const auto whole = [&](const RankedOrder& order) { return is_whole(report, order); };
    return static_cast<std::size_t>(std::ranges::count_if(report.orders, whole)) + report.others.size();
}

// What a comparison of some orders cannot say of the rest.
std::string search_note(const OrdersReport& report) {
    const OrdersSearch& search = report.search;
    if (search.how != OrdersSearch::How::searched) return "";
    const std::string run =
        fmt::format(" Searched, not all run: {} of {:.0f} orders;", search.run, search.possible);
    const Standing best = standing_of(report.best().result, report.cost);
    if (!search.bound || !best.target_met) return run + " no bound on what a better one may save.";
    const double gain = best.cost - *search.bound;
    if (gain <= report.tie.cost) return run + " none of the others is better.";
    return run + fmt::format(" another saves at most {}.", cost_text(gain, report.cost));
}

std::string air_note(const OrdersReport& report) {
    const PlanResult& best = report.best().result;
    if (report.beyond.total < 0.05 * ml) return "";
    return fmt::format(" {:.1f} mL of air stay in any order: this procedure can't move them.",
                       std::min(best.air_left, report.beyond.total) / ml);
}

/// Whether costs are resolved too coarsely to call the orders alike.
bool hardly_resolved(const OrdersReport& report) {
    constexpr double coarse = 0.25; // of the cost
    return report.tie.cost > coarse * cost_of(report.best().result, report.cost);
}

std::string no_difference(const OrdersReport& report) {
    const PlanResult& best = report.best().result;
    const std::string cost = cost_text(cost_of(best, report.cost), report.cost);
    const std::size_t whole = whole_orders(report);
    const bool all = whole == report.orders.size() + report.others.size();
    std::string text = whole == 1 ? fmt::format("One {}order: it takes {}", all ? "" : "whole ", cost)
                                  : fmt::format("{}: each of the {} {}orders takes {}",
                                                hardly_resolved(report) ? "Not told apart" : "No difference",
                                                whole, all ? "" : "whole ", cost);
    if (report.tie.cost > 0.0 && whole > 1)
        text += fmt::format(" to within {}", cost_text(report.tie.cost, report.cost));
    if (best.target_met)
        return text + fmt::format(" and leaves the circuit clear of the air that can be moved.{}{}",
                                  air_note(report), search_note(report));
    return text + fmt::format(", and {} the target: {:.2f} mL too much air stays.{}",
                              whole == 1 ? "misses" : "none meets", best.excess / ml, search_note(report));
}

std::string usual_rule_note(const OrdersReport& report) {
    const RankedOrder* rule = find_known(report, "farthest first");
    if (!rule) return "";
    if (rule->group == report.best().group) return " Farthest first is as good.";
    std::string text = rule_text(report, *rule);
    text.front() = static_cast<char>(std::toupper(static_cast<unsigned char>(text.front())));
    return " " + text + ".";
}

std::string firmness(const OrdersReport& report) {
    if (report.spreads.size() < 2 || report.sets.empty()) return "";
    const auto rule = std::ranges::find_if(report.spreads, [&](const OrderSpread& spread) {
        const auto& names = report.orders[spread.order].known_as;
        return std::ranges::find(names, "farthest first") != names.end();
    });
    if (rule == report.spreads.end() || report.orders[rule->order].group == report.best().group) return "";
    const std::vector<std::string> against = overturned_by(report, report.spreads.front(), *rule);
    if (against.empty()) return " This holds in all low and high runs.";
    return fmt::format(" Not so with {}.", fmt::join(against, ", or "));
}

// What a rule costs against the best, and whether that is more than the numbers can tell apart.
std::string cost_against_best(const OrdersReport& report, const std::string& name, double cost) {
    const double best = cost_of(report.best().result, report.cost), more = cost - best;
    const bool apart = std::abs(more) > report.tie.cost && report.best().result.target_met;
    const std::string text = cost_text(cost, report.cost);
    if (!apart && text == cost_text(best, report.cost)) return fmt::format("{}: {}, as the best", name, text);
    return fmt::format("{}: {}, {} than the best{}", name, text, difference_text(more, report.cost),
                       apart ? ""
                             : fmt::format(": no real difference ({} cannot be told apart)",
                                           cost_text(report.tie.cost, report.cost)));
}

} // namespace

std::string left_out(const OrdersReport& report, const RankedOrder& order) {
    std::vector<ScrewId> missing;
    for (const ScrewId point : report.points)
        if (std::ranges::find(order.screws, point) == order.screws.end()) missing.push_back(point);
    return order_text(report.usual.network, missing);
}

bool as_good_as_best(const OrdersReport& report, const RankedOrder& order) {
    return ties_with_best(report, standing_of(order.result, report.cost));
}

std::string strokes_text(int strokes) { return fmt::format("{} stroke{}", strokes, strokes == 1 ? "" : "s"); }

std::string cost_text(double cost, Cost kind) {
    switch (kind) {
    case Cost::time:
        return cost < 60.0 ? fmt::format("{:.0f} s", cost) : fmt::format("{:.0f} min", cost / 60.0);
    case Cost::fluid:
        return fmt::format("{:.0f} mL", cost / ml);
    case Cost::strokes:
        break;
    }
    if (cost == std::floor(cost)) return strokes_text(static_cast<int>(cost));
    if (cost < 0.1) return "less than a tenth of a stroke";
    return fmt::format("{:.2g} strokes", cost);
}

std::string rule_text(const OrdersReport& report, const RankedOrder& order) {
    const std::string name = order.known_as.empty() ? order_text(report, order) : order.known_as.front();
    const std::string missing = left_out(report, order);
    const std::string text = order.result.target_met
                                 ? cost_against_best(report, name, cost_of(order.result, report.cost))
                                 : fmt::format("{}: misses the target by {:.2f} mL of air, {}", name,
                                               order.result.excess / ml, order.result.stopped_because);
    return missing.empty() ? text : fmt::format("{}; leaves out {}", text, missing);
}

std::vector<std::string> overturned_by(const OrdersReport& report, const OrderSpread& order,
                                       const OrderSpread& rival) {
    std::vector<std::string> names;
    for (std::size_t s = 0; s < report.sets.size(); ++s) {
        const Standing standings[] = {standing_of(order.results[s], report.cost),
                                      standing_of(rival.results[s], report.cost)};
        const std::vector<Place> places = rank(standings, report.tie);
        if (places.front().index != 0 || places[0].group == places[1].group)
            names.push_back(report.sets[s].name);
    }
    return names;
}

std::string finding_of(const OrdersReport& report) {
    const RankedOrder& best = report.best();
    if (best.result.failed)
        return fmt::format("No order could be computed: {}.", best.result.stopped_because);
    if (all_tie(report)) return no_difference(report);
    const auto in_best = std::ranges::count(report.orders, best.group, &RankedOrder::group) +
                         std::ranges::count(report.others, best.group, &OtherOrder::group);
    if (!best.result.target_met)
        return fmt::format(
            "No order meets the target: the best, {}, leaves {:.2f} mL of air too much ({}).{}",
            order_text(report, best), best.result.excess / ml, best.result.stopped_because,
            search_note(report));
    const std::string missing = left_out(report, best);
    std::string text = fmt::format("Best: {}{} with {}", order_text(report, best),
                                   missing.empty() ? "" : fmt::format(", which leaves out {},", missing),
                                   cost_text(cost_of(best.result, report.cost), report.cost));
    if (in_best > 1) text += fmt::format(" (tied with {} other{})", in_best - 1, in_best == 2 ? "" : "s");
    return text + "." + usual_rule_note(report) + firmness(report) + air_note(report) + search_note(report);
}

Prediction predict(const OrdersReport& report) {
    const PlanResult& usual = report.best().result;
    const auto visit = std::ranges::max_element(usual.visits, {}, &VisitOutcome::carried);
    if (visit == usual.visits.end()) return {};
    const auto position = visit - usual.visits.begin();
    Prediction p{visit->screw,        visit->carried,      visit->carried,      visit->carried,
                 visit->clear_stroke, visit->clear_stroke, visit->clear_stroke, ""};
    if (!report.spreads.empty())
        for (const PlanResult& run : report.spreads.front().results) {
            if (std::cmp_less_equal(run.visits.size(), position)) continue;
            const VisitOutcome& other = run.visits[static_cast<std::size_t>(position)];
            p.low = std::min(p.low, other.carried);
            p.high = std::max(p.high, other.carried);
            if (other.clear_stroke <= 0.0) continue;
            p.stroke_low = std::min(p.stroke_low, other.clear_stroke);
            p.stroke_high = std::max(p.stroke_high, other.clear_stroke);
        }
    const std::string& screw = report.usual.network.screws[p.screw.index].name;
    const std::string between = p.low == p.high ? "" : fmt::format(" ({} to {})", p.low, p.high);
    p.sentence =
        p.last_bubble > 0 ? fmt::format("the last bubble in the clear hose at {} is seen in stroke {}{}",
                                        screw, p.last_bubble, between)
        : p.high > 0      ? fmt::format("no bubble is seen at {} (at most until stroke {})", screw, p.high)
                          : fmt::format("no bubble is seen at {}", screw);
    if (p.stroke > 0.0) p.sentence += fmt::format("; a clear stroke there gives {:.1f} mL", p.stroke / ml);
    return p;
}

double fluid_at_hand(const OrdersReport& report) {
    double drawn = report.best().result.drawn;
    if (!report.spreads.empty())
        for (const PlanResult& run : report.spreads.front().results) drawn = std::max(drawn, run.drawn);
    return std::ceil(drawn / (50.0 * ml)) * 50.0 * ml;
}

} // namespace clearstroke
