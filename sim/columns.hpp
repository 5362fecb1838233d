#pragma once
/// Where in a cell of line its compliance stands, and what liquid lies between there and its two ends.
///
/// The pressure of a cell is that of its gas: the middle of the gas by amount; without gas the middle of
/// the cell, and in between where the gas gives less than twenty times what liquid and walls give, so that
/// the last gas goes without a jolt. With h the height along the line and s the liquid share of what stands at a place,
///     rise of a side = rho g integral of s dh from the middle to that end                         (N-5)
///     resistance of a side = resistance per volume times the liquid between                       (N-6)
/// both with what stood there when the step began; within a step a column that grows or shrinks by dL
/// changes its rise by the slope of the line where the gas begins.
/// Sign: a rise is positive when the end lies above the middle [Pa]. Valid: level interfaces, as in
/// contents.hpp. Source: ours (hydrostatics).
#include <algorithm>
#include <array>

#include "sim/layout.hpp"
#include "sim/state.hpp"

namespace clearstroke {

/// Of one side of a cell.
struct Column {
    double liquid{};          ///< between the middle and the end [m^3]
    double rise{};            ///< [Pa]
    double rise_per_liquid{}; ///< [Pa/m^3]; 0 without gas
};

struct Columns {
    std::array<Column, 2> side; ///< towards `from`, towards `to`
    std::array<double, 2>
        plug{};      ///< volumes of line between the `from` end and both ends of the gas in the middle
    double middle{}; ///< volume of line between the cell's `from` end and the middle [m^3]
    double by_gas{}; ///< how far the middle is that of the gas: 0 none, 1 wholly
};

/// (N-6) of liquid alone [Pa s/m^3]: `per_liquid` [Pa s/m^6] times what of `column` [m^3] there is.
[[nodiscard]] inline double liquid_resistance(double per_liquid, double column) {
    return per_liquid * std::max(column, 0.0);
}

/// `weight` is rho g of the liquid [Pa/m], `bulk_modulus` its K [Pa].
[[nodiscard]] Columns columns_of(const Cell&, const LineLayout&, double weight, double bulk_modulus);

/// Volume of the lumps of a cell [m^3].
[[nodiscard]] double volume_between(const LineLayout&, int begin, int end);

/// Lump at `along` [m^3] of line volume behind the `from` end of lump `begin`; the last one before `end` beyond.
[[nodiscard]] const Lump& lump_along(const LineLayout&, int begin, int end, double along);

/// Height [m] of the line at `along` [m^3] of it behind the `from` end of lump `begin`; within those before `end`.
[[nodiscard]] double height_along(const LineLayout&, int begin, int end, double along);

/// Sine of a lump's slope, positive when it rises towards `to`, -1 to 1.
[[nodiscard]] double slope_of(const Lump&);

} // namespace clearstroke
