#pragma once
/// Runs every order of the same visits, ways to have done the same screws that left the circuit alike as one.
///
/// Level by level each beginning (visits made, and the State they left) is carried on by every visit that may
/// follow. A beginning that has done the same screws as an earlier one of its level, and whose State is within
/// `alike` of that one's, is joined to it: what follows is run once and counts for both. Where one state stays of
/// each set of n screws that is n 2^(n-1) visits, 1024 for eight, instead of the tree's 109,600. Last visits are
/// not joined.
/// A row adds up the visits on its order's way, so it differs from the order's own run by what the joined
/// differences make of those that follow: 0.05 mL is a hundredth of a stroke or so.
/// Joined in the order of the level: same request, same bits, for any number of threads.
/// Source: ours; dynamic programming over sets, Held and Karp's device, from memory.
#include "analysis/order_limits.hpp"
#include "analysis/order_row.hpp"
#include "sim/state_difference.hpp"

namespace clearstroke {

/// Beginnings no further apart than this are one. Gas: 0.1 mm^3; liquid: 0.05 mL.
inline constexpr StateDifference alike{1e-10, 5e-8, 100.0, 1e-3, 1e-4, 1e-6, true};

inline constexpr double most_joined_orders = 362880.0; ///< each has a row: nine screws

/// What was joined to what.
struct Joining {
    std::size_t beginnings{}; ///< joined to another
    StateDifference apart;    ///< the largest of each kind between two that were joined
};

struct JoinedOrders {
    bool complete{};                   ///< else only `work` holds: too little was alike for the effort
    std::vector<OrderOfVisits> orders; ///< all, in lexicographic order
    std::vector<OrderRow> rows;
    LeastAir least;
    Balance balance;
    TreeWork work;
    Joining joining;
};

/// `visits` are the visits to the screws of the rules, by position; no more than `effort` of them are simulated.
/// Gives up, incomplete, where the first sets that can be reached in two ways leave none alike, or the effort does
/// not carry to the end.
[[nodiscard]] JoinedOrders join_orders(const Case&, const std::vector<Visit>& visits, const OrderRules&,
                                       double effort, const Settings& = {}, const Progress& = {});

} // namespace clearstroke
