#include "analysis/order_tree.hpp"

#include <algorithm>
#include <atomic>
#include <numeric>

#include <tbb/parallel_for.h>
#include <tbb/task_arena.h>

namespace clearstroke {
namespace {

using Numbers = std::vector<std::size_t>;

constexpr std::size_t parallel_levels = 2;

// What all branches share.
struct Tree {
    const Case& c;
    const std::vector<Visit>& visits;
    const std::vector<OrderOfVisits>& orders;
    const Settings& settings;
    const Prepared& ready;
    bool pedal;
    const RunSink& sink;
    const Progress& progress;
    std::atomic<std::size_t> done{0}, visits_made{0}, strokes_made{0};

    void finish(Simulation& sim, const State& state, const Numbers& numbers, const DoneVisits& records) {
        if (numbers.empty()) return;
        const PlanRun run =
            pedal ? finish_run(sim, state, c, ready, records) : record_run(sim, state, ready, records);
        for (const std::size_t number : numbers) {
            sink(number, run);
            if (progress) progress(++done, orders.size());
        }
    }
};

// Orders of a node by their next visit, in order of first appearance; those that end here come back apart.
struct Branches {
    Numbers ended;
    std::vector<std::pair<std::size_t, Numbers>> next;
};

Branches branches_of(const Tree& tree, const Numbers& numbers, std::size_t depth) {
    Branches branches;
    for (const std::size_t number : numbers) {
        const OrderOfVisits& order = tree.orders[number];
        if (order.size() == depth) {
            branches.ended.push_back(number);
            continue;
        }
        auto found = std::ranges::find(branches.next, order[depth], &std::pair<std::size_t, Numbers>::first);
        if (found == branches.next.end()) found = branches.next.insert(found, {order[depth], {}});
        found->second.push_back(number);
    }
    return branches;
}

void explore(Tree& tree, Simulation& sim, const State& state, const Numbers& numbers,
             const DoneVisits& records);

void follow(Tree& tree, Simulation& sim, State state, std::size_t visit, const Numbers& numbers,
            DoneVisits records) {
    records.push_back(make_visit(sim, state, tree.visits[visit], tree.c.procedure));
    ++tree.visits_made;
    tree.strokes_made += records.back()->record.strokes.size();
    if (records.back()->record.status.usable())
        explore(tree, sim, state, numbers, records);
    else
        tree.finish(sim, state, numbers, records);
}

void explore(Tree& tree, Simulation& sim, const State& state, const Numbers& numbers,
             const DoneVisits& records) {
    const Branches branches = branches_of(tree, numbers, records.size());
    tree.finish(sim, state, branches.ended, records);
    if (records.size() >= parallel_levels) {
        for (const auto& [visit, beyond] : branches.next) follow(tree, sim, state, visit, beyond, records);
        return;
    }
    tbb::parallel_for(std::size_t{0}, branches.next.size(), [&](std::size_t i) {
        Simulation own(tree.c.network, tree.settings);
        follow(tree, own, state, branches.next[i].first, branches.next[i].second, records);
    });
}

} // namespace

TreeWork walk_order_tree(const Case& c, const std::vector<Visit>& visits,
                         const std::vector<OrderOfVisits>& orders, bool pedal, const RunSink& sink,
                         const Settings& settings, const Progress& progress) {
    Simulation sim(c.network, settings);
    const Prepared ready = prepare(sim, c);
    Tree tree{c, visits, orders, settings, ready, pedal, sink, progress};
    Numbers all(orders.size());
    std::iota(all.begin(), all.end(), std::size_t{0});
    if (ready.status.usable())
        explore(tree, sim, ready.state, all, {});
    else
        tree.finish(sim, ready.state, all, {});
    return {tree.visits_made, tree.strokes_made};
}

std::vector<PlanRun> run_order_tree(const Case& c, const std::vector<Visit>& visits,
                                    const std::vector<OrderOfVisits>& orders, const Settings& settings,
                                    const Progress& progress) {
    std::vector<PlanRun> runs(orders.size());
    walk_order_tree(
        c, visits, orders, true, [&](std::size_t number, const PlanRun& run) { runs[number] = run; },
        settings, progress);
    return runs;
}

void with_threads(int threads, const std::function<void()>& work) {
    tbb::task_arena arena(threads > 0 ? threads : tbb::task_arena::automatic);
    arena.execute(work);
}

} // namespace clearstroke
