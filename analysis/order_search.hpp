#pragma once
/// Search over orders that are too many to run them all: level by level, the most promising beginnings kept.
///
/// A beginning is a sequence of visits with its State. Its order can cost no less than
///     b = spent + sum over the screws not done of the least that a visit costs                       
/// (strokes: the fixed count, or the clear strokes that the stop rule asks for; time: the move and the fixed
/// times of its acts on top; fluid: no such bound). Beginnings whose b is above the cost of a known order
/// that meets the target are cut. Of the others a level keeps `width`, those with the least
///     e = spent + sum over the screws not done of what their visits took in the known orders, (A-13)
/// shared out evenly between the sets of screws done: among the ways to have done the same screws the
/// cheapest stay, whatever they leave behind. So the search is a beam; the least b of all that was cut or
/// dropped bounds what it may have missed. `width` follows from `effort`, not from a clock: same request,
/// same bits, for any number of threads.
/// Source: ours; beam search and bounds as in any text on branch and bound (from memory).
#include <optional>

#include "analysis/order_limits.hpp"
#include "analysis/order_row.hpp"

namespace clearstroke {

/// What is asked of a search. Costs in the unit of `cost`.
struct SearchRequest {
    double effort{}; ///< visits that may be simulated [-]
    Cost cost{};
    std::optional<double> known; ///< cost of an order that meets the target
    std::vector<double> typical; ///< cost of each visit in the orders run so far
};

/// Orders that were followed to their end, in lexicographic order.
struct SearchedOrders {
    std::vector<OrderOfVisits> orders;
    std::vector<OrderRow> rows;
    LeastAir least;
    Balance balance;
    TreeWork work;
    std::size_t width{};
    std::optional<double> bound; ///< no order that was not run costs less; none where nothing is known
};

inline constexpr std::size_t widest_beam = 256; ///< beginnings kept at a level, each with its State

/// `visits` are the visits to the screws of the rules, by position.
[[nodiscard]] SearchedOrders search_orders(const Case&, const std::vector<Visit>& visits, const OrderRules&,
                                           const SearchRequest&, const Settings& = {}, const Progress& = {});

/// The least that a visit costs whatever it finds; 0 for fluid.
[[nodiscard]] double least_cost(const Visit&, const Procedure&, Cost);

/// Beginnings that a level may keep so that the search simulates no more than `effort` visits; at least one.
[[nodiscard]] std::size_t beam_width(const OrderRules::Count&, double effort);

} // namespace clearstroke
