#pragma once
/// The orders that a comparison runs: sequences of screws, and the visits they are made of.
#include <string>
#include <vector>

#include "analysis/known_orders.hpp"
#include "analysis/order_limits.hpp"
#include "analysis/order_tree.hpp"

namespace clearstroke {

/// Sequences of screws, the same as positions in a list of distinct visits.
struct Candidates {
    std::vector<std::vector<ScrewId>> screws;
    std::vector<Visit> visits;
    std::vector<OrderOfVisits> orders;
};
[[nodiscard]] Candidates candidates_of(const Procedure&, std::vector<std::vector<ScrewId>> screws);

/// Screws that the case's own visits go to, each once.
[[nodiscard]] std::vector<ScrewId> visited_screws(const Procedure&);

/// Visits of an order: what the file says about a screw (fixed strokes, acts before) stays with the screw.
[[nodiscard]] std::vector<Visit> visits_in_order(const Procedure&, const std::vector<ScrewId>&);

/// Orders of the visited screws that have a name, and "the file's own".
[[nodiscard]] std::vector<KnownOrder> usual_orders(const Case&);

/// Every order of the visited screws that keeps the limits.
[[nodiscard]] std::vector<std::vector<ScrewId>> every_order(const Case&, const OrderLimits& = {});

/// Does a sequence keep the limits?
[[nodiscard]] bool keeps(const OrderLimits&, const std::vector<ScrewId>& sequence);

inline constexpr const char* files_own_order = "the file's own";

} // namespace clearstroke
