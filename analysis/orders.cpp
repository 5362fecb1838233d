#include "analysis/orders.hpp"

#include <algorithm>
#include <cmath>
#include <numeric>

#include <fmt/format.h>
#include <tbb/parallel_for.h>

#include "analysis/order_search.hpp"

namespace clearstroke {
namespace {

using Screws = std::vector<ScrewId>;
using How = OrdersSearch::How;

// Orders that were run: rows, and the whole runs while they are few.
struct Ran {
    std::vector<Screws> screws;
    std::vector<OrderRow> rows;
    std::vector<PlanRun> runs; // of each, or none
    LeastAir least;
    Balance balance;
};

// Listed orders, then the usual rules; each sequence once.
std::vector<Screws> named_sequences(const std::vector<KnownOrder>& rules, const OrdersRequest& request,
                                    std::vector<std::string>& left_out) {
    std::vector<Screws> all;
    const auto add = [&](const KnownOrder& order) {
        if (order.screws.empty()) throw RequestError(fmt::format("{} names no screw", order.name));
        if (request.limits.any() && !keeps(request.limits, order.screws))
            left_out.push_back(order.name);
        else if (std::ranges::find(all, order.screws) == all.end())
            all.push_back(order.screws);
    };
    for (const KnownOrder& order : request.listed) add(order);
    for (const KnownOrder& order : rules) add(order);
    return all;
}

TreeWork run_all(Ran& ran, const Case& c, std::vector<Screws> screws, const OrdersRequest& request) {
    const Candidates all = candidates_of(c.procedure, std::move(screws));
    const bool whole = all.orders.size() <= request.most_whole;
    OrderRows rows(all.orders.size());
    ran.runs.resize(whole ? all.orders.size() : 0);
    const auto sink = [&](std::size_t number, const PlanRun& run) {
        rows.put(number, run);
        if (whole) ran.runs[number] = run;
    };
    const TreeWork work =
        walk_order_tree(c, all.visits, all.orders, whole, sink, request.settings, request.progress);
    ran.screws = all.screws;
    ran.rows = std::move(rows.rows);
    ran.least = rows.least;
    ran.balance = rows.balance;
    return work;
}

// What each visit cost in these runs, mean; the least where none went there.
std::vector<double> typical_costs(const Case& c, const std::vector<Visit>& visits,
                                  const std::vector<PlanRun>& runs, Cost cost) {
    std::vector<double> typical;
    for (const Visit& visit : visits) {
        double sum = 0.0, count = 0.0;
        for (const PlanRun& run : runs)
            for (const auto& made : run.visits) {
                if (made->record.screw != visit.screw) continue;
                sum += cost_of(made->record, cost);
                count += 1.0;
            }
        typical.push_back(count > 0.0 ? sum / count : least_cost(visit, c.procedure, cost));
    }
    return typical;
}

// Least cost of the orders run that meet the target.
std::optional<double> known_cost(const Case& c, const Ran& ran, Cost cost) {
    const BeyondAll beyond = ran.least.beyond(c.network);
    std::optional<double> known;
    for (const OrderRow& row : ran.rows) {
        const Standing s = standing_of(row, cost, beyond, c.procedure.target);
        if (s.target_met && (!known || s.cost < *known)) known = s.cost;
    }
    return known;
}

void add(TreeWork& sum, const TreeWork& more) {
    sum.visits += more.visits;
    sum.strokes += more.strokes;
}

// The named orders stand in `ran`; adds others that were run, as rows.
template <class Found> void add(Ran& ran, const Found& found, const Screws& points) {
    const std::vector<Screws> named = ran.screws;
    ran.runs.clear();
    for (std::size_t i = 0; i < found.orders.size(); ++i) {
        Screws screws;
        for (const std::size_t position : found.orders[i]) screws.push_back(points[position]);
        if (std::ranges::find(named, screws) != named.end()) continue;
        ran.screws.push_back(std::move(screws));
        ran.rows.push_back(found.rows[i]);
    }
    ran.least.add(found.least);
    ran.balance = larger(ran.balance, found.balance);
}

// All orders where enough of what they leave is alike; says whether it was.
bool join(Ran& ran, OrdersSearch& report, const Case& c, const Screws& points, const OrderRules& rules,
          const OrdersRequest& request) {
    const JoinedOrders found = join_orders(c, visits_in_order(c.procedure, points), rules, request.effort,
                                           request.settings, request.beginnings);
    add(report.work, found.work);
    if (!found.complete) return false;
    add(ran, found, points);
    report.joining = found.joining;
    report.how = How::all;
    return true;
}

void search(Ran& ran, OrdersSearch& report, const Case& c, const Screws& points, const OrderRules& rules,
            const OrdersRequest& request) {
    const std::vector<Visit> visits = visits_in_order(c.procedure, points);
    const SearchRequest ask{request.effort, request.cost, known_cost(c, ran, request.cost),
                            typical_costs(c, visits, ran.runs, request.cost)};
    const SearchedOrders found = search_orders(c, visits, rules, ask, request.settings, request.beginnings);
    add(report.work, found.work);
    add(ran, found, points);
    report.width = found.width;
    report.bound = found.bound;
    const auto each_once = [&](const Screws& screws) { return std::ranges::is_permutation(screws, points); };
    if (static_cast<double>(std::ranges::count_if(ran.screws, each_once)) == rules.count().orders)
        report.how = How::all; // so few that none was left
}

double strokes_of(const std::vector<OrderRow>& rows) {
    return std::accumulate(rows.begin(), rows.end(), 0.0,
                           [](double sum, const OrderRow& row) { return sum + row.strokes; });
}

Ran run_orders_of(OrdersReport& report, const std::vector<KnownOrder>& rules, const OrdersRequest& request) {
    const Case& c = report.usual;
    OrdersSearch& search_report = report.search;
    std::vector<Screws> sequences = named_sequences(rules, request, search_report.left_out);
    Screws points = report.points;
    std::ranges::sort(points);
    const bool countable = points.size() <= most_points;
    if (!request.only_listed && !countable)
        throw RequestError(
            fmt::format("{} bleed points: orders of more than {} are not searched; list those to "
                        "compare with --list \"A,B,...;B,A,...\" or under [orders] in the file",
                        points.size(), most_points));
    const OrderRules order_rules(request.limits, countable ? points : Screws{});
    const OrderRules::Count count = order_rules.count();
    if (count.orders == 0.0 || (request.only_listed && sequences.empty()))
        throw RequestError(fmt::format("no order {}keeps what [sequence] asks for",
                                       request.only_listed ? "of the list " : ""));
    search_report.how = request.only_listed              ? How::listed
                        : count.visits <= request.effort ? How::all
                                                         : How::searched;
    if (countable) search_report.possible = count.orders;
    if (search_report.how == How::all) {
        std::vector<Screws> all = every_order(c, request.limits);
        std::ranges::copy_if(sequences, std::back_inserter(all),
                             [&](const Screws& s) { return std::ranges::find(all, s) == all.end(); });
        sequences = std::move(all);
    }
    Ran ran;
    search_report.work = run_all(ran, c, std::move(sequences), request);
    if (search_report.how == How::searched && !join(ran, search_report, c, points, order_rules, request))
        search(ran, search_report, c, points, order_rules, request);
    search_report.run = ran.rows.size();
    search_report.strokes_apart = strokes_of(ran.rows);
    if (search_report.how == How::searched)
        search_report.strokes_apart *= count.orders / static_cast<double>(ran.rows.size());
    return ran;
}

// Position of the first order that some name knows, else of the last order.
std::size_t rule_or_worst(const std::vector<Place>& places, const std::vector<RankedOrder>& orders) {
    for (const Place& place : places)
        if (place.index != places.front().index && !orders[place.index].known_as.empty()) return place.index;
    return places.back().index;
}

std::vector<Standing> standings_of(const OrdersReport& report, const Ran& ran) {
    std::vector<Standing> standings;
    for (const OrderRow& row : ran.rows)
        standings.push_back(standing_of(row, report.cost, report.beyond, report.usual.procedure.target));
    return standings;
}

void measure_ties(OrdersReport& report, const std::vector<Place>& places,
                  const std::vector<RankedOrder>& orders, const Ran& ran, const OrdersRequest& request) {
    const auto resolve = [&](std::size_t i) {
        if (ran.rows[i].failed) return Resolution{};
        const std::vector<Visit> visits = visits_in_order(report.usual.procedure, ran.screws[i]);
        const PlanRun run = ran.runs.empty() ? run_plan(report.usual, visits, request.settings) : ran.runs[i];
        return measure_resolution(report.usual, visits, run, report.beyond, request.settings);
    };
    report.resolution = larger(resolve(places.front().index), resolve(rule_or_worst(places, orders)));
    report.tie = tie_width(report.resolution, request.cost);
}

// The runs of chosen orders, whole.
std::vector<PlanRun> whole_runs(const Case& c, const Ran& ran, const std::vector<std::size_t>& chosen,
                                const OrdersRequest& request) {
    std::vector<PlanRun> runs;
    std::vector<Screws> screws;
    for (const std::size_t i : chosen) {
        if (!ran.runs.empty()) runs.push_back(ran.runs[i]);
        screws.push_back(ran.screws[i]);
    }
    if (!ran.runs.empty()) return runs;
    const Candidates all = candidates_of(c.procedure, screws);
    return run_order_tree(c, all.visits, all.orders, request.settings);
}

// Ranks all; keeps the first, the named and the last whole, the others as rows.
void rank_orders(OrdersReport& report, const Ran& ran, const std::vector<KnownOrder>& rules,
                 const OrdersRequest& request) {
    std::vector<RankedOrder> named;
    for (const Screws& screws : ran.screws) {
        RankedOrder& order = named.emplace_back(RankedOrder{screws, names_of(screws, rules), 0, {}, 0});
        std::ranges::copy(names_of(screws, request.listed), std::back_inserter(order.known_as));
    }
    const std::vector<Standing> standings = standings_of(report, ran);
    measure_ties(report, rank(standings, {}), named, ran, request);
    const std::vector<Place> places = rank(standings, report.tie);
    std::vector<std::size_t> chosen;
    for (std::size_t p = 0; p < places.size(); ++p) {
        const std::size_t i = places[p].index;
        if (p < request.most_whole || p + 1 == places.size() || !named[i].known_as.empty()) {
            chosen.push_back(i);
            named[i].group = places[p].group;
            named[i].place = p + 1;
        } else {
            report.others.push_back({standings[i], places[p].group});
        }
    }
    const std::vector<PlanRun> runs = whole_runs(report.usual, ran, chosen, request);
    for (std::size_t k = 0; k < chosen.size(); ++k) {
        report.orders.push_back(std::move(named[chosen[k]]));
        report.orders.back().result = judge(report.usual, runs[k], report.beyond);
    }
}

void run_low_high(OrdersReport& report, const CaseFactory& factory, const OrdersRequest& request) {
    std::vector<std::vector<ScrewId>> chosen;
    for (std::size_t i = 0; i < report.orders.size(); ++i) {
        if (i > 0 && report.orders[i].known_as.empty()) continue;
        report.spreads.push_back({i, {}});
        chosen.push_back(report.orders[i].screws);
    }
    report.sets = low_and_high(factory);
    std::vector<std::vector<PlanResult>> results(report.sets.size());
    tbb::parallel_for(std::size_t{0}, report.sets.size(), [&](std::size_t s) {
        results[s] = judge_orders(factory.make(report.sets[s].values), chosen, request.settings).results;
    });
    for (std::size_t k = 0; k < report.spreads.size(); ++k)
        for (const auto& of_set : results) report.spreads[k].results.push_back(of_set[k]);
}

Evidence sample_orders(const OrdersReport& report, const CaseFactory& factory, const OrdersRequest& request) {
    std::vector<std::vector<ScrewId>> screws;
    for (const RankedOrder& order : report.orders) screws.push_back(order.screws);
    const auto run = [&](const std::vector<std::vector<double>>& values) {
        std::vector<Outcome> outcomes;
        const JudgedOrders judged = judge_orders(factory.make(values.front()), screws, request.settings);
        for (const PlanResult& r : judged.results) outcomes.push_back(outcome_of(r));
        return outcomes;
    };
    SampleRequest sampling = request.sampling;
    sampling.threads = request.threads;
    return evidence_of(run_samples({&factory}, run, sampling), report.cost, report.tie, usual_rule(report));
}

OrdersReport compare(const CaseFactory& factory, const OrdersRequest& request) {
    OrdersReport report;
    report.usual = factory.make(usual_values(factory));
    report.cost = request.cost;
    report.points = visited_screws(report.usual.procedure);
    if (report.points.empty())
        throw RequestError("no bleed screw is visited, so there is no order to compare");
    const std::vector<KnownOrder> rules = usual_orders(report.usual);
    const Ran ran = run_orders_of(report, rules, request);
    report.beyond = ran.least.beyond(report.usual.network);
    report.balance = ran.balance;
    rank_orders(report, ran, rules, request);
    if (request.low_high && !report.best().result.failed) run_low_high(report, factory, request);
    if (request.sampling.samples > 0 && !report.best().result.failed)
        report.evidence = sample_orders(report, factory, request);
    return report;
}

} // namespace

bool can_run_all(const Case& c, const OrdersRequest& request) {
    const Screws points = visited_screws(c.procedure);
    return points.size() <= most_points &&
           OrderRules(request.limits, points).count().visits <= request.effort;
}

JudgedOrders judge_orders(const Case& c, const std::vector<std::vector<ScrewId>>& screws,
                          const Settings& settings) {
    const Candidates all = candidates_of(c.procedure, screws);
    JudgedOrders judged{run_order_tree(c, all.visits, all.orders, settings), {}};
    const BeyondAll beyond = beyond_all(c.network, judged.runs);
    for (const PlanRun& run : judged.runs) judged.results.push_back(judge(c, run, beyond));
    return judged;
}

std::size_t usual_rule(const OrdersReport& report) {
    for (const char* name : {"farthest first", files_own_order})
        if (const RankedOrder* order = find_known(report, name))
            return static_cast<std::size_t>(order - report.orders.data());
    return report.orders.size() - 1;
}

std::string name_of(const OrdersReport& report, const RankedOrder& order) {
    const std::string screws = order_text(report.usual.network, order.screws);
    return order.known_as.empty() ? screws : fmt::format("{} ({})", order.known_as.front(), screws);
}

const RankedOrder* find_known(const OrdersReport& report, const std::string& name) {
    for (const RankedOrder& order : report.orders)
        if (std::ranges::find(order.known_as, name) != order.known_as.end()) return &order;
    return nullptr;
}

OrdersReport compare_orders(const CaseFactory& factory, const OrdersRequest& request) {
    OrdersReport report;
    with_threads(request.threads, [&] { report = compare(factory, request); });
    return report;
}

} // namespace clearstroke
