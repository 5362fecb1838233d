#include "analysis/order_limits.hpp"

#include <algorithm>
#include <bit>

namespace clearstroke {
namespace {

DoneSet bit(std::size_t position) { return DoneSet{1} << position; }

} // namespace

OrderRules::OrderRules(const OrderLimits& limits, const std::vector<ScrewId>& screws)
    : count_(screws.size()), needs_(count_, 0) {
    const auto set_of = [&](const std::vector<ScrewId>& some) {
        DoneSet set = 0;
        for (std::size_t i = 0; i < count_; ++i)
            if (std::ranges::find(some, screws[i]) != some.end()) set |= bit(i);
        return set;
    };
    for (const auto& group : limits.together) groups_.push_back(set_of(group));
    const DoneSet first = set_of(limits.first), last = set_of(limits.last);
    for (std::size_t i = 0; i < count_; ++i) {
        if (!(first & bit(i))) needs_[i] |= first;
        if (last & bit(i)) needs_[i] |= all() & ~last;
        for (const auto& [earlier, later] : limits.before)
            if (later == screws[i]) needs_[i] |= set_of({earlier});
    }
    finishes_.assign(std::size_t{all()} + 1, 0.0);
    finishes_[all()] = 1.0;
    for (DoneSet done = all(); done-- > 0;)
        for (std::size_t i = 0; i < count_; ++i)
            if (may_follow(done, i)) finishes_[done] += finishes_[done | bit(i)];
}

bool OrderRules::may_follow(DoneSet done, std::size_t next) const {
    if ((done & bit(next)) || (needs_[next] & ~done)) return false;
    return std::ranges::all_of(groups_, [&](DoneSet group) {
        const bool begun = (group & done) != 0 && (group & ~done) != 0;
        return !begun || (group & bit(next)) != 0;
    });
}

bool OrderRules::kept_by(const std::vector<std::size_t>& positions) const {
    DoneSet done = 0;
    for (const std::size_t next : positions) {
        if (done & bit(next)) continue;
        if (!may_follow(done, next)) return false;
        done |= bit(next);
    }
    return true;
}

OrderRules::Count OrderRules::count() const {
    Count count;
    count.orders = finishes_[0];
    count.prefixes.assign(count_, 0.0);
    std::vector<double> ways(finishes_.size(), 0.0);
    ways[0] = 1.0;
    for (DoneSet done = 0; done <= all(); ++done) {
        if (!can_finish(done) || ways[done] == 0.0) continue;
        if (done) count.prefixes[static_cast<std::size_t>(std::popcount(done)) - 1] += ways[done];
        for (std::size_t i = 0; i < count_; ++i)
            if (may_follow(done, i)) ways[done | bit(i)] += ways[done];
    }
    for (const double p : count.prefixes) count.visits += p;
    return count;
}

std::vector<std::vector<std::size_t>> OrderRules::every() const {
    std::vector<std::vector<std::size_t>> orders;
    std::vector<std::size_t> order;
    const auto extend = [&](const auto& self, DoneSet done) -> void {
        if (done == all()) {
            orders.push_back(order);
            return;
        }
        for (std::size_t i = 0; i < count_; ++i) {
            if (!may_follow(done, i) || !can_finish(done | bit(i))) continue;
            order.push_back(i);
            self(self, done | bit(i));
            order.pop_back();
        }
    };
    if (can_finish(0)) extend(extend, 0);
    return orders;
}

} // namespace clearstroke
