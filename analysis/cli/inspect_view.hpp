#pragma once
/// What a scenario was understood to be.
#include "analysis/cli/json.hpp"
#include "analysis/cli/orders_view.hpp"
#include "analysis/cli/text.hpp"
#include "analysis/known_orders.hpp"
#include "analysis/reach.hpp"

namespace clearstroke {

struct InspectView {
    const Scenario& scenario;
    Case usual;
    std::vector<BleedPoint> points;
    std::vector<ScrewReach> reach;
    std::vector<MeasureNext> measures;
};

[[nodiscard]] Lines inspect_lines(const InspectView&);
[[nodiscard]] Json inspect_json(const InspectView&);

} // namespace clearstroke
