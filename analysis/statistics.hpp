#pragma once
/// Plain statistics of samples that come in independent scramblings.
#include <functional>
#include <span>
#include <vector>

namespace clearstroke {

/// A number and the standard error that sampling leaves in it.
struct Estimate {
    double value{}, error{};
};

/// Smallest value with at least the share `p` of all at or below it; NaN for none. Infinite values count.
[[nodiscard]] double quantile(std::vector<double> values, double p);

[[nodiscard]] double mean(std::span<const double>); ///< NaN for none

/// `statistic` of all scramblings together; the error is the spread of the scramblings' own statistics,
///     error = sqrt(sum_r (s_r - mean s)^2 / (R (R - 1))),                                             
/// NaN where one of them is not finite. Empty scramblings are left out. Source: owen1997 [from memory].
[[nodiscard]] Estimate estimate(std::span<const std::vector<double>> scramblings,
                                const std::function<double(std::vector<double>)>& statistic);

/// Share of the variance of y that a function of x, of `bins` equally filled steps, explains, less what
/// chance would explain: epsilon squared,
///     (SSB - (B - 1) MSW) / SST.                                                                      
/// 0 when y does not vary. Needs more values than bins. Source: kelley1935 [from memory].
[[nodiscard]] double explained_share(std::span<const double> x, std::span<const double> y, std::size_t bins);

/// Twice the standard deviation of when x has no effect, for many values: 2 sqrt(2 (B - 1)) / n.
[[nodiscard]] double explained_by_chance(std::size_t count, std::size_t bins);

/// Pearson's r of x and y; 0 when one does not vary.
[[nodiscard]] double correlation(std::span<const double> x, std::span<const double> y);

} // namespace clearstroke
