#pragma once
/// Into which cells a line is divided: one for each stretch of gas in it.
///
/// A cell is one compliance between two liquid columns (columns.hpp). Stretches of gas that liquid parts
/// are in cells of their own, divided at a border of lumps inside that liquid; where it holds no border,
/// and for bubbles in one lump, they share a cell. Bubbly liquid is divided at every border in it. A line
/// without gas is one cell. A border stays where it is while liquid stands on both of its sides.
/// Inventories are summed and handed back, so nothing is lost.
#include <vector>

#include "sim/layout.hpp"
#include "sim/run.hpp"

namespace clearstroke {

/// Brings the cells of one line to the division that its contents ask for; true when it changed.
bool regroup(std::vector<Cell>& cells, const LineLayout&, const Settings&);

/// One cell per lump, filled with `train` stretches: gas where `gas` says, else liquid of which the share `dispersed` is
/// small bubbles, at pressure of its height.
[[nodiscard]] std::vector<Cell> fill_line(const LineLayout&, const std::vector<GasStretch>& gas,
                                          const Medium&, double pressure_at_zero_height,
                                          double weight_of_liquid, double dispersed = 0.0);

} // namespace clearstroke
