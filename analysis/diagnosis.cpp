#include "analysis/diagnosis.hpp"

#include <algorithm>
#include <cmath>
#include <map>

#include <boost/math/distributions/chi_squared.hpp>

#include "analysis/counter_random.hpp"

namespace clearstroke {
namespace {

constexpr std::size_t draws_per_suspect = 12;
constexpr double alike = 0.3;          // O above which sets are joined
constexpr double told_from = 0.5;      // probability of a set that is called the finding
constexpr double danger_below = 0.05;  // of all dangerous causes beside "no fault"
constexpr double fits_within = 0.9999; // of the chi-squared distribution

/// Draws one of those that `chances` weighs.
std::size_t pick(std::span<const double> chances, double u) {
    double sum = 0.0;
    for (std::size_t i = 0; i < chances.size(); ++i)
        if (u < (sum += chances[i])) return i;
    return chances.size() - 1;
}

/// What would be seen under a cause, where something was seen at all.
Seen drawn_seen(const Seen& asked, Cause cause, CounterRandom& random) {
    Seen out;
    if (asked.bubbles) {
        const std::array chances{chance_of(Bubbles::none, cause), chance_of(Bubbles::declined, cause),
                                 chance_of(Bubbles::did_not_decline, cause)};
        out.bubbles = static_cast<Bubbles>(pick(chances, random.uniform()));
    }
    if (asked.wet) out.wet = random.uniform() < chance_of_wet(true, cause);
    return out;
}

/// [true suspect][suspect]: probability given, mean over drawn readings.
std::vector<std::vector<double>> confusion(const Likelihood& likelihood, const Seen& asked) {
    const auto& components = likelihood.components();
    std::vector<std::vector<const Likelihood::Component*>> of_suspect(likelihood.suspects());
    for (const auto& c : components) of_suspect[c.suspect].push_back(&c);
    std::vector<std::vector<double>> out;
    for (std::size_t h = 0; h < likelihood.suspects(); ++h) {
        std::vector<double> mean(likelihood.suspects(), 0.0);
        CounterRandom random(0, h);
        for (std::size_t n = 0; n < draws_per_suspect; ++n) {
            const auto& c = *of_suspect[h][(2 * n + 1) * of_suspect[h].size() / (2 * draws_per_suspect)];
            Eigen::VectorXd z(c.mean.size());
            for (double& x : z) x = random.normal();
            const Eigen::VectorXd values = c.mean + c.spread * z;
            const auto weights = likelihood.by_suspect(
                likelihood.weigh(values, drawn_seen(asked, likelihood.cause(h), random)));
            for (std::size_t g = 0; g < weights.size(); ++g) mean[g] += weights[g] / draws_per_suspect;
        }
        out.push_back(std::move(mean));
    }
    return out;
}

/// Probability that readings drawn under a member of `a` give to `b`, mean over the members.
double given(const std::vector<std::vector<double>>& table, const std::vector<std::size_t>& a,
             const std::vector<std::size_t>& b) {
    double sum = 0.0;
    for (const std::size_t h : a)
        for (const std::size_t g : b) sum += table[h][g];
    return sum / static_cast<double>(a.size());
}

double entropy(const std::vector<double>& p) {
    double out = 0.0;
    for (const double x : p)
        if (x > 0.0) out -= x * std::log2(x);
    return out;
}

/// 5 %, 50 % and 95 % of the air among the air suspects: amounts on a grid, evenly spread in the logarithm.
std::optional<std::array<double, 3>> air_interval(const Likelihood& likelihood,
                                                  const std::vector<double>& weights) {
    std::map<double, double> by_amount;
    double all = 0.0;
    for (std::size_t i = 0; i < weights.size(); ++i) {
        const auto& c = likelihood.components()[i];
        const Cause cause = likelihood.cause(c.suspect);
        if (cause != Cause::air && cause != Cause::air_entry) continue;
        by_amount[std::round(std::log(c.amount) * 1e6) * 1e-6] += weights[i];
        all += weights[i];
    }
    if (by_amount.size() < 2 || all <= 0.0) return std::nullopt;
    const double half = 0.5 * (std::next(by_amount.begin())->first - by_amount.begin()->first);
    std::array<double, 3> out{};
    constexpr std::array levels{0.05, 0.5, 0.95};
    for (std::size_t q = 0; q < levels.size(); ++q) {
        double sum = 0.0;
        for (const auto& [log_amount, weight] : by_amount) {
            const double share = weight / all;
            if (sum + share >= levels[q]) {
                out[q] = std::exp(log_amount - half + 2.0 * half * (levels[q] - sum) / share);
                break;
            }
            sum += share;
        }
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
        const Eigen::MatrixXd inverse = c.whiten.transpose() * c.whiten;
        const Eigen::ArrayXd alone = inverse.diagonal().array();
        const Eigen::ArrayXd here = values.array() - (inverse * (values - c.mean)).array() / alone;
        mean += weights[i] * here;
        square += weights[i] * (here.square() + 1.0 / alone);
        all += weights[i];
    }
    mean /= all;
    const Eigen::ArrayXd spread = (square / all - mean.square()).max(0.0).sqrt();
    d.predicted.assign(mean.begin(), mean.end());
    d.predicted_error.assign(spread.begin(), spread.end());
}

Finding finding_of(const Diagnosis& d, const Likelihood& likelihood, double misfit, Eigen::Index readings) {
    if (readings > 0 &&
        misfit > quantile(boost::math::chi_squared(static_cast<double>(readings)), fits_within))
        return Finding::none_fits;
    const WeighedSet& first = d.sets.front();
    const bool with_none = std::ranges::any_of(
        first.suspects, [&](std::size_t h) { return likelihood.cause(h) == Cause::none; });
    if (!with_none) return first.probability >= told_from ? Finding::told : Finding::cannot_tell;
    const bool sound =
        first.suspects.size() == 1 && first.probability >= told_from && d.danger_probability <= danger_below;
    return sound ? Finding::no_fault : Finding::cannot_tell;
}

} // namespace

Separation separate(const DiagnosisBank& bank, const Likelihood& likelihood, const Seen& asked) {
    const auto table = confusion(likelihood, asked);
    Separation out;
    for (std::size_t h = 0; h < bank.suspects.size(); ++h) out.sets.push_back({h});
    for (;;) {
        double most = alike;
        std::pair<std::size_t, std::size_t> pair{0, 0};
        for (std::size_t i = 0; i < out.sets.size(); ++i)
            for (std::size_t j = i + 1; j < out.sets.size(); ++j) {
                const auto &a = out.sets[i], &b = out.sets[j];
                const double across = given(table, a, b) + given(table, b, a);
                const double within = given(table, a, a) + given(table, b, b);
                if (across > most * within) {
                    most = across / within;
                    pair = {i, j};
                }
            }
        if (pair.second == 0) break;
        auto& into = out.sets[pair.first];
        into.insert(into.end(), out.sets[pair.second].begin(), out.sets[pair.second].end());
        out.sets.erase(out.sets.begin() + static_cast<std::ptrdiff_t>(pair.second));
    }
    std::vector<double> prior;
    double after = 0.0;
    for (const auto& set : out.sets) {
        double weight = 0.0;
        for (const auto& c : likelihood.components())
            if (std::ranges::find(set, c.suspect) != set.end()) weight += c.weight;
        prior.push_back(weight);
        std::vector<double> row;
        for (const auto& other : out.sets) row.push_back(given(table, set, other));
        after += weight * entropy(row);
    }
    out.information = prior.size() > 1 ? std::max(0.0, 1.0 - after / entropy(prior)) : 0.0;
    return out;
}

Diagnosis diagnose(const DiagnosisBank& bank, const Likelihood& likelihood, const Separation& separation,
                   const Eigen::VectorXd& values, const Seen& seen) {
    Diagnosis out;
    const std::vector<double> weights = likelihood.weigh(values, seen);
    out.suspect_probability = likelihood.by_suspect(weights);
    for (const auto& set : separation.sets) {
        WeighedSet weighed{set, 0.0};
        for (const std::size_t h : set) weighed.probability += out.suspect_probability[h];
        std::ranges::stable_sort(weighed.suspects, std::greater{},
                                 [&](std::size_t h) { return out.suspect_probability[h]; });
        out.sets.push_back(std::move(weighed));
    }
    std::ranges::stable_sort(out.sets, std::greater{}, &WeighedSet::probability);
    for (std::size_t h = 0; h < bank.suspects.size(); ++h) {
        const Cause cause = bank.suspects[h].cause;
        if (cause == Cause::air || cause == Cause::air_entry)
            out.air_probability += out.suspect_probability[h];
        if (dangerous(cause)) out.danger_probability += out.suspect_probability[h];
    }
    out.air = air_interval(likelihood, weights);
    predict(out, likelihood, weights, values);
    out.information = separation.information;
    out.finding = finding_of(out, likelihood, likelihood.misfit(values), values.size());
    return out;
}

} // namespace clearstroke
