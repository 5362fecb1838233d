#include "analysis/sensitivity.hpp"

#include <algorithm>
#include <cmath>
#include <limits>
#include <numeric>

#include <boost/math/distributions/students_t.hpp>

#include "analysis/sobol_points.hpp"
#include "analysis/statistics.hpp"

namespace clearstroke {
namespace {

constexpr double nan = std::numeric_limits<double>::quiet_NaN();
constexpr std::uint64_t levels = 4;
constexpr double step = 0.5;

// `value` with the interval that the spread of independent `parts` gives.
Interval interval(double value, std::span<const double> parts) {
    const double n = static_cast<double>(parts.size());
    if (parts.size() < 2 || !std::isfinite(value)) return {value, nan, nan};
    const double centre = mean(parts);
    double squares = 0.0;
    for (const double p : parts) squares += (p - centre) * (p - centre);
    const double t = boost::math::quantile(boost::math::students_t(n - 1.0), 0.975);
    const double half = t * std::sqrt(squares / (n * (n - 1.0)));
    return {value, value - half, value + half};
}

// f(a), f(b), f(ab_k) of the base points of one scrambling where all are finite.
struct Triples {
    std::vector<double> a, b, ab;
};

Triples triples(const IndexDesign& design, std::span<const double> y, std::size_t scrambling, std::size_t k) {
    Triples t;
    for (std::size_t i = 0; i < design.points; ++i) {
        const std::size_t base = (scrambling * design.points + i) * (design.dimensions + 2);
        if (!std::isfinite(y[base]) || !std::isfinite(y[base + 1]) || !std::isfinite(y[base + 2 + k]))
            continue;
        t.a.push_back(y[base]);
        t.b.push_back(y[base + 1]);
        t.ab.push_back(y[base + 2 + k]);
    }
    return t;
}

void append(Triples& to, const Triples& more) {
    to.a.insert(to.a.end(), more.a.begin(), more.a.end());
    to.b.insert(to.b.end(), more.b.begin(), more.b.end());
    to.ab.insert(to.ab.end(), more.ab.begin(), more.ab.end());
}

struct FirstTotal {
    double first{nan}, total{nan};
};

FirstTotal indices(const Triples& t) {
    if (t.a.size() < 2) return {};
    const double n = static_cast<double>(t.a.size()), centre = 0.5 * (mean(t.a) + mean(t.b));
    double variance = 0.0, first = 0.0, total = 0.0;
    for (std::size_t i = 0; i < t.a.size(); ++i) {
        const double a = t.a[i] - centre, b = t.b[i] - centre, ab = t.ab[i] - centre;
        variance += 0.5 * (a * a + b * b) / n;
        first += b * (ab - a) / n;
        total += 0.5 * (a - ab) * (a - ab) / n;
    }
    if (!(variance > 0.0)) return {};
    return {first / variance, total / variance};
}

} // namespace

std::vector<double> point_of(const IndexDesign& design, std::uint64_t number) {
    const std::uint64_t d = design.dimensions, part = number % (d + 2), base = number / (d + 2);
    const SobolPoints points(2 * d, scrambling_seed(design.seed, base / design.points));
    const std::vector<double> both = points.point(base % design.points);
    const auto half = both.begin() + static_cast<std::ptrdiff_t>(d);
    std::vector<double> u(part == 1 ? half : both.begin(), part == 1 ? both.end() : half);
    if (part >= 2) u[part - 2] = both[d + part - 2];
    return u;
}

SobolIndices sobol_indices(const IndexDesign& design, std::span<const double> y) {
    SobolIndices all;
    for (std::size_t k = 0; k < design.dimensions; ++k) {
        Triples together;
        std::vector<double> first, total;
        for (std::size_t r = 0; r < design.scramblings; ++r) {
            const Triples own = triples(design, y, r, k);
            append(together, own);
            const FirstTotal of_own = indices(own);
            if (!std::isfinite(of_own.first)) continue;
            first.push_back(of_own.first);
            total.push_back(of_own.total);
        }
        const FirstTotal of_all = indices(together);
        all.first.push_back(interval(of_all.first, first));
        all.total.push_back(interval(of_all.total, total));
    }
    return all;
}

namespace {

// What is drawn for one trajectory.
struct Trajectory {
    std::vector<double> start;
    std::vector<std::size_t> order;

    Trajectory(const EffectDesign& design, std::uint64_t number) : order(design.dimensions) {
        const std::uint64_t key = scrambling_seed(design.seed, number);
        std::iota(order.begin(), order.end(), std::size_t{0});
        for (std::size_t k = 0; k < design.dimensions; ++k)
            start.push_back((static_cast<double>(mixed(key + 2 * k) % levels) + 0.5) / levels);
        for (std::size_t k = design.dimensions; k > 1; --k) // Fisher and Yates
            std::swap(order[k - 1], order[mixed(key + 2 * k + 1) % k]);
    }

    [[nodiscard]] double direction(std::size_t k) const { return start[k] < 0.5 ? 1.0 : -1.0; }
};

} // namespace

std::vector<double> point_of(const EffectDesign& design, std::uint64_t number) {
    const Trajectory t(design, number / (design.dimensions + 1));
    std::vector<double> u = t.start;
    for (std::size_t j = 0; j < number % (design.dimensions + 1); ++j)
        u[t.order[j]] += step * t.direction(t.order[j]);
    return u;
}

ElementaryEffects elementary_effects(const EffectDesign& design, std::span<const double> y) {
    std::vector<std::vector<double>> effects(design.dimensions);
    for (std::size_t r = 0; r < design.trajectories; ++r) {
        const Trajectory t(design, r);
        for (std::size_t j = 0; j < design.dimensions; ++j) {
            const std::size_t before = r * (design.dimensions + 1) + j, k = t.order[j];
            const double effect = (y[before + 1] - y[before]) / (step * t.direction(k));
            if (std::isfinite(effect)) effects[k].push_back(effect);
        }
    }
    ElementaryEffects all;
    for (const std::vector<double>& own : effects) {
        std::vector<double> absolute;
        double squares = 0.0;
        for (const double e : own) {
            absolute.push_back(std::abs(e));
            squares += (e - mean(own)) * (e - mean(own));
        }
        all.mean.push_back(interval(mean(own), own));
        all.mean_absolute.push_back(interval(mean(absolute), absolute));
        all.deviation.push_back(own.size() > 1 ? std::sqrt(squares / static_cast<double>(own.size() - 1))
                                               : nan);
    }
    return all;
}

} // namespace clearstroke
