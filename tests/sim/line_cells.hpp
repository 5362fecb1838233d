#pragma once
/// A line of lumps of equal volume and one cell over it, for the tests of what stands and moves in lines.
#include <vector>

#include "sim/layout.hpp"
#include "sim/state.hpp"

namespace clearstroke {

inline constexpr double lump_volume = 1e-6, lump_length = 0.1; // [m^3], [m]

/// A line through these heights [m], one lump between two of them.
inline LineLayout line_through(const std::vector<double>& heights) {
    LineLayout line;
    for (std::size_t i = 0; i + 1 < heights.size(); ++i)
        line.lumps.push_back(
            {lump_volume, lump_volume * static_cast<double>(i), lump_length, heights[i], heights[i + 1], {}});
    line.volume = lump_volume * static_cast<double>(line.lumps.size());
    line.area = lump_volume / lump_length;
    return line;
}

/// One cell over the whole line at one atmosphere, so that free air is volume. Parcels in millionths.
inline Cell cell_of(const LineLayout& line, const std::vector<Parcel>& parcels) {
    Cell c;
    c.end = static_cast<int>(line.lumps.size());
    c.pressure = standard_atmosphere;
    for (const Parcel& p : parcels) c.train.push(Side::to, {p.liquid * 1e-6, p.gas * 1e-6});
    c.liquid = c.train.total().liquid;
    c.gas = c.train.total().gas;
    return c;
}

} // namespace clearstroke
