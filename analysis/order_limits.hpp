#pragma once
/// What the orders of a comparison must keep, and how many orders and shared prefixes that leaves.
///
/// All wishes depend only on which screws are done, so with P(M) the ordered ways to have done the set M and
/// C(M) the ways to finish from it, both counted over sets (Held and Karp's device, here from memory),
///     orders = P(all),   visits of the tree = sum over M != {} with C(M) > 0 of P(M).
/// Source: ours.
#include <cstdint>
#include <utility>
#include <vector>

#include "sim/ids.hpp"

namespace clearstroke {

/// Wishes about an order, by screw.
struct OrderLimits {
    std::vector<std::vector<ScrewId>> together;      ///< each group in one go, in any order inside it
    std::vector<ScrewId> first, last;                ///< before all others; after all others
    std::vector<std::pair<ScrewId, ScrewId>> before; ///< the first of a pair before the second

    [[nodiscard]] bool any() const {
        return !together.empty() || !first.empty() || !last.empty() || !before.empty();
    }
};

/// Screws that are done, as bits by position in a list of screws.
using DoneSet = std::uint32_t;
inline constexpr std::size_t most_points = 20; ///< bleed points whose orders can be counted

/// Limits over a list of distinct screws; what they say of other screws is left out.
class OrderRules {
public:
    OrderRules(const OrderLimits&, const std::vector<ScrewId>& screws);

    /// May the screw at this position be visited next?
    [[nodiscard]] bool may_follow(DoneSet done, std::size_t next) const;

    /// Does a sequence keep the limits? Return visits are free; screws left out are taken as done last.
    [[nodiscard]] bool kept_by(const std::vector<std::size_t>& positions) const;

    /// Complete orders, and visits of their tree of shared prefixes by depth; doubles, for they may be huge.
    struct Count {
        double orders{}, visits{};
        std::vector<double> prefixes; ///< of length 1, 2, ...
    };
    [[nodiscard]] Count count() const;

    /// Can an order that has done this set be finished?
    [[nodiscard]] bool can_finish(DoneSet done) const { return finishes_[done] > 0.0; }

    /// Every complete order as positions, in lexicographic order.
    [[nodiscard]] std::vector<std::vector<std::size_t>> every() const;

    [[nodiscard]] std::size_t size() const { return count_; }
    [[nodiscard]] DoneSet all() const { return static_cast<DoneSet>((std::uint64_t{1} << count_) - 1); }

private:
    std::size_t count_;
    std::vector<DoneSet> groups_;
    std::vector<DoneSet> needs_;   ///< per position: what must be done before
    std::vector<double> finishes_; ///< C(M)
};

} // namespace clearstroke
