#pragma once
/// Search for the best plan: visits (screw, strokes) that need not finish one screw before the next.
///
/// A plan visits each screw of the file at most N times. A visit ends on what is seen (the stop rule) or,
/// when the screw is returned to, after a counted number of strokes, less than the rule would take; the last
/// visit to every screw ends on what is seen. The search goes visit by visit from copies of the State. One
/// visit until clear gives every shorter one as well: its State after k strokes, with the acts of leaving.
/// Plans followed are cut and bounded as in with the least of every screw that is not clear. A level
/// keeps `width`, those with the least
///     e = spent + sum over the screws not clear of the least of a visit + lambda * excess, (A-14) lambda =
///     (cost of the best order - the least of all its visits) / excess at the start,
/// and none that another dominates: same screws done as often, no cheaper and no less air anywhere.
/// It is a beam; what it drops is bounded by the least b, within plans of this kind. Source: ours.
#include "analysis/orders.hpp"

namespace clearstroke {

struct PlanRequest {
    int most_visits{2};          ///< to a screw
    std::size_t width{24};       ///< plans kept at each level
    std::size_t most_checked{6}; ///< plans tried on the low and high inputs
    int threads{};               ///< 0: all cores
    Settings settings;
};

/// The plan and the best order on one set of inputs.
struct PlanCheck {
    ValueSet set;
    PlanResult plan, order;
    bool holds{}; ///< target met where the order meets it, no dearer beyond a tie, clear, level kept
};

struct BestPlan {
    enum class Verdict { gain, gain_not_firm, no_gain, no_target } verdict{Verdict::no_gain};
    std::vector<Visit> visits;        ///< strokes: counted, to be returned to; none: until clear
    PlanResult result;                ///< of an ordinary run of the visits
    PlanResult order;                 ///< of the best order, in the same company
    double gain{};                    ///< cost of the order less that of the plan
    double tie{};                     ///< smaller gains are none
    bool same_bits{};                 ///< the ordinary run left the bits that the search saw
    std::vector<PlanCheck> checks;    ///< low and high inputs
    double worst{}, worst_of_order{}; ///< cost over low, usual and high inputs
    std::size_t complete{};           ///< plans that reached the target
    TreeWork work;
    std::optional<double> bound; ///< no plan of this kind that was not followed costs less
    std::string sentence;
};

/// Against the best order of a comparison of this factory. What the report's orders could not move counts as
/// beyond reach, unless the plan moves it.
[[nodiscard]] BestPlan find_best_plan(const CaseFactory&, const OrdersReport&, const PlanRequest& = {});

/// "RR 2 strokes, LF until clear, RR until clear".
[[nodiscard]] std::string plan_text(const Network&, const std::vector<Visit>&);

} // namespace clearstroke
