#pragma once
/// What ranking needs of a run and no more: thousands of orders are kept as rows, a few as whole runs.
#include <mutex>
#include <vector>

#include "analysis/order_tree.hpp"
#include "analysis/ranking.hpp"

namespace clearstroke {

/// Amounts [m^3], times [s].
struct OrderRow {
    bool failed{};
    int strokes{};
    double duration{}, drawn{};
    std::vector<double> air_by_circuit; ///< free air at the end
};
[[nodiscard]] OrderRow row_of(const PlanRun&);

/// The same bits as standing_of(judge(...)) of the whole run.
[[nodiscard]] Standing standing_of(const OrderRow&, Cost, const BeyondAll&, const Target&);
[[nodiscard]] double cost_of(const OrderRow&, Cost);
[[nodiscard]] double cost_of(const VisitRecord&, Cost);

/// Rows of many runs, and what they have in common; filled from any thread.
class OrderRows {
public:
    explicit OrderRows(std::size_t count) : rows(count) {}
    void put(std::size_t number, const PlanRun&);

    std::vector<OrderRow> rows;
    LeastAir least;
    Balance balance; ///< the largest

private:
    std::mutex guard_;
};

/// The larger of each kind, without sign.
[[nodiscard]] Balance larger(const Balance&, const Balance&);

} // namespace clearstroke
