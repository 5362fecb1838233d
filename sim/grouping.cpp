#include "sim/grouping.hpp"

#include <algorithm>
#include <boost/container/small_vector.hpp>
#include <cmath>
#include <optional>
#include <utility>

#include "models/closure.hpp"
#include "models/gas.hpp"
#include "sim/columns.hpp"

namespace clearstroke {
namespace {

std::size_t index(int i) { return static_cast<std::size_t>(i); }

constexpr double border_margin = 0.1; // of a lump: liquid that a new border needs on both sides

/// Contents of a line as stretches of one kind, by line volume behind `from` [m^3].
struct Stretch {
    ParcelKind kind{};
    double begin{}, end{};
};

// Of a line, usually few enough to need no memory of their own.
using Stretches = boost::container::small_vector<Stretch, 8>;
using Ends = boost::container::small_vector<char, 32>;

Stretches stretches_of(const std::vector<Cell>& cells, const LineLayout& line) {
    Stretches out;
    double begin = 0.0;
    for (const Cell& c : cells) {
        const double content = volume_between(line, c.begin, c.end),
                     per_free_air = standard_atmosphere / c.pressure;
        const double scale = content / (c.liquid + c.gas * per_free_air);
        double at = begin;
        for (const Parcel& p : c.train.parcels()) {
            const double end = at + (p.liquid + p.gas * per_free_air) * scale;
            if (!out.empty() && out.back().kind == kind_of(p))
                out.back().end = end;
            else
                out.push_back({kind_of(p), at, end});
            at = end;
        }
        begin += content;
    }
    return out;
}

/// Line volume behind `from` at the end of each lump [m^3].
using Borders = boost::container::small_vector<double, 32>;

Borders borders_of(const LineLayout& line) {
    Borders out;
    double at = 0.0;
    for (const Lump& lump : line.lumps) out.push_back(at += lump.volume);
    return out;
}

/// Numbers of the first border inside a stretch and the first one behind it. Stretches may overlap by rounding.
std::pair<std::size_t, std::size_t> borders_in(const Stretch& s, const Borders& borders) {
    const auto first = std::ranges::upper_bound(borders, s.begin);
    const auto last = std::find_if(first, borders.end(), [&](double at) { return at >= s.end; });
    return {static_cast<std::size_t>(first - borders.begin()),
            static_cast<std::size_t>(last - borders.begin())};
}

/// Of the borders [first, last) inside a stretch, but for the line's end, the one that a cell ends at already, else the one
/// nearest to its middle.
std::optional<std::size_t> border_in(const Stretch& s, const Borders& borders, std::size_t first,
                                     std::size_t last, const Ends& present, double margin) {
    const double middle = 0.5 * (s.begin + s.end);
    std::optional<std::size_t> best;
    for (std::size_t b = first; b < std::min(last, borders.size() - 1); ++b) {
        const double at = borders[b];
        if (present[b]) return b;
        if (at < s.begin + margin || at > s.end - margin) continue;
        if (best && std::abs(at - middle) >= std::abs(borders[*best] - middle)) continue;
        best = b;
    }
    return best;
}

/// Of each lump, whether a cell ends with it.
Ends present_ends(const std::vector<Cell>& cells, const LineLayout& line) {
    Ends present(line.lumps.size(), 0);
    for (const Cell& c : cells) present[index(c.end) - 1] = 1;
    return present;
}

/// Likewise, whether one is wanted to.
Ends wanted_ends(const std::vector<Cell>& cells, const Ends& present, const LineLayout& line,
                 const Settings& settings) {
    const std::size_t n = line.lumps.size();
    Ends wanted(n, !settings.contract);
    wanted.back() = 1;
    if (line.valve_lump > 0) wanted[index(line.valve_lump) - 1] = 1;
    const Stretches stretches = stretches_of(cells, line);
    const Borders borders = borders_of(line);
    const double margin = border_margin * line.volume / static_cast<double>(n);
    for (std::size_t i = 0; i < stretches.size(); ++i) {
        const Stretch& s = stretches[i];
        const auto [first, last] = borders_in(s, borders);
        if (s.kind == ParcelKind::bubbly) {
            for (std::size_t b = first; b < last; ++b)
                if (present[b] || (borders[b] > s.begin + margin && borders[b] < s.end - margin))
                    wanted[b] = 1;
        } else if (s.kind == ParcelKind::liquid && i > 0 && i + 1 < stretches.size()) {
            if (const auto b = border_in(s, borders, first, last, present, margin)) wanted[*b] = 1;
        }
    }
    return wanted;
}

/// Numbers of the lumps behind those ends.
std::vector<int> lumps_behind(const Ends& ends) {
    std::vector<int> out;
    for (std::size_t b = 0; b < ends.size(); ++b)
        if (ends[b]) out.push_back(static_cast<int>(b) + 1);
    return out;
}

/// Plugs of gas in a line that liquid parts, across cells; none where something bubbly stands in it.
std::optional<int> count_plugs(const std::vector<Cell>& cells) {
    int plugs = 0;
    ParcelKind before = ParcelKind::liquid;
    for (const Cell& c : cells) {
        if (c.gas == 0.0 && !c.train.empty()) {
            before = ParcelKind::liquid;
            continue;
        }
        for (const Parcel& p : c.train.parcels()) {
            const ParcelKind kind = kind_of(p);
            if (kind == ParcelKind::bubbly) return std::nullopt;
            plugs += kind == ParcelKind::gas && before != ParcelKind::gas;
            before = kind;
        }
    }
    return plugs;
}

/// Whether a cell holds a single plug, and liquid where it meets another one.
bool holds_one_plug(const Cell& c, bool first, bool last) {
    const auto& parcels = c.train.parcels();
    const auto is_gas = [](const Parcel& p) { return kind_of(p) == ParcelKind::gas; };
    return std::ranges::count_if(parcels, is_gas) == 1 && (first || !is_gas(parcels.front())) &&
           (last || !is_gas(parcels.back()));
}

/// Whether a line needs no other division, without looking at where its parcels stand.
bool well_divided(const std::vector<Cell>& cells, const LineLayout& line, const Settings& settings) {
    if (!settings.contract) return cells.size() == line.lumps.size();
    const std::optional<int> plugs = count_plugs(cells);
    if (!plugs) return false;
    if (*plugs < 2)
        return line.valve_lump > 0 ? cells.size() == 2 && cells.front().end == line.valve_lump
                                   : cells.size() == 1;
    if (line.valve_lump > 0 || cells.size() < 2) return false;
    for (std::size_t i = 0; i < cells.size(); ++i)
        if (!holds_one_plug(cells[i], i == 0, i + 1 == cells.size())) return false;
    return true;
}

Cell join(const Cell& a, const Cell& b, double volume_a, double volume_b) {
    Cell out = a;
    out.end = b.end;
    out.liquid += b.liquid;
    out.gas += b.gas;
    out.pressure = (a.pressure * volume_a + b.pressure * volume_b) / (volume_a + volume_b);
    out.play_memory = (a.play_memory * volume_a + b.play_memory * volume_b) / (volume_a + volume_b);
    out.train.append(b.train);
    return out;
}

/// Cuts the first lumps up to `at` off a cell; both parts keep its pressure.
Cell cut(Cell& rest, const LineLayout& line, int at) {
    const double part = volume_between(line, rest.begin, at),
                 whole = volume_between(line, rest.begin, rest.end);
    Cell front = rest;
    front.end = at;
    rest.begin = at;
    const double per_free_air = standard_atmosphere / rest.pressure;
    const double held = rest.liquid + rest.gas * per_free_air;
    front.train = rest.train.split_front(held * part / whole, per_free_air);
    const Parcel taken = front.train.total();
    front.liquid = taken.liquid;
    front.gas = taken.gas;
    rest.liquid -= taken.liquid;
    rest.gas -= taken.gas;
    return front;
}

} // namespace

bool regroup(std::vector<Cell>& cells, const LineLayout& line, const Settings& settings) {
    if (well_divided(cells, line, settings)) return false;
    const Ends present = present_ends(cells, line), ends = wanted_ends(cells, present, line, settings);
    if (ends == present) return false;
    const std::vector<int> wanted = lumps_behind(ends);
    std::vector<Cell> pieces;
    std::size_t w = 0;
    for (Cell c : cells) {
        while (w < wanted.size() && wanted[w] < c.end) pieces.push_back(cut(c, line, wanted[w++]));
        if (w < wanted.size() && wanted[w] == c.end) ++w;
        pieces.push_back(std::move(c));
    }
    std::vector<Cell> out;
    int begin = 0;
    for (const int end : wanted) {
        Cell cell;
        bool first = true;
        for (const Cell& p : pieces) {
            if (p.begin < begin || p.end > end) continue;
            cell = first ? p
                         : join(cell, p, volume_between(line, cell.begin, cell.end),
                                volume_between(line, p.begin, p.end));
            first = false;
        }
        out.push_back(std::move(cell));
        begin = end;
    }
    cells = std::move(out);
    return true;
}

std::vector<Cell> fill_line(const LineLayout& line, const std::vector<GasStretch>& gas, const Medium& m,
                            double pressure_at_zero, double weight, double dispersed) {
    std::vector<Cell> out;
    double begin = 0.0;
    for (std::size_t b = 0; b < line.lumps.size(); ++b) {
        const Lump& lump = line.lumps[b];
        const double end = begin + lump.volume / line.volume;
        const double p = pressure_at_zero - weight * 0.5 * (lump.from_height + lump.to_height);
        Cell c;
        c.begin = static_cast<int>(b);
        c.end = c.begin + 1;
        c.pressure = p;
        const auto add_liquid = [&](double share) {
            if (share > 0.0)
                c.train.push(Side::to, {liquid_to_fill(0.0, lump.volume, lump.walls, 0.0, m, p) * share *
                                            (1.0 - dispersed),
                                        free_air_of(lump.volume * share * dispersed, p)});
        };
        double at = begin;
        for (const GasStretch& g : gas) {
            const double from = std::clamp(g.begin, at, end), to = std::clamp(g.end, from, end);
            add_liquid((from - at) / (end - begin));
            if (to > from) c.train.push(Side::to, {0.0, (to - from) * line.volume * p / standard_atmosphere});
            at = std::max(at, to);
        }
        add_liquid((end - at) / (end - begin));
        const Parcel total = c.train.total();
        c.liquid = total.liquid;
        c.gas = total.gas;
        out.push_back(std::move(c));
        begin = end;
    }
    return out;
}

} // namespace clearstroke
