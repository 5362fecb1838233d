#include "analysis/statistics.hpp"

#include <algorithm>
#include <cmath>
#include <limits>
#include <numeric>

namespace clearstroke {
namespace {

constexpr double nan = std::numeric_limits<double>::quiet_NaN();

double square(double x) { return x * x; }

double squares_about(std::span<const double> values, double centre) {
    double sum = 0.0;
    for (const double v : values) sum += square(v - centre);
    return sum;
}

} // namespace

double quantile(std::vector<double> values, double p) {
    if (values.empty()) return nan;
    const double n = static_cast<double>(values.size());
    const double rank = std::clamp(std::ceil(p * n * (1.0 - 1e-12)), 1.0, n); // 0.95 * 20 is the 19th
    const auto at = values.begin() + static_cast<std::ptrdiff_t>(rank) - 1;
    std::ranges::nth_element(values, at);
    return *at;
}

double mean(std::span<const double> values) {
    if (values.empty()) return nan;
    return std::accumulate(values.begin(), values.end(), 0.0) / static_cast<double>(values.size());
}

Estimate estimate(std::span<const std::vector<double>> scramblings,
                  const std::function<double(std::vector<double>)>& statistic) {
    std::vector<double> all, each;
    for (const std::vector<double>& values : scramblings) {
        if (values.empty()) continue;
        all.insert(all.end(), values.begin(), values.end());
        each.push_back(statistic(values));
    }
    Estimate e{statistic(all), nan};
    const double count = static_cast<double>(each.size());
    if (each.size() > 1 && std::ranges::all_of(each, [](double s) { return std::isfinite(s); }))
        e.error = std::sqrt(squares_about(each, mean(each)) / (count * (count - 1.0)));
    return e;
}

double explained_share(std::span<const double> x, std::span<const double> y, std::size_t bins) {
    const double centre = mean(y), total = squares_about(y, centre);
    if (!(total > 0.0)) return 0.0;
    std::vector<std::size_t> by_x(x.size());
    std::iota(by_x.begin(), by_x.end(), std::size_t{0});
    std::ranges::stable_sort(by_x, {}, [&](std::size_t i) { return x[i]; });
    double between = 0.0;
    for (std::size_t b = 0; b < bins; ++b) {
        const std::size_t from = b * x.size() / bins, to = (b + 1) * x.size() / bins;
        double sum = 0.0;
        for (std::size_t k = from; k < to; ++k) sum += y[by_x[k]] - centre;
        between += square(sum) / static_cast<double>(to - from);
    }
    const double within = (total - between) / static_cast<double>(x.size() - bins);
    return (between - static_cast<double>(bins - 1) * within) / total;
}

double explained_by_chance(std::size_t count, std::size_t bins) {
    return 2.0 * std::sqrt(2.0 * static_cast<double>(bins - 1)) / static_cast<double>(count);
}

double correlation(std::span<const double> x, std::span<const double> y) {
    const double mx = mean(x), my = mean(y);
    double product = 0.0;
    for (std::size_t i = 0; i < x.size(); ++i) product += (x[i] - mx) * (y[i] - my);
    const double scale = squares_about(x, mx) * squares_about(y, my);
    return scale > 0.0 ? product / std::sqrt(scale) : 0.0;
}

} // namespace clearstroke
