#pragma once
/// Which lumps of a line stand for themselves and which liquid-full ones are condensed into one cell.
///
/// A lump that holds gas, or has a neighbour that does, stands alone; runs of the others on a rigid
/// line are one cell (static condensation: their compliances add, their resistances stay in series).
/// Inventories are summed and handed back, so nothing is lost. Hoses are never condensed.
#include <vector>

#include "sim/layout.hpp"
#include "sim/run.hpp"

namespace clearstroke {

/// Gas stands at (or is about to enter by) an end of the line.
struct EndGas {
    bool from{}, to{};
};

/// Brings the cells of one line to the division that its contents ask for; true when it changed.
bool regroup(std::vector<Cell>& cells, const LineLayout&, EndGas, const Settings&);

/// One cell per lump, filled with `train` stretches: gas where `gas` says, at pressure of its height.
[[nodiscard]] std::vector<Cell> fill_line(const LineLayout&, const std::vector<GasStretch>& gas, const Medium&,
                                          double pressure_at_zero_height, double weight_of_liquid);

}  // namespace clearstroke
