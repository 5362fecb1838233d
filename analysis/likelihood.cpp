#include <algorithm>
#include <cmath>

#include <Eigen/Cholesky>

#include "analysis/diagnosis.hpp"

namespace clearstroke {
namespace {

constexpr int between = 2; // components from one amount of the bank to the next

double log_chance(const Seen& seen, Cause cause) {
    double out = 0.0;
    if (seen.bubbles) out += std::log(chance_of(*seen.bubbles, cause));
    if (seen.wet) out += std::log(chance_of_wet(*seen.wet, cause));
    return out;
}

/// Prior chance of each suspect: causes alike, places of a cause alike.
std::vector<double> prior(const std::vector<Suspect>& suspects) {
    std::array<double, causes_in_all> places{};
    for (const Suspect& s : suspects) places[static_cast<std::size_t>(s.cause)] += 1.0;
    const auto causes = static_cast<double>(std::ranges::count_if(places, [](double n) { return n > 0.0; }));
    std::vector<double> out;
    for (const Suspect& s : suspects)
        out.push_back(1.0 / (causes * places[static_cast<std::size_t>(s.cause)]));
    return out;
}

} // namespace

Likelihood::Likelihood(const DiagnosisBank& bank, const Taken& taken) {
    for (const std::size_t i : taken.readings) kinds_.push_back(bank.readings[i].what);
    const std::vector<double> chance = prior(bank.suspects);
    for (std::size_t h = 0; h < bank.suspects.size(); ++h) {
        causes_.push_back(bank.suspects[h].cause);
        const auto& amounts = bank.of_suspect[h];
        const std::size_t cells = std::max<std::size_t>((amounts.size() - 1) * between, 1),
                          groups = amounts.front().groups.size();
        for (std::size_t n = 0; n < cells; ++n) {
            const AmountReadings &a = amounts[n / between],
                                 &b = amounts[std::min(n / between + 1, amounts.size() - 1)];
            const double share = (static_cast<double>(n % between) + 0.5) / between;
            Component c;
            c.suspect = h;
            if (a.amount < b.amount) {
                c.half_cell = 0.5 * std::log(b.amount / a.amount) / between;
                c.amount = a.amount * std::pow(b.amount / a.amount, share);
            }
            c.weight = chance[h] / static_cast<double>(cells * groups);
            for (std::size_t g = 0; g < groups; ++g) {
                shape(c, a.groups[g], b.groups[g], share, taken);
                components_.push_back(c);
            }
        }
    }
}

void Likelihood::shape(Component& c, const ReadingSpread& a, const ReadingSpread& b, double share,
                       const Taken& taken) const {
    const auto k = static_cast<Eigen::Index>(taken.readings.size());
    c.mean = (1.0 - share) * a.mean(taken.readings) + share * b.mean(taken.readings);
    Eigen::MatrixXd spread = (1.0 - share) * a.covariance(taken.readings, taken.readings) +
                             share * b.covariance(taken.readings, taken.readings);
    for (Eigen::Index i = 0; i < k; ++i) {
        const auto r = static_cast<std::size_t>(i);
        spread(i, i) += std::pow(taken.error[r] * weighed_slope(kinds_[r], c.mean[i]), 2);
    }
    c.spread = spread.llt().matrixL();
    c.whiten = c.spread.triangularView<Eigen::Lower>().solve(Eigen::MatrixXd::Identity(k, k)).transpose();
    c.log_norm = std::log(c.weight) - c.spread.diagonal().array().log().sum();
}

Eigen::VectorXd Likelihood::on_scale(const Eigen::VectorXd& values) const {
    Eigen::VectorXd out = values;
    for (Eigen::Index i = 0; i < out.size(); ++i)
        out[i] = weighed(kinds_[static_cast<std::size_t>(i)], values[i]);
    return out;
}

double Likelihood::distance(const Component& c, const Eigen::VectorXd& values, double most) {
    double out = 0.0;
    for (Eigen::Index i = 0; i < values.size() && out <= most; ++i) {
        double z = 0.0;
        for (Eigen::Index j = 0; j <= i; ++j) z += c.whiten(j, i) * (values[j] - c.mean[j]);
        out += z * z;
    }
    return out;
}

std::vector<double> Likelihood::weigh(const Eigen::VectorXd& values, const Seen& seen,
                                      const std::vector<char>& among) const {
    constexpr double never = -1e300, negligible = 30.0; // logarithms
    std::vector<double> of_seen, out;
    for (std::size_t h = 0; h < causes_.size(); ++h)
        of_seen.push_back(among.empty() || among[h] ? log_chance(seen, causes_[h]) : never);
    double most = never;
    for (const Component& c : components_) {
        if (of_seen[c.suspect] == never) {
            out.push_back(never);
            continue;
        }
        const double before = c.log_norm + of_seen[c.suspect];
        out.push_back(before - 0.5 * distance(c, values, 2.0 * (before - most + negligible)));
        most = std::max(most, out.back());
    }
    double sum = 0.0;
    for (double& w : out) sum += w = std::exp(w - most);
    for (double& w : out) w /= sum;
    return out;
}

double Likelihood::misfit(const Eigen::VectorXd& values) const {
    double least = 1e300;
    for (const Component& c : components_) least = std::min(least, distance(c, values, least));
    return least;
}

std::vector<double> Likelihood::by_suspect(const std::vector<double>& weights) const {
    std::vector<double> out(causes_.size(), 0.0);
    for (std::size_t i = 0; i < weights.size(); ++i) out[components_[i].suspect] += weights[i];
    return out;
}

} // namespace clearstroke
