#pragma once
/// Everything that a sheet tells, as one JSON document: the work, the evidence, the replay.
#include "analysis/cli/commands.hpp"
#include "analysis/cli/orders_view.hpp"
#include "analysis/sheet/recording.hpp"

namespace clearstroke {

/// An order whose run was filmed.
struct FilmedOrder {
    std::size_t order{}; ///< position in OrdersReport::orders
    Film film;
};

struct GuideView {
    OrdersView orders;
    std::vector<FilmedOrder> films; ///< the best first
};

/// Orders worth showing beside the best: the usual rules and the worst; all where there are few. Positions in
/// OrdersReport::orders, at most `most`.
[[nodiscard]] std::vector<std::size_t> orders_to_film(const OrdersReport&, std::size_t most);

[[nodiscard]] GuideView view_guide(const GuideArgs&, const Scenario&, std::ostream& err);
[[nodiscard]] Json guide_json(const GuideView&, const GuideArgs&);

} // namespace clearstroke
