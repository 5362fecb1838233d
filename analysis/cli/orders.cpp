#include <ostream>
#include <sstream>

#include <fmt/format.h>
#include <fmt/ranges.h>

#include "analysis/cli/orders_view.hpp"
#include "analysis/cli/request.hpp"

namespace clearstroke {
namespace {

std::vector<std::string> split(const std::string& text, char at) {
    std::vector<std::string> parts;
    std::istringstream stream(text);
    for (std::string part; std::getline(stream, part, at);) {
        const auto first = part.find_first_not_of(" \t"), last = part.find_last_not_of(" \t");
        parts.push_back(first == std::string::npos ? "" : part.substr(first, last - first + 1));
    }
    return parts;
}

ScrewId screw_named(const Network& net, const std::string& name) {
    std::vector<std::string> known;
    for (std::size_t i = 0; i < net.screws.size(); ++i) {
        if (net.screws[i].name == name) return ScrewId{i};
        known.push_back(net.screws[i].name);
    }
    throw RequestError(
        fmt::format("--list: there is no screw \"{}\"; allowed: {}", name, fmt::join(known, ", ")));
}

std::vector<KnownOrder> listed_orders(const OrdersArgs& args, const Scenario& scenario, const Network& net) {
    std::vector<KnownOrder> listed;
    for (const std::string& order : split(args.list, ';')) {
        if (order.empty()) continue;
        KnownOrder& next =
            listed.emplace_back(KnownOrder{fmt::format("order {} of the list", listed.size() + 1), {}});
        for (const std::string& name : split(order, ',')) next.screws.push_back(screw_named(net, name));
    }
    if (!args.list.empty()) return listed;
    for (const ListedOrder& order : scenario.orders) listed.push_back({order.name, order.screws});
    return listed;
}

// What the best order is held against: the farthest-first rule, else the worst order.
const std::vector<ScrewId>& rival_of(const OrdersReport& report) {
    const RankedOrder* rule = find_known(report, "farthest first");
    const RankedOrder& rival = rule && rule->screws != report.best().screws ? *rule : report.orders.back();
    return rival.screws;
}

} // namespace

OrdersView view_orders(const OrdersArgs& args, const Scenario& scenario, std::ostream& err) {
    OrdersRequest request;
    const Case usual = usual_case(scenario);
    request.listed = listed_orders(args, scenario, usual.network);
    request.limits = {scenario.sequence.together, scenario.sequence.first, scenario.sequence.last,
                      scenario.sequence.before};
    request.only_listed =
        !args.list.empty() || (!request.listed.empty() && args.effort == 0.0 && !can_run_all(usual, request));
    if (args.effort > 0.0) request.effort = args.effort;
    request.most_whole = std::max<std::size_t>(request.most_whole, static_cast<std::size_t>(args.top));
    request.cost = cost_from(args.cost);
    request.threads = args.threads;
    request.low_high = !args.quick;
    request.sampling = sampling_of(args, args.progress, err);
    request.progress = progress_on(args.progress, err, "orders");
    request.beginnings = progress_on(args.progress, err, "beginnings of this length");
    OrdersView view{
        scenario, compare_orders(scenario.factory, request), {}, {}, {}, {}, anti_lock_of(scenario),
        args.seed};
    if (view.report.best().result.failed) throw ComputationError(view.report.best().result.stopped_because);
    view.finding = finding_of(view.report);
    if (args.plan) {
        PlanRequest plan;
        plan.most_visits = args.visits;
        plan.threads = args.threads;
        view.plan = find_best_plan(scenario.factory, view.report, plan);
    }
    view.prediction = predict(view.report);
    view.advice = advice_for(view.report.usual.network, view.report.best().result);
    if (!args.quick)
        view.measures =
            measure_next(scenario.factory, {view.report.best().screws,
                                            rival_of(view.report),
                                            request.cost,
                                            view.report.tie,
                                            7,
                                            0.1,
                                            args.threads,
                                            {},
                                            progress_on(args.progress, err, "values to measure")});
    return view;
}

int run_orders(const OrdersArgs& args, std::ostream& out, std::ostream& err) {
    return guarded(err, [&] {
        const Scenario scenario = load(args);
        const OrdersView view = view_orders(args, scenario, err);
        if (args.json) {
            emit(args, out, document(orders_json(view, args.top)));
            return exit_done;
        }
        Lines lines = orders_screen(view);
        if (args.all || args.top > 0) {
            lines.emplace_back();
            append(lines, orders_table(view, args.all ? 0 : args.top));
        }
        if (args.all) {
            lines.emplace_back();
            append(lines, all_cautions(view.report.usual, view.anti_lock, view.suggested()));
        }
        emit(args, out, join(lines));
        return exit_done;
    });
}

} // namespace clearstroke
