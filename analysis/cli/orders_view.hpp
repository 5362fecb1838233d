#pragma once
/// The two faces of a comparison of orders: the screen for people and the JSON document.
#include <iosfwd>

#include "analysis/cli/json.hpp"
#include "analysis/cli/text.hpp"
#include "analysis/plan_search.hpp"
#include "analysis/reach.hpp"

namespace clearstroke {

struct OrdersArgs;

/// A comparison with everything that is told about it.
struct OrdersView {
    const Scenario& scenario;
    OrdersReport report;
    std::string finding;
    Prediction prediction;
    std::vector<Advice> advice; ///< about air that the best order leaves beyond reach
    std::vector<MeasureNext> measures;
    AntiLockUnit anti_lock{};
    std::uint64_t seed{}; ///< of the samples
    std::optional<BestPlan> plan{};

    [[nodiscard]] std::vector<Act> suggested() const;
    [[nodiscard]] std::vector<std::string> notes() const; ///< warnings of the file, then of the request
    [[nodiscard]] std::vector<std::string> names() const; ///< of the orders, best first
};

/// Compares as the arguments ask; `scenario` must outlive the view.
[[nodiscard]] OrdersView view_orders(const OrdersArgs&, const Scenario& scenario, std::ostream& err);

/// "; the other 0.03 mL is within its reach, with more strokes": what is left beside what cannot be moved.
[[nodiscard]] std::string rest_text(const PlanResult&);

/// Air that leaked in during the work; no line where none did.
[[nodiscard]] Lines leak_lines(const PlanResult&);

/// Lines that a technician can act on; beyond `most` of them fewer values to measure and fewer orders are shown.
[[nodiscard]] Lines orders_screen(const OrdersView&, std::size_t most = 40);

/// One row per order, the first `top` of them (0: all), and every caution in full.
[[nodiscard]] Lines orders_table(const OrdersView&, int top);
[[nodiscard]] Lines all_cautions(const Case&, AntiLockUnit, const std::vector<Act>& suggested);

[[nodiscard]] Json best_plan_json(const Network&, const BestPlan&, Cost);
[[nodiscard]] Lines best_plan_lines(const BestPlan&, Cost);

[[nodiscard]] Json orders_json(const OrdersView&, int top);

/// One line per value that is worth measuring.
[[nodiscard]] Lines measure_lines(const CaseFactory&, const std::vector<MeasureNext>&, std::size_t most);

} // namespace clearstroke
