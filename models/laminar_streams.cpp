#include "models/laminar_streams.hpp"

#include <algorithm>
#include <cmath>

namespace clearstroke {
namespace {

constexpr double alike = 2e-3;     // neighbouring slices whose shares differ by less merge
constexpr std::size_t most = 24;   // slices kept in a ring
constexpr double narrowing = 0.62; // each ring takes this share of the area that is left outside it

struct Ring {
    double area{}, flow{};
};

std::array<Ring, LaminarStreams::rings> make_rings() {
    std::array<Ring, LaminarStreams::rings> out{};
    double left = 1.0; // 1 - s at the inner edge; the flow outside s is (1 - s)^2
    for (std::size_t k = 0; k < out.size(); ++k) {
        const double next = k + 1 == out.size() ? 0.0 : left * narrowing;
        out[k] = {left - next, left * left - next * next};
        left = next;
    }
    return out;
}

const std::array<Ring, LaminarStreams::rings> profile = make_rings();

template <class Slices> void limit(Slices& s) {
    while (s.size() > most) {
        std::size_t best = 0;
        double least = 2.0;
        for (std::size_t i = 0; i + 1 < s.size(); ++i) {
            const double loss =
                std::abs(s[i].fresh - s[i + 1].fresh) * std::min(s[i].length, s[i + 1].length);
            if (loss < least) {
                least = loss;
                best = i;
            }
        }
        const double length = s[best].length + s[best + 1].length;
        s[best].fresh = (s[best].fresh * s[best].length + s[best + 1].fresh * s[best + 1].length) / length;
        s[best].length = length;
        s.erase(s.begin() + static_cast<std::ptrdiff_t>(best) + 1);
    }
}

/// Pushes `length` of `inflow` in at the front of `s` and returns the amount of fresh that left at the back.
template <class Slices> double shift(Slices& s, double length, double inflow) {
    double left_fresh = 0.0, to_leave = length;
    if (length >= 1.0) { // the whole ring is replaced, the surplus passes straight through
        for (const auto& slice : s) left_fresh += slice.length * slice.fresh;
        s.assign(1, {1.0, inflow});
        return left_fresh + (length - 1.0) * inflow;
    }
    while (to_leave > 0.0 && !s.empty()) {
        auto& last = s.back();
        const double part = std::min(last.length, to_leave);
        left_fresh += part * last.fresh;
        to_leave -= part;
        last.length -= part;
        if (last.length <= 0.0) s.pop_back();
    }
    if (!s.empty() && std::abs(s.front().fresh - inflow) < alike) {
        auto& first = s.front();
        first.fresh = (first.fresh * first.length + inflow * length) / (first.length + length);
        first.length += length;
    } else {
        s.insert(s.begin(), {length, inflow});
    }
    limit(s);
    return left_fresh;
}

} // namespace

LaminarStreams::LaminarStreams(double volume, double fresh) : volume_(volume) {
    for (auto& ring : ring_) ring.assign(1, {1.0, fresh});
    find_leaving();
}

double LaminarStreams::move(double flow, double inflow) {
    if (flow == 0.0) return inflow;
    const double volumes = std::abs(flow) / volume_;
    double fresh_out = 0.0;
    for (std::size_t k = 0; k < rings; ++k) {
        const double length = volumes * profile[k].flow / profile[k].area;
        if (flow < 0.0) std::reverse(ring_[k].begin(), ring_[k].end());
        fresh_out += profile[k].area * shift(ring_[k], length, inflow);
        if (flow < 0.0) std::reverse(ring_[k].begin(), ring_[k].end());
    }
    find_leaving();
    return fresh_out / volumes;
}

void LaminarStreams::remix() {
    std::vector<double> cuts{0.0, 1.0};
    for (const auto& ring : ring_) {
        double at = 0.0;
        for (const Slice& s : ring) cuts.push_back(std::min(at += s.length, 1.0));
    }
    std::sort(cuts.begin(), cuts.end());
    std::vector<Slice> even;
    for (std::size_t i = 0; i + 1 < cuts.size(); ++i) {
        const double length = cuts[i + 1] - cuts[i];
        if (length < 1e-9) continue;
        const double middle = 0.5 * (cuts[i] + cuts[i + 1]);
        double fresh = 0.0;
        for (std::size_t k = 0; k < rings; ++k) {
            double at = 0.0;
            std::size_t j = 0;
            while (j + 1 < ring_[k].size() && at + ring_[k][j].length < middle) at += ring_[k][j++].length;
            fresh += profile[k].area * ring_[k][j].fresh;
        }
        even.push_back({length, fresh});
    }
    double sum = 0.0;
    for (const Slice& s : even) sum += s.length;
    for (Slice& s : even) s.length /= sum;
    limit(even);
    for (auto& ring : ring_) ring = even;
    find_leaving();
}

double LaminarStreams::mean() const {
    double sum = 0.0;
    for (std::size_t k = 0; k < rings; ++k)
        for (const Slice& s : ring_[k]) sum += profile[k].area * s.length * s.fresh;
    return sum;
}

void LaminarStreams::find_leaving() {
    leaving_ = {};
    for (std::size_t k = 0; k < rings; ++k) {
        leaving_[0] += profile[k].flow * ring_[k].front().fresh;
        leaving_[1] += profile[k].flow * ring_[k].back().fresh;
    }
}

} // namespace clearstroke
