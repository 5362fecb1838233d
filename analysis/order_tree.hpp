#pragma once
/// Runs many orders of the same visits as a tree: what orders begin alike is computed once.
///
/// A node is a State after some visits; children copy it, so memory grows with the depth of the tree and not
/// with the number of orders. Branches of the first two levels are spread over the cores, each with a
/// Simulation of its own; a run is told under the number of its order, so results have the same bits for any
/// number of threads.
#include <functional>
#include <vector>

#include "analysis/plan_run.hpp"

namespace clearstroke {

/// An order as positions in a list of visits.
using OrderOfVisits = std::vector<std::size_t>;

/// Told after each order that is done, from any thread: how many of how many.
using Progress = std::function<void(std::size_t done, std::size_t total)>;

/// What was simulated: visits and strokes, counts.
struct TreeWork {
    std::size_t visits{}, strokes{};
};

/// Given each run with the number of its order, from any thread, in any order.
using RunSink = std::function<void(std::size_t number, const PlanRun&)>;

/// Runs the orders; with `pedal` each run has the pedal at its end, else not.
TreeWork walk_order_tree(const Case&, const std::vector<Visit>& visits,
                         const std::vector<OrderOfVisits>& orders, bool pedal, const RunSink&,
                         const Settings& = {}, const Progress& = {});

/// One whole run per order, in the order given.
[[nodiscard]] std::vector<PlanRun> run_order_tree(const Case&, const std::vector<Visit>& visits,
                                                  const std::vector<OrderOfVisits>& orders,
                                                  const Settings& = {}, const Progress& = {});

/// Calls `work` with at most `threads` threads; 0: all cores.
void with_threads(int threads, const std::function<void()>& work);

} // namespace clearstroke
