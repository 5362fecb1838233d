#pragma once
/// Compares bleed orders of one scenario: runs them, ranks them, places the usual rules, and says how firm
/// the answer is (numerical resolution, low and high runs).
#include <optional>
#include <stdexcept>
#include <string>
#include <vector>

#include "analysis/candidates.hpp"
#include "analysis/evidence.hpp"
#include "analysis/joined_orders.hpp"
#include "analysis/low_high.hpp"
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
    OrderLimits limits;             ///< of every order that is run
    Cost cost{Cost::strokes};
    int threads{}; ///< 0: all cores
    double effort{
        14000}; ///< visits that may be simulated: all orders where they fit (seven screws), else a search
    std::size_t most_whole{
        200}; ///< orders kept as whole runs, beside the named ones and the last; the others as rows
    bool low_high{true};    ///< also low and high runs of the best order and the usual rules
    SampleRequest sampling; ///< evidence by so many samples; 0: none
    Settings settings;
    Progress progress; ///< counts orders
    Progress
        beginnings; ///< where orders are joined or searched: counts those of one length, for each length anew
};

struct RankedOrder {
    std::vector<ScrewId> screws;
    std::vector<std::string> known_as;
    int group{};
    PlanResult result;
    std::size_t place{}; ///< among all orders run, from 1
};

/// Which orders were run, and what that took.
struct OrdersSearch {
    enum class How { all, listed, searched } how{};
    double possible{};              ///< orders that keep the limits
    std::size_t run{};              ///< orders run to their end
    TreeWork work;                  ///< simulated for them, what they share once
    double strokes_apart{};         ///< that all possible (listed: all run) orders take, each from its start
    std::optional<Joining> joining; ///< of all orders: ways that left the circuit alike were run on as one
    std::size_t width{};            ///< beginnings kept at each level of the search
    std::optional<double> bound;    ///< no order that was not run costs less; none: nothing is known
    std::vector<std::string> left_out; ///< named orders that do not keep the limits
};

/// An order that is not kept as a whole run.
struct OtherOrder {
    Standing standing;
    int group{};
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
    std::vector<RankedOrder> orders; ///< best first: the first of the ranking, the named ones, the last
    std::vector<OtherOrder> others;  ///< best first: those between them
    OrdersSearch search;
    BeyondAll beyond;
    Resolution resolution;
    TieWidth tie;
    Balance balance;                  ///< the largest of all runs
    std::vector<ValueSet> sets;       ///< low and high runs
    std::vector<OrderSpread> spreads; ///< best first: best order, usual rules, the file's own
    std::optional<Evidence> evidence; ///< alternatives are `orders`

    [[nodiscard]] const RankedOrder& best() const { return orders.front(); }
};

/// Do the visits of all orders that keep the limits fit in the effort?
[[nodiscard]] bool can_run_all(const Case&, const OrdersRequest&);

/// Throws RequestError when no order keeps the limits, or a listed one is empty.
[[nodiscard]] OrdersReport compare_orders(const CaseFactory&, const OrdersRequest&);

/// Runs of the case's visits in each of these sequences of screws, judged together.
struct JudgedOrders {
    std::vector<PlanRun> runs;
    std::vector<PlanResult> results;
};
[[nodiscard]] JudgedOrders judge_orders(const Case&, const std::vector<std::vector<ScrewId>>&,
                                        const Settings& = {});

/// What a chosen order is held against: the farthest-first rule, else the file's own order, else the last.
[[nodiscard]] std::size_t usual_rule(const OrdersReport&);

/// "farthest first (RR, LR, RF, LF)" or the screws alone.
[[nodiscard]] std::string name_of(const OrdersReport&, const RankedOrder&);

/// First order known by that name, or null.
[[nodiscard]] const RankedOrder* find_known(const OrdersReport&, const std::string& name);

} // namespace clearstroke
