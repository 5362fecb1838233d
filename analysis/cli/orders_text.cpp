#include "analysis/cli/orders_view.hpp"

#include <algorithm>
#include <map>

#include <fmt/format.h>
#include <fmt/ranges.h>

#include "analysis/acceptance.hpp"
#include "analysis/act_text.hpp"
#include "analysis/cli/evidence_view.hpp"
#include "models/constants.hpp"
#include "scenarios/units.hpp"

namespace clearstroke {
namespace {

const Screw& screw_of(const OrdersView& view, ScrewId screw) {
    return view.report.usual.network.screws[screw.index];
}

std::string range_text(int low, int usual, int high) {
    return low == high ? fmt::format("{}", usual) : fmt::format("{} ({} to {})", usual, low, high);
}

Lines head(const OrdersView& view) {
    const Case& c = view.report.usual;
    const std::size_t count = view.report.search.run, screws = view.report.points.size();
    const bool whole = std::ranges::all_of(
        view.report.orders, [&](const RankedOrder& order) { return left_out(view.report, order).empty(); });
    const std::string of_screws = whole ? fmt::format(" of {} screw{}", screws, screws == 1 ? "" : "s") : "";
    Lines lines = wrap(view.scenario.title, text_width);
    lines.push_back(fmt::format("{} order{}{}; {}; {} at {:.0f} degC", count, count == 1 ? "" : "s",
                                of_screws, c.procedure.method.name, c.network.conditions.fluid.name,
                                c.network.conditions.temperature - zero_celsius));
    return lines;
}

// Cautions in few words, those before work, of the acts and of the method.
Lines brief_cautions(const OrdersView& view) {
    std::vector<std::string_view> brief;
    const std::vector<Caution> after = cautions_after();
    for (const Caution& caution : cautions_of(view.report.usual, view.anti_lock, view.suggested()))
        if (std::ranges::find(after, caution.topic, &Caution::topic) == after.end())
            brief.push_back(caution.brief);
    return labelled("FIRST", fmt::format("{}. In full: --all", fmt::join(brief, "; ")));
}

Lines steps(const OrdersView& view) {
    const PlanResult& usual = view.report.best().result;
    Lines lines;
    for (std::size_t i = 0; i < usual.visits.size(); ++i) {
        const VisitOutcome& visit = usual.visits[i];
        int low = visit.strokes, high = low;
        if (!view.report.spreads.empty())
            for (const PlanResult& run : view.report.spreads.front().results)
                if (i < run.visits.size()) {
                    low = std::min(low, run.visits[i].strokes);
                    high = std::max(high, run.visits[i].strokes);
                }
        const Screw& screw = screw_of(view, visit.screw);
        std::string bubbles =
            visit.carried > 0 ? fmt::format("last bubble in stroke {}", visit.carried) : "no bubbles";
        if (visit.why == RunEnd::stroke_limit) bubbles += ": stopped at limit, not clear";
        append(lines, labelled(i == 0 ? "DO" : "", fmt::format("{}. {:<9} {} {}, {}", i + 1, screw.name,
                                                               range_text(low, visit.strokes, high),
                                                               high == 1 ? "stroke" : "strokes", bubbles)));
        const Procedure& plan = view.report.usual.procedure;
        if (const auto before = before_screw(view.report.usual.network, plan, visit.screw); !before.empty())
            append(lines, labelled("", fmt::format("   before it: {}", fmt::join(before, ", "))));
    }
    const StopRule& stop = view.report.usual.procedure.stop;
    append(lines,
           labelled("",
                    fmt::format(
                        "Leave a screw after {} in a row without a bubble{}, once the clear hose has filled.",
                        strokes_text(stop.clear_strokes),
                        stop.new_colour > 0.0 ? " and with the colour of new fluid" : "")));
    return lines;
}

Lines at_hand(const OrdersView& view) {
    const PlanResult& best = view.report.best().result;
    return labelled(
        "AT HAND",
        fmt::format("Fluid to have at hand: {} mL of {} beyond what fills the reservoir. {}. About {}.",
                    ml_text(fluid_at_hand(view.report)), view.report.usual.network.conditions.fluid.name,
                    best.top_ups == 0 ? std::string("No top-up needed")
                                      : fmt::format("Top up {} time{}, when half empty", best.top_ups,
                                                    best.top_ups == 1 ? "" : "s"),
                    minutes_text(best.duration)));
}

Lines rules(const OrdersView& view) {
    Lines lines;
    const auto& orders = view.report.orders;
    for (std::size_t i = 0; i < orders.size(); ++i) {
        const bool worst = i + 1 == orders.size() && !as_good_as_best(view.report, orders[i]) &&
                           left_out(view.report, orders[i]).empty();
        if (orders[i].known_as.empty() && !worst) continue;
        RankedOrder named = orders[i];
        std::string names = together(named.known_as);
        if (worst) names = names.empty() ? "the worst" : names + " (the worst)";
        named.known_as = {fmt::format("{} [{}]", names, order_text(view.report.usual.network, named.screws))};
        const std::string place = view.report.others.empty()
                                      ? ""
                                      : fmt::format("; place {} of {}", named.place, view.report.search.run);
        append(lines, labelled(lines.empty() ? "RULES" : "", rule_text(view.report, named) + place));
    }
    return lines;
}

// What was run, what it took, and what that leaves open.
Lines searched(const OrdersView& view) {
    const OrdersSearch& search = view.report.search;
    const bool all = search.how == OrdersSearch::How::all, listed = search.how == OrdersSearch::How::listed;
    if (search.run < 2) return {};
    std::string text = all ? fmt::format("all {} orders", search.run)
                       : listed
                           ? fmt::format("the {} listed and usual orders", search.run)
                           : fmt::format("{} of {:.0f} orders, the most promising {} beginnings followed",
                                         search.run, search.possible, search.width);
    text +=
        fmt::format("; {} strokes run, {}{:.0f} if each {}order began anew.", search.work.strokes,
                    all || listed ? "" : "about ", search.strokes_apart, all || listed ? "" : "possible ");
    if (search.joining)
        text +=
            fmt::format(" Where the same screws, in another order, left the circuit alike ({:.1g} mL of air, "
                        "{:.1g} mL of fluid apart at most), the rest was run once.",
                        search.joining->apart.gas * 1e6, search.joining->apart.liquid * 1e6);
    if (!search.left_out.empty())
        text += fmt::format(" Left out by [sequence]: {}.", fmt::join(search.left_out, ", "));
    return labelled("SEARCH", text);
}

Lines air(const OrdersView& view) {
    const PlanResult& best = view.report.best().result;
    std::vector<std::string> places;
    for (const PlaceAir& place : best.air_by_place)
        if (place.left > 5e-9 && places.size() < 4)
            places.push_back(fmt::format("{} {}", place.place, ml_text(place.left)));
    Lines lines = labelled(
        "AIR", fmt::format("{} mL at the start, {} mL air left{}; air this procedure can't move: {} mL{}.",
                           ml_text(best.air_start), ml_text(best.air_left),
                           places.empty() ? "" : fmt::format(" ({})", fmt::join(places, ", ")),
                           ml_text(best.beyond_reach), rest_text(best)));
    append(lines, leak_lines(best));
    for (std::size_t i = 0; i < view.advice.size() && i < 3; ++i)
        append(lines, labelled("", "To move it: " + view.advice[i].sentence + "."));
    return lines;
}

Lines pedal(const OrdersView& view) {
    Lines lines;
    const Network& net = view.report.usual.network;
    for (const PedalTravel& p : view.report.best().result.pedals) {
        std::vector<std::string> points;
        for (std::size_t i = 0; i < p.forces.size(); ++i)
            points.push_back(fmt::format("{} mm at {:.0f} N ({} without that air)", mm_text(p.travel[i]),
                                         p.forces[i], mm_text(p.without_air[i])));
        const auto reserve = pedal_reserve(net, p);
        const std::string left =
            reserve ? fmt::format("; {} of the travel in reserve", percent_text(*reserve)) : "";
        append(lines, labelled(lines.empty() ? "PEDAL" : "",
                               fmt::format("{}, settled: {}{}", net.actuators[p.actuator.index].name,
                                           fmt::join(points, ", "), left)));
    }
    return lines;
}

// "starting air: best 12 / 14 / 19 strokes, farthest first 14 / 16 / 21", per pair of low and high runs.
Lines low_high(const OrdersView& view) {
    const OrdersReport& report = view.report;
    Lines lines;
    for (std::size_t s = 0; s + 1 < report.sets.size(); s += 2) {
        std::vector<std::string> parts;
        for (const OrderSpread& spread : report.spreads) {
            if (parts.size() == 2) break;
            const auto cell = [&](const PlanResult& r) {
                return fmt::format("{}{}", r.strokes, r.target_met ? "" : "*");
            };
            const RankedOrder& order = report.orders[spread.order];
            parts.push_back(
                fmt::format("{} {} / {} / {}", spread.order == 0 ? "best" : order.known_as.front(),
                            cell(spread.results[s]), cell(order.result), cell(spread.results[s + 1])));
        }
        append(lines,
               labelled(
                   lines.empty() ? "HOW FIRM" : "",
                   fmt::format("{}: {}{}", report.sets[s].band, fmt::join(parts, "; "),
                               lines.empty() ? "  (strokes low / usual / high; * misses the target)" : "")));
    }
    return lines;
}

Lines assumed(const OrdersView& view) {
    std::map<std::string, int> grades;
    for (const Assumption& a : view.scenario.assumptions) ++grades[std::string(name_of(a.grade))];
    std::vector<std::string> parts;
    for (const auto& [grade, count] : grades) parts.push_back(fmt::format("{} {}", count, grade));
    Lines lines =
        labelled("ASSUMED", fmt::format("{} values ({}); clearstroke inspect lists them with their bands.",
                                        view.scenario.assumptions.size(), fmt::join(parts, ", ")));
    for (const std::string& note : view.notes()) append(lines, labelled("NOTE", note));
    return lines;
}

Lines after() {
    std::vector<std::string_view> brief;
    for (const Caution& caution : cautions_after()) brief.push_back(caution.brief);
    return labelled("AFTER", fmt::format("Pedal test, hold, leak check, level, careful road test; {}.",
                                         fmt::join(brief, "; ")));
}

Lines screen_with(const OrdersView& view, std::size_t measures, std::size_t orders) {
    Lines lines = head(view);
    append(lines, labelled("FINDING", view.finding));
    if (view.report.evidence) append(lines, evidence_lines(*view.report.evidence, view.names(), orders));
    append(lines, brief_cautions(view));
    append(lines, steps(view));
    append(lines, at_hand(view));
    append(lines, rules(view));
    append(lines, searched(view));
    if (view.plan) append(lines, best_plan_lines(*view.plan, view.report.cost));
    append(lines, air(view));
    append(lines, pedal(view));
    append(lines, measure_lines(view.scenario.factory, view.measures, measures));
    append(lines, low_high(view));
    append(lines, labelled("CHECK", "If this is right, " + view.prediction.sentence + "."));
    append(lines, assumed(view));
    append(lines, after());
    return lines;
}

} // namespace

std::string rest_text(const PlanResult& result) {
    const double rest = result.air_left - result.beyond_reach;
    if (rest < 5e-9) return "";
    return stands_still(result)
               ? fmt::format("; the other {} mL stood still in the last strokes, more of them won't bring it",
                             ml_text(rest))
               : fmt::format("; the other {} mL is within its reach, with more strokes", ml_text(rest));
}

Lines leak_lines(const PlanResult& result) {
    constexpr double worth_telling = 5e-9; // [m^3]
    const double into_circuit = result.leaked_in - result.leaked_to_hose;
    Lines lines;
    if (into_circuit > worth_telling)
        append(lines,
               labelled("", fmt::format("{} mL leaked in on the way: past threads or joints, or from a "
                                        "reservoir that ran low.",
                                        ml_text(into_circuit))));
    if (result.leaked_to_hose > worth_telling)
        append(
            lines,
            labelled(
                "",
                fmt::format(
                    "{} mL came past the threads of open screws, or the fit of the hose, straight into the "
                    "clear hose: bubbles there that were never in the circuit.",
                    ml_text(result.leaked_to_hose))));
    return lines;
}

std::vector<Act> OrdersView::suggested() const {
    std::vector<Act> acts;
    for (const Advice& item : advice)
        if (item.act) acts.push_back(*item.act);
    return acts;
}

std::vector<std::string> OrdersView::notes() const {
    std::vector<std::string> all = scenario.warnings;
    for (const RankedOrder& order : report.orders)
        if (const std::string out = left_out(report, order); !out.empty())
            all.push_back(fmt::format("{} leaves out {}: what it takes is not that of a whole job",
                                      name_of(report, order), out));
    return all;
}

std::vector<std::string> OrdersView::names() const {
    std::vector<std::string> all;
    for (const RankedOrder& order : report.orders) all.push_back(name_of(report, order));
    return all;
}

Lines measure_lines(const CaseFactory& factory, const std::vector<MeasureNext>& measures, std::size_t most) {
    Lines lines;
    for (std::size_t i = 0; i < measures.size() && i < most; ++i) {
        const MeasureNext& next = measures[i];
        const Parameter& p = factory.parameters[next.parameter];
        const std::string change =
            next.changes_at ? fmt::format("finding changes at {}", shown(*next.changes_at, p.shown_unit))
                            : std::string("finding holds within its band");
        const std::string strokes =
            next.strokes_low == next.strokes_high
                ? fmt::format("air left {} to {} mL", ml_text(next.air_low), ml_text(next.air_high))
                : fmt::format("{} to {} strokes", next.strokes_low, next.strokes_high);
        append(lines, labelled(i == 0 ? "MEASURE" : "", fmt::format("{}: taken as {} ({}), {}; {} ({})",
                                                                    p.name, shown(p.usual, p.shown_unit),
                                                                    shown_band(p.low, p.high, p.shown_unit),
                                                                    strokes, change, p.how_to_measure)));
    }
    return lines;
}

Lines orders_screen(const OrdersView& view, std::size_t most) {
    std::size_t measures = 3, orders = 4;
    Lines lines = screen_with(view, measures, orders);
    while (lines.size() > most && measures > 1) lines = screen_with(view, --measures, orders);
    while (lines.size() > most && orders > 1) lines = screen_with(view, measures, --orders);
    return lines;
}

Lines orders_table(const OrdersView& view, int top) {
    const OrdersReport& report = view.report;
    Table table({">group", "order", ">strokes", ">to target", ">fluid mL", ">time", ">too much air mL",
                 "known as, why it misses"});
    for (std::size_t i = 0; i < report.orders.size() && (top == 0 || std::cmp_less(i, top)); ++i) {
        const RankedOrder& order = report.orders[i];
        const PlanResult& r = order.result;
        std::string note = together(order.known_as);
        if (!r.target_met) note += (note.empty() ? "" : "; ") + r.stopped_because;
        table.row({fmt::format("{}", order.group), order_text(report.usual.network, order.screws),
                   fmt::format("{}", r.strokes), r.to_target ? stroke_text(*r.to_target) : "never",
                   ml_text(r.drawn), minutes_text(r.duration), ml_text(r.excess), note});
    }
    return table.lines();
}

Lines all_cautions(const Case& c, AntiLockUnit unit, const std::vector<Act>& suggested) {
    Lines lines;
    for (const Caution& caution : cautions_of(c, unit, suggested))
        append(lines, labelled(lines.empty() ? "CAUTIONS" : "", to_text(caution)));
    return lines;
}

} // namespace clearstroke
