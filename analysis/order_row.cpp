#include "analysis/order_row.hpp"

#include <algorithm>
#include <cmath>

namespace clearstroke {

OrderRow row_of(const PlanRun& run) {
    OrderRow row;
    row.failed = !run.status.usable();
    row.duration = run.prepare_time;
    for (const auto& visit : run.visits) {
        row.strokes += static_cast<int>(visit->record.strokes.size());
        row.duration += visit->record.duration;
        row.drawn += visit->record.fluid_drawn;
    }
    row.air_by_circuit = run.air_end.of_circuit;
    return row;
}

double cost_of(const OrderRow& row, Cost cost) {
    return cost == Cost::time ? row.duration : cost == Cost::fluid ? row.drawn : row.strokes;
}

double cost_of(const VisitRecord& visit, Cost cost) {
    if (cost == Cost::strokes) return static_cast<double>(visit.strokes.size());
    return cost == Cost::time ? visit.duration : visit.fluid_drawn;
}

Standing standing_of(const OrderRow& row, Cost cost, const BeyondAll& beyond, const Target& target) {
    Standing standing{row.failed, !row.failed, cost_of(row, cost), 0.0};
    for (std::size_t i = 0; i < row.air_by_circuit.size(); ++i) {
        const double excess = std::max(0.0, row.air_by_circuit[i] - beyond.of_circuit[i]);
        standing.excess += excess;
        standing.target_met = standing.target_met && excess <= target.excess;
    }
    return standing;
}

Balance larger(const Balance& a, const Balance& b) {
    return {std::max(std::abs(a.liquid), std::abs(b.liquid)), std::max(std::abs(a.gas), std::abs(b.gas))};
}

void OrderRows::put(std::size_t number, const PlanRun& run) {
    rows[number] = row_of(run);
    const std::scoped_lock lock(guard_);
    least.add(run);
    balance = larger(balance, run.balance);
}

} // namespace clearstroke
