#include "sim/columns.hpp"

#include <algorithm>

#include "models/constants.hpp"

namespace clearstroke {
namespace {

std::size_t index(int i) { return static_cast<std::size_t>(i); }

/// Height [m] of the line at `at` [m^3] of it behind its `from` end; within this lump.
double height_in(const Lump& lump, double at) {
    return std::lerp(lump.from_height, lump.to_height,
                     std::clamp((at - lump.before) / lump.volume, 0.0, 1.0));
}

/// height_along of places that follow one another towards `to`.
class HeightsAlong {
public:
    HeightsAlong(const LineLayout& line, int begin, int end)
        : lump_(line.lumps.data() + begin), last_(line.lumps.data() + end - 1), before_(lump_->before) {}

    double at(double along) {
        const double at = before_ + along;
        while (lump_ != last_ && lump_[1].before <= at) ++lump_;
        return height_in(*lump_, at);
    }

private:
    const Lump *lump_, *last_;
    double before_;
};

/// Share of a parcel of this volume from `begin` on that stands before `middle`.
double share_before(double middle, double begin, double volume) {
    if (volume <= 0.0 || middle <= begin) return 0.0;
    return middle - begin >= volume ? 1.0 : (middle - begin) / volume;
}

/// Volumes of line before the middle of a cell's gas, and before both ends of the parcel it lies in, at `scale` of its
/// parcels.
struct MiddleOfGas {
    double at{};
    std::array<double, 2> plug{};
};
MiddleOfGas middle_of_gas(const Cell& c, double per_free_air, double scale) {
    double at = 0.0, gas = 0.0;
    const double half = 0.5 * c.gas;
    for (const Parcel& p : c.train.parcels()) {
        const double volume = (p.liquid + p.gas * per_free_air) * scale;
        if (gas + p.gas >= half && p.gas > 0.0)
            return {at + volume * (half - gas) / p.gas, {at, at + volume}};
        at += volume;
        gas += p.gas;
    }
    return {at, {at, at}};
}

/// Share of the middle that is the gas's: its compliance against that of liquid and walls.
double share_of_gas(const Cell& c, const LineLayout& line, double per_free_air, double bulk_modulus) {
    constexpr double much_softer = 20.0;
    double rest = c.liquid / bulk_modulus;
    for (int b = c.begin; b < c.end; ++b) {
        const ElasticLaw& walls = line.lumps[index(b)].walls;
        rest += walls.compliance + walls.settling_volume / walls.settling_pressure;
    }
    return rest > 0.0 ? std::min(c.gas * per_free_air / c.pressure / (much_softer * rest), 1.0) : 1.0;
}

} // namespace

double volume_between(const LineLayout& line, int begin, int end) {
    double sum = 0.0;
    for (int b = begin; b < end; ++b) sum += line.lumps[index(b)].volume;
    return sum;
}

double height_along(const LineLayout& line, int begin, int end, double along) {
    const double at = line.lumps[index(begin)].before + along;
    const auto behind = std::ranges::upper_bound(line.lumps.begin() + begin + 1, line.lumps.begin() + end, at,
                                                 {}, &Lump::before);
    return height_in(*(behind - 1), at);
}

const Lump& lump_along(const LineLayout& line, int begin, int end, double along) {
    double before = 0.0;
    for (int b = begin; b + 1 < end; ++b) {
        before += line.lumps[index(b)].volume;
        if (along < before) return line.lumps[index(b)];
    }
    return line.lumps[index(end - 1)];
}

double slope_of(const Lump& lump) {
    return std::clamp((lump.to_height - lump.from_height) / lump.length, -1.0, 1.0);
}

Columns columns_of(const Cell& c, const LineLayout& line, double weight, double bulk_modulus) {
    const double content = volume_between(line, c.begin, c.end),
                 per_free_air = standard_atmosphere / c.pressure;
    const double scale = content / (c.liquid + c.gas * per_free_air);
    Columns out;
    if (c.gas > 0.0) out.by_gas = share_of_gas(c, line, per_free_air, bulk_modulus);
    const MiddleOfGas gas = c.gas > 0.0 ? middle_of_gas(c, per_free_air, scale) : MiddleOfGas{};
    out.plug = gas.plug;
    out.middle = std::lerp(0.5 * content, gas.at, out.by_gas);
    double at = 0.0, height = line.lumps[index(c.begin)].from_height;
    std::array<double, 2> interface { 0.0, content };
    HeightsAlong heights(line, c.begin, c.end);
    const auto pass = [&](const Parcel& p, double share, std::size_t side) {
        const double holds = (p.liquid + p.gas * per_free_air) * share;
        at += holds * scale;
        const double next = heights.at(at), of_liquid = p.gas == 0.0      ? 1.0
                                                        : p.liquid == 0.0 ? 0.0
                                                                          : p.liquid * share / holds;
        out.side[side].liquid += p.liquid * share;
        out.side[side].rise += (side == 0 ? -1.0 : 1.0) * weight * of_liquid * (next - height);
        height = next;
    };
    for (const Parcel& p : c.train.parcels()) {
        const double begin = at, volume = (p.liquid + p.gas * per_free_air) * scale;
        const double before = share_before(out.middle, begin, volume);
        if (before > 0.0) pass(p, before, 0);
        if (before < 1.0) pass(p, 1.0 - before, 1);
        if (p.gas > 0.0 && begin < out.middle && at > out.middle) interface = {begin, at};
    }
    if (out.by_gas == 0.0) return out;
    for (const std::size_t side : {std::size_t{0}, std::size_t{1}}) {
        const Lump& lump = lump_along(line, c.begin, c.end, interface[side]);
        out.side[side].rise_per_liquid = (side == 0 ? -1.0 : 1.0) * out.by_gas * weight *
                                         (lump.to_height - lump.from_height) / lump.volume;
    }
    return out;
}

} // namespace clearstroke
