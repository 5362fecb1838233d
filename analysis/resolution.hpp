#pragma once
/// Numerical resolution of a result: how much it moves when the step tolerance is halved and every line has
/// twice the lumps. Differences inside it are ties.
#include <optional>
#include <span>
#include <vector>

#include "analysis/plan_result.hpp"
#include "analysis/ranking.hpp"

namespace clearstroke {

/// Moves of one order. The first two at fixed strokes per screw, the others with the stop rule at work.
struct Resolution {
    double to_target{}; ///< strokes to target [-]
    double air{};       ///< free air left [m^3]
    double strokes{};   ///< counted strokes [-]
    double duration{};  ///< [s]
    double drawn{};     ///< [m^3]
};

[[nodiscard]] Resolution measure_resolution(const Case&, const std::vector<Visit>&, const PlanRun& base,
                                            const BeyondAll&, const Settings& = {});

/// The larger move of each kind.
[[nodiscard]] Resolution larger(const Resolution&, const Resolution&);

/// Counts are whole strokes: they tie when they differ by no more than the counts or the strokes to target
/// move.
[[nodiscard]] TieWidth tie_width(const Resolution&, Cost);

/// Visits with as many strokes as they took in a run.
[[nodiscard]] std::vector<Visit> with_fixed_strokes(std::vector<Visit>, const PlanRun&);

struct ConvergenceRow {
    double tolerance{};
    int lump_factor{};
    std::optional<double> to_target;
    double air_left{}; ///< [m^3]
};

/// Strokes to target and air left at fixed strokes per screw for each pair of settings (same length).
[[nodiscard]] std::vector<ConvergenceRow> convergence_table(const Case&, const std::vector<Visit>& fixed,
                                                            std::span<const double> tolerances,
                                                            std::span<const int> lump_factors,
                                                            const Settings& = {});

/// log2(|a - b| / |b - c|) for results a, b, c at successive halvings; none when b and c agree to the last
/// bit.
[[nodiscard]] std::optional<double> observed_order(double a, double b, double c);

} // namespace clearstroke
