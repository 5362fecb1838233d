#include "analysis/diagnosis.hpp"

#include <algorithm>
#include <cmath>

#include <boost/math/distributions/chi_squared.hpp>

#include "analysis/diagnosis_sets.hpp"

namespace clearstroke {
namespace {

constexpr double told_from = 0.5;      // probability of a set that is called the finding
constexpr double danger_below = 0.05;  // of all dangerous causes beside "no fault"
constexpr double fits_within = 0.9999; // of the chi-squared distribution

/// 5 %, 50 % and 95 % of the air among the air suspects: each component spread evenly over the logarithm of
/// its cell.
std::optional<std::array<double, 3>> air_interval(const Likelihood& likelihood,
                                                  const std::vector<double>& weights) {
    const auto below = [&](double log_amount) {
        double sum = 0.0;
        for (std::size_t i = 0; i < weights.size(); ++i) {
            const auto& c = likelihood.components()[i];
            if (!is_air(likelihood.cause(c.suspect))) continue;
            const double from = std::log(c.amount) - c.half_cell;
            sum += weights[i] * std::clamp((log_amount - from) / (2.0 * c.half_cell), 0.0, 1.0);
        }
        return sum;
    };
    const AmountRange range = amounts_of(Cause::air);
    const double low = std::log(range.low), high = std::log(range.high), all = below(high);
    if (all <= 0.0) return std::nullopt;
    std::array<double, 3> out{};
    constexpr std::array levels{0.05, 0.5, 0.95};
    for (std::size_t q = 0; q < levels.size(); ++q) {
        double from = low, to = high;
        while (to - from > 1e-4) {
            const double middle = 0.5 * (from + to);
            (below(middle) < levels[q] * all ? from : to) = middle;
        }
        out[q] = std::exp(0.5 * (from + to));
    }
    return out;
}

/// Each reading from the others: with P the inverse covariance of a component, y_i - (P (y - m))_i / P_ii
/// with variance 1 / P_ii; components of the set by their weight.
void predict(Diagnosis& d, const Likelihood& likelihood, const std::vector<double>& weights,
             const Eigen::VectorXd& values) {
    const auto& set = d.sets.front().suspects;
    Eigen::ArrayXd mean = Eigen::ArrayXd::Zero(values.size()), square = mean;
    double all = 0.0;
    for (std::size_t i = 0; i < weights.size(); ++i) {
        const auto& c = likelihood.components()[i];
        if (weights[i] <= 0.0 || std::ranges::find(set, c.suspect) == set.end()) continue;
        const Eigen::MatrixXd inverse = c.whiten * c.whiten.transpose();
        const Eigen::ArrayXd alone = inverse.diagonal().array();
        const Eigen::ArrayXd here = values.array() - (inverse * (values - c.mean)).array() / alone;
        mean += weights[i] * here;
        square += weights[i] * (here.square() + 1.0 / alone);
        all += weights[i];
    }
    mean /= all;
    const Eigen::ArrayXd spread = (square / all - mean.square()).max(0.0).sqrt();
    for (Eigen::Index i = 0; i < values.size(); ++i) {
        const Reads kind = likelihood.kind(static_cast<std::size_t>(i));
        d.predicted.push_back(unweighed(kind, mean[i]));
        d.predicted_error.push_back(spread[i] / weighed_slope(kind, mean[i]));
    }
}

Finding finding_of(const Diagnosis& d, double misfit, Eigen::Index readings) {
    if (readings > 0 &&
        misfit > quantile(boost::math::chi_squared(static_cast<double>(readings)), fits_within))
        return Finding::none_fits;
    const double sound = d.in_first[static_cast<std::size_t>(Cause::none)];
    if (leading_cause(d) != Cause::none)
        return d.sets.front().probability - sound >= told_from ? Finding::told : Finding::cannot_tell;
    return sound >= told_from && d.danger_probability <= danger_below ? Finding::no_fault
                                                                      : Finding::cannot_tell;
}

} // namespace

Cause leading_cause(const Diagnosis& d) {
    return static_cast<Cause>(std::ranges::max_element(d.in_first) - d.in_first.begin());
}

Diagnosis diagnose(const Likelihood& likelihood, const Eigen::VectorXd& readings, const Seen& seen) {
    Diagnosis out;
    const Eigen::VectorXd values = likelihood.on_scale(readings);
    const std::vector<double> weights = likelihood.weigh(values, seen);
    out.suspect_probability = likelihood.by_suspect(weights);
    out.sets = sets_of(likelihood, weights, seen);
    for (const std::size_t h : out.sets.front().suspects)
        out.in_first[static_cast<std::size_t>(likelihood.cause(h))] += out.suspect_probability[h];
    for (std::size_t h = 0; h < likelihood.suspects(); ++h) {
        if (is_air(likelihood.cause(h))) out.air_probability += out.suspect_probability[h];
        if (dangerous(likelihood.cause(h))) out.danger_probability += out.suspect_probability[h];
    }
    out.air = air_interval(likelihood, weights);
    predict(out, likelihood, weights, values);
    out.finding = finding_of(out, likelihood.misfit(values), values.size());
    return out;
}

} // namespace clearstroke
