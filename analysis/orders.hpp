#pragma once
/// Compares bleed orders of one scenario: runs them, ranks them, places the usual rules, and says how firm
/// the answer is (numerical resolution, low and high runs).
#include <optional>
#include <stdexcept>
#include <string>
#include <vector>

#include "analysis/evidence.hpp"
#include "analysis/known_orders.hpp"
#include "analysis/low_high.hpp"
#include "analysis/order_tree.hpp"
#include "analysis/ranking.hpp"
#include "analysis/resolution.hpp"

namespace clearstroke {

/// A request that cannot be carried out; what() says what is allowed.
struct RequestError : std::runtime_error {
    using std::runtime_error::runtime_error;
};

struct OrdersRequest {
    std::vector<KnownOrder> listed; ///< orders with a name of the user's own
    bool only_listed{};             ///< only these and the usual rules; else all orders
    Cost cost{Cost::strokes};
    int threads{};                 ///< 0: all cores
    std::size_t most_orders{5040}; ///< refuses to try more than these without a list
    bool low_high{true};           ///< also low and high runs of the best order and the usual rules
    SampleRequest sampling;        ///< evidence by so many samples; 0: none
    Settings settings;
    Progress progress;
};

struct RankedOrder {
    std::vector<ScrewId> screws;
    std::vector<std::string> known_as;
    int group{};
    PlanResult result;
};

/// Strokes of one order in the usual run and in the low and high runs.
struct OrderSpread {
    std::size_t order{};             ///< position in OrdersReport::orders
    std::vector<PlanResult> results; ///< per set of OrdersReport::sets
};

struct OrdersReport {
    Case usual;
    Cost cost{};
    std::vector<ScrewId> points;     ///< bleed points, in the file's own order
    std::vector<RankedOrder> orders; ///< best first
    BeyondAll beyond;
    Resolution resolution;
    TieWidth tie;
    Balance balance;                  ///< the largest of all runs
    std::vector<ValueSet> sets;       ///< low and high runs
    std::vector<OrderSpread> spreads; ///< best first: best order, usual rules, the file's own
    std::optional<Evidence> evidence; ///< alternatives are `orders`

    [[nodiscard]] const RankedOrder& best() const { return orders.front(); }
};

/// Number of orders of so many bleed points; saturates.
[[nodiscard]] std::size_t number_of_orders(std::size_t points);

/// Throws RequestError when there are too many orders, or a listed one is empty.
[[nodiscard]] OrdersReport compare_orders(const CaseFactory&, const OrdersRequest&);

/// Screws that the case's own visits go to, each once.
[[nodiscard]] std::vector<ScrewId> visited_screws(const Procedure&);

/// Visits of an order: what the file says about a screw (fixed strokes, acts before) stays with the screw.
[[nodiscard]] std::vector<Visit> visits_in_order(const Procedure&, const std::vector<ScrewId>&);

/// Runs of the case's visits in each of these sequences of screws, judged together.
struct JudgedOrders {
    std::vector<PlanRun> runs;
    std::vector<PlanResult> results;
};
[[nodiscard]] JudgedOrders judge_orders(const Case&, const std::vector<std::vector<ScrewId>>&,
                                        const Settings& = {});

/// Orders of the visited screws that have a name, and "the file's own".
[[nodiscard]] std::vector<KnownOrder> usual_orders(const Case&);

/// Every order of the visited screws.
[[nodiscard]] std::vector<std::vector<ScrewId>> every_order(const Case&);

/// What a chosen order is held against: the farthest-first rule, else the file's own order, else the last.
[[nodiscard]] std::size_t usual_rule(const OrdersReport&);

/// "farthest first (RR, LR, RF, LF)" or the screws alone.
[[nodiscard]] std::string name_of(const OrdersReport&, const RankedOrder&);

/// First order known by that name, or null.
[[nodiscard]] const RankedOrder* find_known(const OrdersReport&, const std::string& name);

} // namespace clearstroke
