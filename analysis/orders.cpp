#include "analysis/orders.hpp"

#include <algorithm>
#include <cmath>

#include <fmt/format.h>
#include <tbb/parallel_for.h>

namespace clearstroke {
namespace {

constexpr const char* own_order = "the file's own";

// The orders to run: sequences of screws, and as positions in a list of distinct visits.
struct Candidates {
    std::vector<std::vector<ScrewId>> screws;
    std::vector<Visit> visits;
    std::vector<OrderOfVisits> orders;
};

std::vector<ScrewId> own_sequence(const Procedure& procedure) {
    std::vector<ScrewId> screws;
    for (const Visit& visit : procedure.visits) screws.push_back(visit.screw);
    return screws;
}

std::vector<std::vector<ScrewId>> sequences(const Case& usual, const std::vector<ScrewId>& points,
                                            const std::vector<KnownOrder>& rules,
                                            const OrdersRequest& request) {
    std::vector<std::vector<ScrewId>> all;
    if (!request.only_listed) {
        if (number_of_orders(points.size()) > request.most_orders)
            throw RequestError(
                fmt::format("{} bleed points make more than {} orders; list those to compare with "
                            "--list \"A,B,...;B,A,...\" or under [orders] in the file",
                            points.size(), request.most_orders));
        all = every_order(usual);
    }
    const auto add = [&](const KnownOrder& order) {
        if (order.screws.empty()) throw RequestError(fmt::format("{} names no screw", order.name));
        if (std::ranges::find(all, order.screws) == all.end()) all.push_back(order.screws);
    };
    for (const KnownOrder& order : request.listed) add(order);
    for (const KnownOrder& order : rules) add(order);
    return all;
}

Candidates candidates_of(const Procedure& procedure, std::vector<std::vector<ScrewId>> screws) {
    Candidates all{std::move(screws), {}, {}};
    const std::vector<ScrewId> own = own_sequence(procedure);
    for (const std::vector<ScrewId>& sequence : all.screws) {
        OrderOfVisits& order = all.orders.emplace_back();
        const std::vector<Visit> visits = visits_in_order(procedure, sequence);
        for (std::size_t i = 0; i < visits.size(); ++i) {
            const std::size_t repeat = static_cast<std::size_t>(
                std::count(sequence.begin(), sequence.begin() + static_cast<std::ptrdiff_t>(i), sequence[i]));
            std::size_t k = 0, seen = 0; // the repeat-th visit to this screw
            for (; k < all.visits.size(); ++k)
                if (all.visits[k].screw == sequence[i] && seen++ == repeat) break;
            if (k == all.visits.size()) all.visits.push_back(visits[i]);
            order.push_back(k);
        }
    }
    return all;
}

Balance largest(const std::vector<PlanRun>& runs) {
    Balance b;
    for (const PlanRun& run : runs) {
        b.liquid = std::max(b.liquid, std::abs(run.balance.liquid));
        b.gas = std::max(b.gas, std::abs(run.balance.gas));
    }
    return b;
}

// Position of the first order that some usual rule names, else of the last order.
std::size_t rule_or_worst(const std::vector<Place>& places, const std::vector<RankedOrder>& orders) {
    for (const Place& place : places)
        if (place.index != places.front().index && !orders[place.index].known_as.empty()) return place.index;
    return places.back().index;
}

void rank_orders(OrdersReport& report, const Candidates& all, const std::vector<PlanRun>& runs,
                 const OrdersRequest& request) {
    std::vector<Standing> standings;
    for (const RankedOrder& order : report.orders)
        standings.push_back(standing_of(order.result, request.cost));
    std::vector<Place> places = rank(standings, {});
    const auto resolve = [&](std::size_t i) {
        return runs[i].status.usable()
                   ? measure_resolution(report.usual, visits_in_order(report.usual.procedure, all.screws[i]),
                                        runs[i], report.beyond, request.settings)
                   : Resolution{};
    };
    report.resolution = larger(resolve(places.front().index), resolve(rule_or_worst(places, report.orders)));
    report.tie = tie_width(report.resolution, request.cost);
    places = rank(standings, report.tie);
    std::vector<RankedOrder> sorted;
    for (const Place& place : places) {
        sorted.push_back(std::move(report.orders[place.index]));
        sorted.back().group = place.group;
    }
    report.orders = std::move(sorted);
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
    const Candidates all =
        candidates_of(report.usual.procedure, sequences(report.usual, report.points, rules, request));
    const std::vector<PlanRun> runs =
        run_order_tree(report.usual, all.visits, all.orders, request.settings, request.progress);
    report.beyond = beyond_all(report.usual.network, runs);
    report.balance = largest(runs);
    for (std::size_t i = 0; i < runs.size(); ++i) {
        std::vector<std::string> names = names_of(all.screws[i], rules);
        std::ranges::copy(names_of(all.screws[i], request.listed), std::back_inserter(names));
        report.orders.push_back({all.screws[i], names, 0, judge(report.usual, runs[i], report.beyond)});
    }
    rank_orders(report, all, runs, request);
    if (request.low_high && !report.best().result.failed) run_low_high(report, factory, request);
    if (request.sampling.samples > 0 && !report.best().result.failed)
        report.evidence = sample_orders(report, factory, request);
    return report;
}

} // namespace

std::size_t number_of_orders(std::size_t points) {
    std::size_t count = 1;
    for (std::size_t n = 2; n <= std::min<std::size_t>(points, 12); ++n) count *= n;
    return count;
}

std::vector<ScrewId> visited_screws(const Procedure& procedure) {
    std::vector<ScrewId> screws;
    for (const ScrewId screw : own_sequence(procedure))
        if (std::ranges::find(screws, screw) == screws.end()) screws.push_back(screw);
    return screws;
}

std::vector<Visit> visits_in_order(const Procedure& procedure, const std::vector<ScrewId>& screws) {
    std::vector<char> used(procedure.visits.size(), 0);
    std::vector<Visit> visits;
    for (const ScrewId screw : screws) {
        std::size_t i = 0;
        while (i < used.size() && (used[i] || procedure.visits[i].screw != screw)) ++i;
        if (i < used.size()) {
            used[i] = 1;
            visits.push_back(procedure.visits[i]);
        } else {
            visits.push_back({screw, {}, {}});
        }
    }
    return visits;
}

JudgedOrders judge_orders(const Case& c, const std::vector<std::vector<ScrewId>>& screws,
                          const Settings& settings) {
    const Candidates all = candidates_of(c.procedure, screws);
    JudgedOrders judged{run_order_tree(c, all.visits, all.orders, settings), {}};
    const BeyondAll beyond = beyond_all(c.network, judged.runs);
    for (const PlanRun& run : judged.runs) judged.results.push_back(judge(c, run, beyond));
    return judged;
}

std::vector<KnownOrder> usual_orders(const Case& c) {
    const std::vector<ScrewId> points = visited_screws(c.procedure);
    std::vector<BleedPoint> used;
    for (const BleedPoint& p : bleed_points(c.network))
        if (std::ranges::find(points, p.screw) != points.end()) used.push_back(p);
    std::vector<KnownOrder> rules = known_orders(used);
    rules.push_back({own_order, own_sequence(c.procedure)});
    return rules;
}

std::vector<std::vector<ScrewId>> every_order(const Case& c) {
    std::vector<ScrewId> sorted = visited_screws(c.procedure);
    std::ranges::sort(sorted);
    std::vector<std::vector<ScrewId>> all;
    for (const OrderOfVisits& order : all_orders(sorted.size())) {
        std::vector<ScrewId>& screws = all.emplace_back();
        for (const std::size_t i : order) screws.push_back(sorted[i]);
    }
    return all;
}

std::size_t usual_rule(const OrdersReport& report) {
    for (const char* name : {"farthest first", own_order})
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
