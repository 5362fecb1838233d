#include "analysis/joined_orders.hpp"

#include <algorithm>
#include <atomic>
#include <map>
#include <memory>

#include <tbb/enumerable_thread_specific.h>
#include <tbb/parallel_for.h>

namespace clearstroke {
namespace {

struct Beginning;

// A visit that carries a beginning on.
struct Way {
    std::size_t visit{};
    std::shared_ptr<const DoneVisit> record;
    const Beginning* to{};
};

// A set of screws done, and the state of the first way to have done it; all that are alike share it.
struct Beginning {
    DoneSet done{};
    std::shared_ptr<const State> state; // until it is carried on
    bool usable{true};
    std::vector<Way> ways;
};

class Joiner {
public:
    Joiner(const Case& c, const std::vector<Visit>& visits, const OrderRules& rules, double effort,
           const Settings& settings, const Progress& progress)
        : case_(c), visits_(visits), rules_(rules), effort_(effort), progress_(progress),
          sims_([&c, settings] { return Simulation(c.network, settings); }) {}

    JoinedOrders run() {
        if (rules_.count().orders > most_joined_orders) return {};
        ready_ = prepare(sims_.local(), case_);
        if (!ready_.status.usable()) return {};
        levels_.push_back({});
        levels_.back().push_back(
            std::make_unique<Beginning>(Beginning{0, std::make_shared<const State>(ready_.state), true, {}}));
        for (std::size_t depth = 0; depth < rules_.size(); ++depth)
            if (!carry_on(depth)) return std::move(all_);
        tell();
        return std::move(all_);
    }

private:
    using Level = std::vector<std::unique_ptr<Beginning>>;
    struct Made {
        std::shared_ptr<const DoneVisit> record;
        std::shared_ptr<const State> state;
    };
    struct Step {
        Beginning* from{};
        std::size_t visit{};
    };

    const Case& case_;
    const std::vector<Visit>& visits_;
    const OrderRules& rules_;
    double effort_;
    const Progress& progress_;
    tbb::enumerable_thread_specific<Simulation> sims_;
    Prepared ready_;
    std::vector<Level> levels_;
    JoinedOrders all_;
    bool might_have_joined_{}; // two ways to have done the same screws were made

    std::vector<Step> steps_from(const Level& level) const {
        std::vector<Step> steps;
        for (const auto& from : level)
            for (std::size_t i = 0; from->usable && i < rules_.size(); ++i)
                if (rules_.may_follow(from->done, i) && rules_.can_finish(from->done | DoneSet{1} << i))
                    steps.push_back({from.get(), i});
        return steps;
    }

    Made made(const Step& step) {
        State state = *step.from->state;
        auto record = make_visit(sims_.local(), state, visits_[step.visit], case_.procedure);
        return {std::move(record), std::make_shared<const State>(std::move(state))};
    }

    // False where the effort does not reach, or nothing is alike.
    bool carry_on(std::size_t depth) {
        const std::vector<Step> steps = steps_from(levels_.back());
        if (static_cast<double>(all_.work.visits + steps.size()) > effort_) return false;
        std::vector<Made> made_all(steps.size());
        std::atomic<std::size_t> done{0};
        tbb::parallel_for(std::size_t{0}, steps.size(), [&](std::size_t i) {
            made_all[i] = made(steps[i]);
            if (progress_) progress_(++done, steps.size());
        });
        for (const Step& step : steps) step.from->state.reset();
        const bool last = depth + 1 == rules_.size();
        Level next;
        std::map<DoneSet, std::vector<Beginning*>> of_set;
        for (std::size_t i = 0; i < steps.size(); ++i) {
            ++all_.work.visits;
            all_.work.strokes += made_all[i].record->record.strokes.size();
            const DoneSet set = steps[i].from->done | DoneSet{1} << steps[i].visit;
            Beginning* to = last ? nullptr : joined(of_set[set], made_all[i]);
            if (!to) {
                next.push_back(std::make_unique<Beginning>(
                    Beginning{set, made_all[i].state, made_all[i].record->record.status.usable(), {}}));
                to = next.back().get();
                of_set[set].push_back(to);
            }
            steps[i].from->ways.push_back({steps[i].visit, made_all[i].record, to});
        }
        levels_.push_back(std::move(next));
        return last || all_.joining.beginnings > 0 || !might_have_joined_;
    }

    // The first of these beginnings that the visit's state is alike to, or null.
    Beginning* joined(const std::vector<Beginning*>& of_set, const Made& visit) {
        if (!visit.record->record.status.usable()) return nullptr;
        might_have_joined_ = might_have_joined_ || !of_set.empty();
        for (Beginning* other : of_set) {
            if (!other->usable) continue;
            const StateDifference apart = difference(*other->state, *visit.state);
            if (!within(apart, alike)) continue;
            ++all_.joining.beginnings;
            all_.joining.apart = larger(all_.joining.apart, apart);
            return other;
        }
        return nullptr;
    }

    // A run of every order, along its way; one that could not be carried on ends there.
    void tell() {
        all_.orders = rules_.every();
        OrderRows rows(all_.orders.size());
        for (std::size_t number = 0; number < all_.orders.size(); ++number) {
            const Beginning* here = levels_.front().front().get();
            DoneVisits records;
            for (std::size_t i = 0; !here->ways.empty(); ++i) {
                const auto way = std::ranges::find(here->ways, all_.orders[number][i], &Way::visit);
                records.push_back(way->record);
                here = way->to;
            }
            rows.put(number, record_run(sims_.local(), *here->state, ready_, std::move(records)));
        }
        all_.rows = std::move(rows.rows);
        all_.least = rows.least;
        all_.balance = rows.balance;
        all_.complete = true;
    }
};

} // namespace

JoinedOrders join_orders(const Case& c, const std::vector<Visit>& visits, const OrderRules& rules,
                         double effort, const Settings& settings, const Progress& progress) {
    return Joiner(c, visits, rules, effort, settings, progress).run();
}

} // namespace clearstroke
