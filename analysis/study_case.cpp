#include "analysis/study_case.hpp"

#include <algorithm>
#include <cmath>
#include <limits>
#include <stdexcept>

#include <fmt/format.h>
#include <fmt/ranges.h>

namespace clearstroke {
namespace {

constexpr double nan = std::numeric_limits<double>::quiet_NaN();
constexpr double ml = 1e-6, mm = 1e-3; // [m^3], [m]

// A plan among those of its case.
struct Kept {
    const PlanResult& result;
    const PlanRun& run;
    int group;
    double behind; // cost more than the best's
};

double travel(const std::vector<double> PedalTravel::*at, const PlanResult& r) {
    return r.pedals.empty() || (r.pedals.front().*at).empty() ? nan : (r.pedals.front().*at).front() / mm;
}

struct MeasureRow {
    Measure measure;
    double (*value)(const Kept&);
};

const std::vector<MeasureRow>& measure_rows() {
    static const std::vector<MeasureRow> rows = {
        {{"strokes_total", "strokes in total", "1"}, [](const Kept& k) { return double(k.result.strokes); }},
        {{"strokes_carried_air", "strokes up to the last visible bubble of each visit", "1"},
         [](const Kept& k) { return double(k.result.carried); }},
        {{"strokes_to_target", "strokes until the target was met, NaN: never", "1"},
         [](const Kept& k) { return k.result.to_target.value_or(nan); }},
        {{"strokes_to_99_percent", "strokes until 99 % of the air that can be moved was out, NaN: never",
          "1"},
         [](const Kept& k) { return k.result.to_99.value_or(nan); }},
        {{"fluid_drawn_ml", "fluid drawn from the reservoirs", "mL"},
         [](const Kept& k) { return k.result.drawn / ml; }},
        {{"fluid_discarded_ml", "fluid that left through the screws", "mL"},
         [](const Kept& k) { return k.result.discarded / ml; }},
        {{"duration_s", "hands-on time", "s"}, [](const Kept& k) { return k.result.duration; }},
        {{"top_ups", "times the reservoir was topped up", "1"},
         [](const Kept& k) { return double(k.result.top_ups); }},
        {{"lowest_level_ml", "least content of a reservoir", "mL"},
         [](const Kept& k) { return k.result.lowest_level / ml; }},
        {{"air_start_ml", "free air at the start", "mL"},
         [](const Kept& k) { return k.result.air_start / ml; }},
        {{"air_left_ml", "free air left", "mL"}, [](const Kept& k) { return k.result.air_left / ml; }},
        {{"air_beyond_reach_ml", "free air that this procedure can't move", "mL"},
         [](const Kept& k) { return k.result.beyond_reach / ml; }},
        {{"air_leaked_in_ml", "free air that leaked in during the work", "mL"},
         [](const Kept& k) { return k.result.leaked_in / ml; }},
        {{"excess_ml", "free air left above what can't be moved, worst circuit", "mL"},
         [](const Kept& k) { return k.result.excess / ml; }},
        {{"pedal_travel_mm", "pedal travel at the first reference force", "mm"},
         [](const Kept& k) { return travel(&PedalTravel::travel, k.result); }},
        {{"pedal_travel_without_air_mm", "the same without any air", "mm"},
         [](const Kept& k) { return travel(&PedalTravel::without_air, k.result); }},
        {{"seen_clear", "1: every visit ended in clear fluid", "1"},
         [](const Kept& k) { return double(k.result.seen_clear); }},
        {{"target_met", "1: target met", "1"}, [](const Kept& k) { return double(k.result.target_met); }},
        {{"group", "rank among the orders that were run; equal: tied within the resolution", "1"},
         [](const Kept& k) { return double(k.group); }},
        {{"as_good_as_best", "1: none of the orders that were run is better", "1"},
         [](const Kept& k) { return double(k.group == 1); }},
        {{"cost_behind_best", "cost more than the best's: strokes, s or m3", "1"},
         [](const Kept& k) { return k.behind; }},
    };
    return rows;
}

struct TraceRow {
    Measure measure;
    double (*value)(const StrokeRecord&);
};

const std::vector<TraceRow>& trace_rows() {
    static const std::vector<TraceRow> rows = {
        {{"air_inside_ml", "free air inside after each stroke", "mL"},
         [](const StrokeRecord& s) {
             double sum = 0.0;
             for (const double air : s.air_by_circuit) sum += air;
             return sum / ml;
         }},
        {{"air_seen_ml", "free air that passed in the clear hose in each stroke", "mL"},
         [](const StrokeRecord& s) { return s.gas_seen / ml; }},
        {{"liquid_out_ml", "liquid through the screw in each stroke", "mL"},
         [](const StrokeRecord& s) { return s.liquid_out / ml; }},
        {{"pad_travel_mm", "travel of pad or grip in each stroke", "mm"},
         [](const StrokeRecord& s) { return s.pad_travel / mm; }},
        {{"colour_seen", "share of new fluid in what entered the clear hose", "1"},
         [](const StrokeRecord& s) { return s.colour_seen; }},
    };
    return rows;
}

template <class Rows> std::vector<Measure> measures_of(const Rows& rows) {
    std::vector<Measure> out;
    for (const auto& row : rows) out.push_back(row.measure);
    return out;
}

std::vector<ScrewId> listed_order(const Network& net, const std::string& label) {
    std::vector<ScrewId> screws;
    for (std::size_t from = 0; from < label.size();) {
        const std::size_t to = std::min(label.find(", ", from), label.size());
        const auto at = std::ranges::find(net.screws, label.substr(from, to - from), &Screw::name);
        if (at == net.screws.end())
            throw std::runtime_error(fmt::format("there is no screw \"{}\"", label.substr(from, to - from)));
        screws.push_back(ScrewId{static_cast<std::size_t>(at - net.screws.begin())});
        from = to + 2;
    }
    return screws;
}

// Sequences to run; the case's own and the named rules come first and need not be among every order.
std::vector<std::vector<ScrewId>> to_run(const Case& c, const StudyPlans& plans) {
    std::vector<std::vector<ScrewId>> all;
    const auto add = [&](const std::vector<ScrewId>& screws) {
        if (std::ranges::find(all, screws) == all.end()) all.push_back(screws);
    };
    switch (plans.which) {
    case StudyPlans::Which::own:
        add(usual_orders(c).back().screws);
        break;
    case StudyPlans::Which::listed:
        for (const std::string& label : plans.labels) add(listed_order(c.network, label));
        break;
    case StudyPlans::Which::rules:
        for (const KnownOrder& known : usual_orders(c)) add(known.screws);
        [[fallthrough]];
    case StudyPlans::Which::all:
        if (visited_screws(c.procedure).size() > 7) // 7! = 5040
            throw std::runtime_error("more than 5040 orders; allowed: a list of orders");
        for (const auto& screws : every_order(c)) add(screws);
        break;
    }
    return all;
}

// Position among what was run of each kept plan; none where the case has no such plan.
std::vector<std::optional<std::size_t>> kept(const Case& c, const StudyPlans& plans,
                                             const std::vector<std::vector<ScrewId>>& all,
                                             const std::vector<Place>& places) {
    std::vector<std::optional<std::size_t>> out;
    const std::vector<KnownOrder> known = usual_orders(c);
    for (const std::string& label : plans.labels) {
        std::optional<std::size_t> at;
        const auto find = [&](const auto& screws) {
            const auto found = std::ranges::find(all, screws);
            if (found != all.end()) at = static_cast<std::size_t>(found - all.begin());
        };
        if (plans.which == StudyPlans::Which::own)
            at = 0;
        else if (plans.which != StudyPlans::Which::rules)
            find(listed_order(c.network, label));
        else if (label == "best")
            at = places.front().index;
        else if (label == "worst")
            at = places.back().index;
        else if (const auto rule = std::ranges::find(known, label, &KnownOrder::name); rule != known.end())
            find(rule->screws);
        out.push_back(at);
    }
    return out;
}

std::vector<double> trace_of(const PlanRun& run, double (*value)(const StrokeRecord&), std::size_t strokes) {
    std::vector<double> trace;
    for (const auto& visit : run.visits)
        for (const StrokeRecord& stroke : visit->record.strokes) trace.push_back(value(stroke));
    trace.resize(strokes, nan);
    return trace;
}

} // namespace

const std::vector<Measure>& study_measures() {
    static const std::vector<Measure> measures = measures_of(measure_rows());
    return measures;
}

const std::vector<Measure>& study_traces() {
    static const std::vector<Measure> traces = measures_of(trace_rows());
    return traces;
}

std::vector<std::string> plan_labels(StudyPlans::Which which, const Case& sample,
                                     const std::vector<std::vector<std::string>>& listed) {
    std::vector<std::string> labels;
    switch (which) {
    case StudyPlans::Which::own:
        return {"the file's own"};
    case StudyPlans::Which::rules:
        return {"best", "worst", "farthest first", "nearest first", "circuit by circuit", "the file's own"};
    case StudyPlans::Which::all:
        for (const auto& screws : every_order(sample)) labels.push_back(order_text(sample.network, screws));
        break;
    case StudyPlans::Which::listed:
        for (const auto& screws : listed) labels.push_back(fmt::format("{}", fmt::join(screws, ", ")));
        break;
    }
    return labels;
}

CaseCells run_study_case(const Case& c, const StudyPlans& plans, const std::vector<std::string>& traces,
                         std::size_t trace_strokes, const Settings& settings) {
    if (visited_screws(c.procedure).empty()) throw std::runtime_error("no bleed screw is visited");
    const std::vector<std::vector<ScrewId>> all = to_run(c, plans);
    const JudgedOrders judged = judge_orders(c, all, settings);
    std::vector<Standing> standings;
    for (const PlanResult& r : judged.results) standings.push_back(standing_of(r, plans.cost));
    const std::vector<Place> places = rank(standings, plans.tie);
    if (standings[places.front().index].failed)
        throw std::runtime_error(judged.results[places.front().index].stopped_because);
    std::vector<int> groups(all.size());
    for (const Place& place : places) groups[place.index] = place.group;
    CaseCells cells;
    std::vector<std::optional<Kept>> of_plan;
    for (const auto& at : kept(c, plans, all, places)) {
        cells.orders.push_back(at ? order_text(c.network, all[*at]) : "");
        of_plan.emplace_back();
        if (at && !judged.results[*at].failed)
            of_plan.back().emplace(Kept{judged.results[*at], judged.runs[*at], groups[*at],
                                        standings[*at].cost - standings[places.front().index].cost});
    }
    for (const MeasureRow& row : measure_rows())
        for (const auto& plan : of_plan) cells.numbers.push_back(plan ? row.value(*plan) : nan);
    for (const TraceRow& row : trace_rows())
        if (std::ranges::find(traces, row.measure.name) != traces.end())
            for (const auto& plan : of_plan) {
                const std::vector<double> trace = plan ? trace_of(plan->run, row.value, trace_strokes)
                                                       : std::vector<double>(trace_strokes, nan);
                cells.numbers.insert(cells.numbers.end(), trace.begin(), trace.end());
            }
    return cells;
}

} // namespace clearstroke
