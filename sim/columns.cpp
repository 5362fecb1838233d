#include "sim/columns.hpp"

#include <algorithm>

#include "models/constants.hpp"

namespace clearstroke {
namespace {

std::size_t index(int i) { return static_cast<std::size_t>(i); }

/// Height of the line at `along` [m^3] behind lump `begin`.
double height_at(const LineLayout& line, const Cell& c, double along) {
    double before = 0.0;
    for (int b = c.begin; b < c.end; ++b) {
        const Lump& lump = line.lumps[index(b)];
        if (along <= before + lump.volume || b + 1 == c.end)
            return std::lerp(lump.from_height, lump.to_height, std::clamp((along - before) / lump.volume, 0.0, 1.0));
        before += lump.volume;
    }
    return line.lumps[index(c.begin)].from_height;
}

Columns columns_of_liquid(const Cell& c, const LineLayout& line, double weight, double content) {
    Columns out;
    out.middle = 0.5 * content;
    const double height = height_at(line, c, out.middle);
    out.side[0] = {0.5 * c.liquid, weight * (line.lumps[index(c.begin)].from_height - height), 0.0};
    out.side[1] = {0.5 * c.liquid, weight * (line.lumps[index(c.end - 1)].to_height - height), 0.0};
    return out;
}

}  // namespace

double volume_between(const LineLayout& line, int begin, int end) {
    double sum = 0.0;
    for (int b = begin; b < end; ++b) sum += line.lumps[index(b)].volume;
    return sum;
}

const Lump& lump_along(const LineLayout& line, int begin, int end, double along) {
    double before = 0.0;
    for (int b = begin; b + 1 < end; ++b) {
        before += line.lumps[index(b)].volume;
        if (along < before) return line.lumps[index(b)];
    }
    return line.lumps[index(end - 1)];
}

double slope_of(const Lump& lump) { return std::clamp((lump.to_height - lump.from_height) / lump.length, -1.0, 1.0); }

Columns columns_of(const Cell& c, const LineLayout& line, double weight) {
    const double content = volume_between(line, c.begin, c.end);
    if (c.gas <= 0.0) return columns_of_liquid(c, line, weight, content);
    const double per_free_air = standard_atmosphere / c.pressure;
    const double scale = content / (c.liquid + c.gas * per_free_air), half = 0.5 * c.gas;
    Columns out;
    double at = 0.0, gas = 0.0, height = line.lumps[index(c.begin)].from_height;
    std::array<double, 2> interface{0.0, content};
    const auto pass = [&](const Parcel& p, std::size_t side) {
        at += (p.liquid + p.gas * per_free_air) * scale;
        const double next = height_at(line, c, at), share = p.liquid > 0.0 ? p.liquid / (p.liquid + p.gas * per_free_air) : 0.0;
        out.side[side].liquid += p.liquid;
        out.side[side].rise += (side == 0 ? -1.0 : 1.0) * weight * share * (next - height);
        height = next;
    };
    for (const Parcel& p : c.train.parcels()) {
        if (gas >= half) {
            pass(p, 1);
        } else if (gas + p.gas < half) {
            pass(p, 0);
        } else {  // the middle stands in this parcel
            const double before = (half - gas) / p.gas;
            interface[0] = at;
            pass({p.liquid * before, p.gas * before}, 0);
            out.middle = at;
            pass({p.liquid * (1.0 - before), p.gas * (1.0 - before)}, 1);
            interface[1] = at;
        }
        gas += p.gas;
    }
    for (const std::size_t side : {std::size_t{0}, std::size_t{1}}) {
        const Lump& lump = lump_along(line, c.begin, c.end, interface[side]);
        out.side[side].rise_per_liquid = (side == 0 ? -1.0 : 1.0) * weight * (lump.to_height - lump.from_height) / lump.volume;
    }
    return out;
}

}  // namespace clearstroke
