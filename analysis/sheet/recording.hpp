#pragma once
/// A run kept as a film: what stands where at instants close enough to show it moving.
///
/// An instant is kept at the end of every stroke, when a screw is turned, a hose is fitted or a part is
/// moved, and in between every `pace` seconds while a stroke is made, every `idle_pace` seconds otherwise.
/// When there are more than `most`, every second one in between is dropped and the pace doubled. Source:
/// ours.
#include <vector>

#include "analysis/plan_run.hpp"

namespace clearstroke {

struct FilmRequest {
    double pace{0.2}, idle_pace{15.0}; ///< [s]
    std::size_t most{900};             ///< instants
};

/// Gas in a line or hose, as shares of its length from the `from` end.
struct Stretch {
    double begin{}, end{};
    double gas{}; ///< share of the space in it that is gas [-]
};

/// What stands in a part.
struct PartContents {
    double gas{};   ///< free air [m^3]
    double level{}; ///< surface under the pocket, above the bore's centre, by its radius [-]; 1: no pocket
    double fresh{}; ///< share of fresh liquid [-]
    double roll{};  ///< of the part, seen from outboard [rad]
};

struct Instant {
    double t{};                                     ///< [s]
    std::size_t visit{};                            ///< from 0
    std::optional<ScrewId> screw;                   ///< that the clear hose is on
    int strokes{};                                  ///< of this visit that are over
    bool stroke_over{};                             ///< at the end of a stroke
    bool kept{};                                    ///< never dropped
    double turns{};                                 ///< by which that screw is open
    double pitch{}, roll{};                         ///< of the vehicle [rad]
    std::vector<double> air_of_circuit, reservoirs; ///< [m^3]
    std::vector<double> rods;                       ///< travel of each, by its full travel [-]
    std::vector<PartContents> parts;                ///< per volume
    std::vector<std::vector<Stretch>> lines;
    std::vector<double> fresh_of_line;
    std::vector<Stretch> hose;
};

/// A top-up was made before this stroke of this visit, both from 0.
struct ToppedUp {
    std::size_t visit{};
    int stroke{};
};

struct Film {
    std::vector<Instant> instants;
    std::vector<ToppedUp> top_ups;
    State before, after; ///< when the first visit began; when the last was over
    PlanRun run;
};

/// Runs the visits after the preparation of the case's procedure, as run_plan does, and films them.
[[nodiscard]] Film film_plan(const Case&, const std::vector<Visit>& visits, const FilmRequest& = {},
                             const Settings& = {});

} // namespace clearstroke
