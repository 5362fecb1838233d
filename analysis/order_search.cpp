#include "analysis/order_search.hpp"

#include <algorithm>
#include <atomic>
#include <cmath>
#include <limits>
#include <map>
#include <memory>
#include <tuple>

#include <tbb/enumerable_thread_specific.h>
#include <tbb/parallel_for.h>

namespace clearstroke {
namespace {

using Simulations = tbb::enumerable_thread_specific<Simulation>;

// A sequence of visits that was made.
struct Beginning {
    std::shared_ptr<const State> state;
    DoneSet done{};
    OrderOfVisits order;
    DoneVisits records;
    double spent{}, air{};
};

struct Step {
    const Beginning* from{};
    std::size_t visit{};
};

class Search {
public:
    Search(const Case& c, const std::vector<Visit>& visits, const OrderRules& rules,
           const SearchRequest& request, const Settings& settings, const Progress& progress)
        : case_(c), visits_(visits), rules_(rules), request_(request), progress_(progress),
          sims_([&c, settings] { return Simulation(c.network, settings); }) {
        for (const Visit& v : visits) least_.push_back(least_cost(v, c.procedure, request.cost));
        found_.width = beam_width(rules.count(), request.effort);
    }

    SearchedOrders run() {
        ready_ = prepare(sims_.local(), case_);
        std::vector<Beginning> level(1);
        level[0].state = std::make_shared<const State>(ready_.state);
        level[0].spent = request_.cost == Cost::time ? ready_.time : 0.0;
        for (std::size_t depth = 0; depth < rules_.size() && ready_.status.usable(); ++depth)
            level = keep(take(steps_from(level)));
        finish(level);
        return std::move(found_);
    }

private:
    const Case& case_;
    const std::vector<Visit>& visits_;
    const OrderRules& rules_;
    const SearchRequest& request_;
    const Progress& progress_;
    Simulations sims_;
    Prepared ready_;
    std::vector<double> least_;
    SearchedOrders found_;
    double dropped_ = std::numeric_limits<double>::infinity(); // least of what was cut or dropped

    [[nodiscard]] double with_rest(const Beginning& b, const std::vector<double>& per_visit) const {
        double sum = b.spent;
        for (std::size_t i = 0; i < rules_.size(); ++i)
            if (!(b.done >> i & 1u)) sum += per_visit[i];
        return sum;
    }

    std::vector<Step> steps_from(const std::vector<Beginning>& level) {
        std::vector<Step> steps;
        for (const Beginning& from : level) {
            const double bound = with_rest(from, least_);
            for (std::size_t i = 0; i < rules_.size(); ++i) {
                if (!rules_.may_follow(from.done, i) || !rules_.can_finish(from.done | DoneSet{1} << i))
                    continue;
                if (request_.known && bound > *request_.known)
                    dropped_ = std::min(dropped_, bound);
                else
                    steps.push_back({&from, i});
            }
        }
        return steps;
    }

    Beginning made(const Step& step) {
        Simulation& sim = sims_.local();
        State state = *step.from->state;
        Beginning next = *step.from;
        next.order.push_back(step.visit);
        next.done |= DoneSet{1} << step.visit;
        next.records.push_back(make_visit(sim, state, visits_[step.visit], case_.procedure));
        const DoneVisit& visit = *next.records.back();
        next.spent += cost_of(visit.record, request_.cost);
        next.air = visit.air.total;
        next.state = std::make_shared<const State>(std::move(state));
        return next;
    }

    std::vector<Beginning> take(const std::vector<Step>& steps) {
        std::vector<Beginning> made_all(steps.size());
        std::atomic<std::size_t> done{0};
        tbb::parallel_for(std::size_t{0}, steps.size(), [&](std::size_t i) {
            made_all[i] = made(steps[i]);
            if (progress_) progress_(++done, steps.size());
        });
        for (const Beginning& b : made_all) {
            ++found_.work.visits;
            found_.work.strokes += b.records.back()->record.strokes.size();
        }
        std::erase_if(made_all, [](const Beginning& b) { return !b.records.back()->record.status.usable(); });
        return made_all;
    }

    std::vector<Beginning> keep(std::vector<Beginning> all) {
        std::vector<std::tuple<double, double, std::size_t>> sorted;
        std::map<DoneSet, std::size_t> taken;
        for (std::size_t i = 0; i < all.size(); ++i) {
            sorted.emplace_back(with_rest(all[i], request_.typical), all[i].air, i);
            taken[all[i].done] = 0;
        }
        std::ranges::sort(sorted);
        const std::size_t share = (found_.width + taken.size()) / std::max<std::size_t>(taken.size(), 1);
        std::vector<char> chosen(all.size(), 0);
        std::vector<Beginning> kept;
        for (const bool within_share : {true, false})
            for (const auto& [estimate, air, i] : sorted) {
                if (chosen[i] || kept.size() >= found_.width) continue;
                if (within_share && taken[all[i].done]++ >= share) continue;
                chosen[i] = 1;
                kept.push_back(all[i]);
            }
        for (std::size_t i = 0; i < all.size(); ++i)
            if (!chosen[i]) dropped_ = std::min(dropped_, with_rest(all[i], least_));
        return kept;
    }

    void finish(std::vector<Beginning>& level) {
        std::ranges::sort(level, {}, &Beginning::order);
        OrderRows rows(level.size());
        for (std::size_t i = 0; i < level.size() && ready_.status.usable(); ++i) {
            rows.put(i, record_run(sims_.local(), *level[i].state, ready_, level[i].records));
            found_.orders.push_back(level[i].order);
        }
        found_.rows = std::move(rows.rows);
        found_.rows.resize(found_.orders.size());
        found_.least = rows.least;
        found_.balance = rows.balance;
        if (request_.cost != Cost::fluid && std::isfinite(dropped_)) found_.bound = dropped_;
    }
};

// Times that an act takes whatever happens [s].
double least_time(const std::vector<Act>& acts, const Operator& person) {
    double sum = 0.0;
    for (const Act& act : acts) {
        if (std::holds_alternative<OpenScrew>(act) || std::holds_alternative<CloseScrew>(act) ||
            std::holds_alternative<OpenAll>(act) || std::holds_alternative<CloseAll>(act))
            sum += person.act_time;
        if (const auto* press = std::get_if<Press>(&act)) sum += press->hold.value_or(person.hold);
        if (const auto* release = std::get_if<Release>(&act)) sum += release->dwell.value_or(person.dwell);
        if (const auto* wait = std::get_if<Wait>(&act)) sum += wait->seconds;
    }
    return sum;
}

} // namespace

double least_cost(const Visit& visit, const Procedure& procedure, Cost cost) {
    if (cost == Cost::fluid) return 0.0;
    const StopRule& stop = procedure.stop;
    const int strokes = visit.strokes.value_or(std::min(std::max(stop.clear_strokes, 1), stop.most_strokes));
    if (cost == Cost::strokes) return strokes;
    const Method& method = visit.method ? *visit.method : procedure.method;
    const Operator& person = procedure.person;
    constexpr double rounding = 1.0 - 1e-9; // of clock readings
    return rounding *
           (person.move_time + least_time(visit.before, person) + least_time(method.arrive, person) +
            least_time(method.leave, person) + strokes * least_time(method.stroke, person));
}

std::size_t beam_width(const OrderRules::Count& count, double effort) {
    const auto visits_at = [&](double width) {
        double sum = 0.0, before = 1.0;
        for (const double prefixes : count.prefixes) {
            sum += std::min(width, before) * prefixes / before;
            before = prefixes;
        }
        return sum;
    };
    std::size_t width = 1;
    while (width < widest_beam && visits_at(static_cast<double>(width + 1)) <= effort) ++width;
    return width;
}

SearchedOrders search_orders(const Case& c, const std::vector<Visit>& visits, const OrderRules& rules,
                             const SearchRequest& request, const Settings& settings,
                             const Progress& progress) {
    return Search(c, visits, rules, request, settings, progress).run();
}

} // namespace clearstroke
