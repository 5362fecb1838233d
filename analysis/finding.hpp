#pragma once
/// What a comparison of orders comes to, in sentences a person can act on and check.
#include <optional>
#include <string>
#include <vector>

#include "analysis/orders.hpp"

namespace clearstroke {

/// "14 strokes", "1 stroke", "12 min", "230 mL".
[[nodiscard]] std::string cost_text(double cost, Cost);
[[nodiscard]] std::string strokes_text(int strokes);

/// "farthest first: 14 strokes, 2 more than the best"; for a miss the reason instead.
[[nodiscard]] std::string rule_text(const OrdersReport&, const RankedOrder&);

/// "RF, LF": bleed points that an order does not visit; empty: it visits all.
[[nodiscard]] std::string left_out(const OrdersReport&, const RankedOrder&);

/// Does no more than the numerical resolution lie between this order and the best?
[[nodiscard]] bool as_good_as_best(const OrdersReport&, const RankedOrder&);

/// The answer in a sentence or two; "No difference: ..." when all orders that leave out no screw tie.
[[nodiscard]] std::string finding_of(const OrdersReport&);

/// Sets of low and high runs in which `order` is no longer ahead of (or tied with) `rival`, as in the usual
/// run.
[[nodiscard]] std::vector<std::string> overturned_by(const OrdersReport&, const OrderSpread& order,
                                                     const OrderSpread& rival);

/// What anyone can see on doing the best order.
struct Prediction {
    ScrewId screw;
    int last_bubble{}, low{}, high{}; ///< stroke at that screw in which the last bubble is seen; 0: none
    double stroke{}, stroke_low{}, stroke_high{}; ///< liquid of a clear stroke [m^3]; 0: no clear stroke
    std::string sentence;
};
[[nodiscard]] Prediction predict(const OrdersReport&);

/// Fluid to have at hand for the best order: the most it draws in any run, up to the next 50 mL [m^3].
[[nodiscard]] double fluid_at_hand(const OrdersReport&);

} // namespace clearstroke
