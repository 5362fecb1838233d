#pragma once
/// What a run of a plan comes to: counts, costs, air left and the target, in the words of the reports.
///
/// Beyond reach: the least free air that a method leaves in a place, common to all the runs compared,
///     R_v = min over runs of min(gas left in v, gas that the openings of v can't move),               
/// and in a blank stub the least gas left. Excess of a circuit: its free air less the sum of R over it.
/// Strokes to target: the last crossing of excess = target, linear in what is delivered within the stroke
///     s = k - 1 + (e_{k-1} - T) / (e_{k-1} - e_k),   the latest over the circuits.                    
/// Source: ours.
#include <optional>
#include <span>
#include <string>
#include <vector>

#include "analysis/plan_run.hpp"

namespace clearstroke {

/// Free air that no compared run could move [m^3].
struct BeyondAll {
    std::vector<double> of_volume, of_line, of_circuit;
    double total{};
};
[[nodiscard]] BeyondAll beyond_all(const Network&, std::span<const PlanRun>);

/// Gathers run by run, in any order: the least of the runs added so far.
struct LeastAir {
    std::vector<double> of_volume, of_line; ///< [m^3]; empty: no usable run yet

    void add(const PlanRun&);
    void add(const LeastAir&);
    [[nodiscard]] BeyondAll beyond(const Network&) const;
};

/// Stroke, with fraction, at which `levels` (start, then after each stroke) last fall to `target`; 0 when
/// they never were above, none when they end above.
[[nodiscard]] std::optional<double> last_crossing(std::span<const double> levels, double target);

struct VisitOutcome {
    ScrewId screw;
    int strokes{};
    int carried{}; ///< up to the last visible bubble; the rest only confirmed
    int openings{}, top_ups{};
    double discarded{}, drawn{}; ///< [m^3]
    double duration{};           ///< [s]
    double clear_stroke{};       ///< liquid of a stroke after the last bubble, mean [m^3]; 0: none
    bool ended_clear{};          ///< the person saw clear fluid at the end
    RunEnd why{};
};
[[nodiscard]] VisitOutcome outcome_of(const VisitRecord&, const StopRule&);

/// Air of the parts that share a name in reports [m^3].
struct PlaceAir {
    std::string place;
    double left{}, beyond{};
};

[[nodiscard]] std::vector<PlaceAir> air_by_place(const Network&, const AirInside&, const BeyondAll&);

struct PlanResult {
    std::vector<VisitOutcome> visits;
    int strokes{}, carried{}, confirmed{};
    std::optional<double> to_target, to_99; ///< strokes, none if never
    double drawn{}, discarded{};            ///< [m^3]
    double duration{};                      ///< hands-on [s]
    int top_ups{};
    double lowest_level{}; ///< of a reservoir [m^3]
    double air_start{}, air_left{}, beyond_reach{}, leaked_in{}, leaked_to_hose{},
        excess{};        ///< free air; of what leaked in, into the clear hose past an open screw [m^3]
    double last_moved{}; ///< free air that the last stroke of each visit took out, all visits [m^3]
    std::vector<double> beyond_by_circuit, excess_by_circuit;
    std::vector<PlaceAir> air_by_place;                  ///< places with air, most first
    std::vector<std::pair<std::string, double>> renewed; ///< share of fresh liquid at each bled wheel
    std::vector<PedalTravel> pedals;
    bool seen_clear{}; ///< every visit ended in clear fluid, as the person saw it
    bool target_met{};
    bool failed{}; ///< could not be computed
    std::string stopped_because;
    Balance balance;
};

[[nodiscard]] PlanResult judge(const Case&, const PlanRun&, const BeyondAll&);

/// Whether the air that is left beside what can't be moved stood still: a hundred more strokes like the last one at
/// each screw would not take it out.
[[nodiscard]] bool stands_still(const PlanResult&);

/// Share of the travel from rest to the floor that is left at the first reference force; none when the travel
/// to the floor is not known.
[[nodiscard]] std::optional<double> pedal_reserve(const Network&, const PedalTravel&);

/// Strokes at each screw, in the order of the network's screws; screws without a visit are left out.
[[nodiscard]] std::vector<std::pair<ScrewId, int>> strokes_by_screw(const PlanResult&);

/// "RR, LR, RF, LF".
[[nodiscard]] std::string order_text(const Network&, const std::vector<ScrewId>&);

} // namespace clearstroke
