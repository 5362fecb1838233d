#include "analysis/plan_result.hpp"
#include "analysis/renewal.hpp"

#include <algorithm>
#include <map>
#include <numeric>

#include <fmt/format.h>
#include <fmt/ranges.h>

namespace clearstroke {
namespace {

constexpr double no_air = 1e-12; // free air below this is not reported as a place with air [m^3]

bool is_stub(const Line& line) {
    return std::holds_alternative<Blank>(line.from) || std::holds_alternative<Blank>(line.to);
}

// Air per circuit after the preparation, then after every stroke.
std::vector<std::vector<double>> air_levels(const PlanRun& run) {
    std::vector<std::vector<double>> levels(run.air_start.of_circuit.size());
    for (std::size_t c = 0; c < levels.size(); ++c) {
        levels[c].push_back(run.air_start.of_circuit[c]);
        for (const auto& visit : run.visits)
            for (const StrokeRecord& stroke : visit->record.strokes)
                levels[c].push_back(stroke.air_by_circuit[c]);
    }
    return levels;
}

std::optional<double> strokes_to_target(const PlanRun& run, const BeyondAll& beyond, double excess) {
    std::optional<double> latest = 0.0;
    const auto levels = air_levels(run);
    for (std::size_t c = 0; c < levels.size() && latest; ++c) {
        const auto crossing = last_crossing(levels[c], beyond.of_circuit[c] + excess);
        latest = crossing ? std::optional(std::max(*latest, *crossing)) : std::nullopt;
    }
    return latest;
}

std::optional<double> strokes_to_99_percent(const PlanRun& run, const BeyondAll& beyond) {
    const auto levels = air_levels(run);
    if (levels.empty()) return 0.0;
    std::vector<double> excess(levels.front().size(), 0.0);
    for (std::size_t c = 0; c < levels.size(); ++c)
        for (std::size_t k = 0; k < excess.size(); ++k)
            excess[k] += std::max(0.0, levels[c][k] - beyond.of_circuit[c]);
    return last_crossing(excess, std::max(0.01 * excess.front(), no_air));
}

std::vector<std::pair<std::string, double>> renewed_by_wheel(const Network& net, const PlanRun& run) {
    std::vector<std::pair<std::string, double>> renewed;
    for (const Screw& screw : net.screws) {
        if (std::ranges::find(renewed, screw.wheel, &std::pair<std::string, double>::first) != renewed.end())
            continue;
        if (const auto share = fresh_at(net, screw.wheel, run.fresh_of_volume))
            renewed.emplace_back(screw.wheel, *share);
    }
    return renewed;
}

std::string why_stopped(const Network& net, const PlanRun& run, const PlanResult& result) {
    if (!run.status.usable())
        return fmt::format("could not be computed: {}{}", run.status.detail,
                           run.status.where.empty() ? "" : fmt::format(" ({})", run.status.where));
    std::vector<std::string> at_limit;
    for (const VisitOutcome& visit : result.visits)
        if (visit.why == RunEnd::stroke_limit) at_limit.push_back(net.screws[visit.screw.index].name);
    if (!at_limit.empty()) return fmt::format("stopped at limit at {}", fmt::join(at_limit, ", "));
    const bool counted =
        std::ranges::any_of(result.visits, [](const VisitOutcome& v) { return v.why == RunEnd::done; });
    return counted ? "strokes counted" : "seen clear";
}

void add_visits(PlanResult& result, const Case& c, const PlanRun& run) {
    result.duration = run.prepare_time;
    result.seen_clear = true;
    result.lowest_level = run.ledger.lowest_level;
    for (const auto& visit : run.visits) {
        const VisitOutcome& outcome = result.visits.emplace_back(outcome_of(visit->record, c.procedure.stop));
        result.strokes += outcome.strokes;
        result.carried += outcome.carried;
        result.drawn += outcome.drawn;
        result.discarded += outcome.discarded;
        result.duration += outcome.duration;
        result.top_ups += outcome.top_ups;
        result.seen_clear = result.seen_clear && outcome.ended_clear;
    }
    result.confirmed = result.strokes - result.carried;
}

/// What the last stroke of each visit took out of the circuits.
double moved_by_last_strokes(const PlanRun& run) {
    double moved = 0.0, before = run.air_start.total;
    for (const auto& visit : run.visits)
        for (const StrokeRecord& stroke : visit->record.strokes) {
            const double after =
                std::accumulate(stroke.air_by_circuit.begin(), stroke.air_by_circuit.end(), 0.0);
            if (&stroke == &visit->record.strokes.back()) moved += std::max(before - after, 0.0);
            before = after;
        }
    return moved;
}

void add_air(PlanResult& result, const Case& c, const PlanRun& run, const BeyondAll& beyond) {
    result.air_start = run.air_start.total;
    result.air_left = run.air_end.total;
    result.leaked_in = run.ledger.leaked_in;
    result.leaked_to_hose = run.ledger.leaked_to_hose;
    result.beyond_reach = beyond.total;
    result.last_moved = moved_by_last_strokes(run);
    result.beyond_by_circuit = beyond.of_circuit;
    result.target_met = run.status.usable();
    for (std::size_t i = 0; i < beyond.of_circuit.size(); ++i) {
        const double excess = std::max(0.0, run.air_end.of_circuit[i] - beyond.of_circuit[i]);
        result.excess_by_circuit.push_back(excess);
        result.excess += excess;
        result.target_met = result.target_met && excess <= c.procedure.target.excess;
    }
    result.air_by_place = air_by_place(c.network, run.air_end, beyond);
}

} // namespace

void LeastAir::add(const PlanRun& run) {
    if (!run.status.usable()) return;
    LeastAir own{run.air_end.of_volume, run.air_end.of_line};
    for (std::size_t v = 0; v < own.of_volume.size(); ++v)
        own.of_volume[v] = std::min(own.of_volume[v], run.beyond[v]);
    add(own);
}

void LeastAir::add(const LeastAir& other) {
    if (of_volume.empty() && of_line.empty()) *this = other;
    for (std::size_t v = 0; v < other.of_volume.size(); ++v)
        of_volume[v] = std::min(of_volume[v], other.of_volume[v]);
    for (std::size_t i = 0; i < other.of_line.size(); ++i)
        of_line[i] = std::min(of_line[i], other.of_line[i]);
}

BeyondAll LeastAir::beyond(const Network& net) const {
    BeyondAll beyond{of_volume, of_line, {}, 0.0};
    beyond.of_volume.resize(net.volumes.size(), 0.0);
    beyond.of_line.resize(net.lines.size(), 0.0);
    for (std::size_t i = 0; i < net.lines.size(); ++i)
        if (!is_stub(net.lines[i])) beyond.of_line[i] = 0.0;
    const Circuits circuits = find_circuits(net);
    beyond.of_circuit.assign(static_cast<std::size_t>(circuits.count), 0.0);
    const auto add = [&](const std::vector<double>& parts, const std::vector<int>& circuit_of) {
        for (std::size_t i = 0; i < parts.size(); ++i) {
            if (circuit_of[i] >= 0) beyond.of_circuit[static_cast<std::size_t>(circuit_of[i])] += parts[i];
            beyond.total += parts[i];
        }
    };
    add(beyond.of_volume, circuits.of_volume);
    add(beyond.of_line, circuits.of_line);
    return beyond;
}

BeyondAll beyond_all(const Network& net, std::span<const PlanRun> runs) {
    LeastAir least;
    for (const PlanRun& run : runs) least.add(run);
    return least.beyond(net);
}

bool stands_still(const PlanResult& result) {
    constexpr double rounds = 100.0, least = 5e-9; // [m^3]
    const double rest = result.air_left - result.beyond_reach;
    return rest > least && rest > rounds * result.last_moved;
}

std::optional<double> last_crossing(std::span<const double> levels, double target) {
    if (levels.empty()) return 0.0;
    if (levels.back() > target) return std::nullopt;
    for (std::size_t k = levels.size() - 1; k > 0; --k)
        if (levels[k - 1] > target)
            return static_cast<double>(k - 1) + (levels[k - 1] - target) / (levels[k - 1] - levels[k]);
    return 0.0;
}

VisitOutcome outcome_of(const VisitRecord& record, const StopRule& stop) {
    VisitOutcome visit;
    visit.screw = record.screw;
    visit.strokes = static_cast<int>(record.strokes.size());
    visit.openings = record.openings;
    visit.top_ups = record.top_ups;
    visit.discarded = record.fluid_discarded;
    visit.drawn = record.fluid_drawn;
    visit.duration = record.duration;
    visit.why = record.status.why;
    for (const StrokeRecord& stroke : record.strokes)
        if (stroke.bubble_seen) visit.carried = stroke.number;
    for (const StrokeRecord& stroke : record.strokes)
        if (stroke.number > visit.carried)
            visit.clear_stroke += stroke.liquid_out / (visit.strokes - visit.carried);
    visit.ended_clear =
        visit.why == RunEnd::seen_clear || visit.strokes - visit.carried >= stop.clear_strokes;
    return visit;
}

std::vector<PlaceAir> air_by_place(const Network& net, const AirInside& air, const BeyondAll& beyond) {
    std::map<std::string, PlaceAir> places;
    const auto add = [&](const std::string& place, double left, double out_of_reach) {
        PlaceAir& entry = places[place];
        entry.place = place;
        entry.left += left;
        entry.beyond += out_of_reach;
    };
    for (std::size_t i = 0; i < net.volumes.size(); ++i)
        add(net.volumes[i].place, air.of_volume[i], beyond.of_volume[i]);
    for (std::size_t i = 0; i < net.lines.size(); ++i)
        add(net.lines[i].place, air.of_line[i], beyond.of_line[i]);
    std::vector<PlaceAir> sorted;
    for (const auto& [name, entry] : places)
        if (entry.left > no_air) sorted.push_back(entry);
    std::ranges::stable_sort(sorted, std::greater{}, &PlaceAir::left);
    return sorted;
}

PlanResult judge(const Case& c, const PlanRun& run, const BeyondAll& beyond) {
    PlanResult result;
    add_visits(result, c, run);
    add_air(result, c, run, beyond);
    result.failed = !run.status.usable();
    if (!result.failed) {
        result.to_target = strokes_to_target(run, beyond, c.procedure.target.excess);
        result.to_99 = strokes_to_99_percent(run, beyond);
    }
    result.renewed = renewed_by_wheel(c.network, run);
    result.pedals = run.pedals;
    result.balance = run.balance;
    result.stopped_because = why_stopped(c.network, run, result);
    return result;
}

std::optional<double> pedal_reserve(const Network& net, const PedalTravel& pedal) {
    const double available = net.actuators[pedal.actuator.index].pad_travel;
    if (available <= 0.0 || pedal.travel.empty()) return std::nullopt;
    return 1.0 - pedal.travel.front() / available;
}

std::vector<std::pair<ScrewId, int>> strokes_by_screw(const PlanResult& result) {
    std::map<ScrewId, int> strokes;
    for (const VisitOutcome& visit : result.visits) strokes[visit.screw] += visit.strokes;
    return {strokes.begin(), strokes.end()};
}

std::string order_text(const Network& net, const std::vector<ScrewId>& screws) {
    std::vector<std::string> names;
    for (const ScrewId screw : screws) names.push_back(net.screws[screw.index].name);
    return fmt::format("{}", fmt::join(names, ", "));
}

} // namespace clearstroke
