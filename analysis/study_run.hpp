#pragma once
/// Computes the missing rows of a store, on the cores of one machine or of several.
///
/// Rows are handed out one by one, so slow ones hold nobody up, and each depends on its number alone: the
/// store has the same bytes whatever computed them and in whatever order.
#include <functional>

#include "analysis/order_tree.hpp"
#include "analysis/ranks.hpp"
#include "analysis/store.hpp"

namespace clearstroke {

/// Row of a number; may throw, then the row failed with that reason.
using RunRow = std::function<Row(std::uint64_t number)>;

/// Row of a number, whatever happens.
[[nodiscard]] Row run_row(const StoreLayout&, const RunRow&, std::uint64_t number);

/// Computes and writes the missing rows; with other ranks, as the first of them. Begins no row once `stop`
/// says so.
void run_missing(Store&, const StoreLayout&, const RunRow&, int threads, const Progress&,
                 Ranks* ranks = nullptr, const std::function<bool()>& stop = {});

/// Computes rows for the first rank until it has no more.
void serve_rows(const StoreLayout&, const RunRow&, int threads, Ranks&);

} // namespace clearstroke
