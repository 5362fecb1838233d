#include "sim/grouping.hpp"

#include <algorithm>

#include "models/closure.hpp"

namespace clearstroke {
namespace {

std::size_t index(int i) { return static_cast<std::size_t>(i); }

/// Ends of the wanted cells, as lump numbers.
std::vector<int> wanted_ends(const std::vector<Cell>& cells, const LineLayout& line, EndGas ends, const Settings& settings) {
    const std::size_t n = line.lumps.size();
    std::vector<char> gas(n + 2, 0);  // padded by both ends
    gas.front() = ends.from;
    gas.back() = ends.to;
    for (const Cell& c : cells)
        for (int b = c.begin; b < c.end; ++b) gas[index(b) + 1] = c.gas > 0.0;
    std::vector<int> out;
    for (std::size_t b = 0; b < n; ++b) {
        const auto alone = [&](std::size_t i) { return line.elastic || !settings.contract || gas[i] || gas[i + 1] || gas[i + 2]; };
        if (b + 1 == n || static_cast<int>(b) + 1 == line.valve_lump || alone(b) || alone(b + 1)) out.push_back(static_cast<int>(b) + 1);
    }
    return out;
}

double volume_of(const LineLayout& line, int begin, int end) {
    double sum = 0.0;
    for (int b = begin; b < end; ++b) sum += line.lumps[index(b)].volume;
    return sum;
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
    const double part = volume_of(line, rest.begin, at), whole = volume_of(line, rest.begin, rest.end);
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

}  // namespace

bool regroup(std::vector<Cell>& cells, const LineLayout& line, EndGas ends, const Settings& settings) {
    const std::vector<int> wanted = wanted_ends(cells, line, ends, settings);
    if (wanted.size() == cells.size() &&
        std::equal(cells.begin(), cells.end(), wanted.begin(), [](const Cell& c, int end) { return c.end == end; }))
        return false;
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
            cell = first ? p : join(cell, p, volume_of(line, cell.begin, cell.end), volume_of(line, p.begin, p.end));
            first = false;
        }
        out.push_back(std::move(cell));
        begin = end;
    }
    cells = std::move(out);
    return true;
}

std::vector<Cell> fill_line(const LineLayout& line, const std::vector<GasStretch>& gas, const Medium& m, double pressure_at_zero,
                            double weight) {
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
            if (share > 0.0) c.train.push(Side::to, {liquid_to_fill(0.0, lump.volume, lump.walls, 0.0, m, p) * share, 0.0});
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

}  // namespace clearstroke
