#include <algorithm>
#include <cmath>

#include <Eigen/Cholesky>

#include "analysis/diagnosis.hpp"

namespace clearstroke {
namespace {

constexpr int between = 3; // components from one amount to the next

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
    const auto k = static_cast<Eigen::Index>(taken.readings.size());
    Eigen::VectorXd variance(k);
    for (Eigen::Index i = 0; i < k; ++i) variance[i] = std::pow(taken.error[static_cast<std::size_t>(i)], 2);
    const auto at = [&](Eigen::Index i) {
        return static_cast<Eigen::Index>(taken.readings[static_cast<std::size_t>(i)]);
    };
    const std::vector<double> chance = prior(bank.suspects);
    for (std::size_t h = 0; h < bank.suspects.size(); ++h) {
        causes_.push_back(bank.suspects[h].cause);
        const auto& amounts = bank.of_suspect[h];
        const std::size_t steps = (amounts.size() - 1) * between + 1;
        for (std::size_t n = 0; n < steps; ++n) {
            const std::size_t from = n / between, to = std::min(from + 1, amounts.size() - 1);
            const double share = static_cast<double>(n % between) / between;
            const AmountReadings &a = amounts[from], &b = amounts[to];
            Component c;
            c.suspect = h;
            c.amount = share > 0.0 ? a.amount * std::pow(b.amount / a.amount, share) : a.amount;
            c.weight = chance[h] / static_cast<double>(steps);
            c.mean.resize(k);
            Eigen::MatrixXd spread = variance.asDiagonal();
            for (Eigen::Index i = 0; i < k; ++i) {
                c.mean[i] = (1.0 - share) * a.mean[at(i)] + share * b.mean[at(i)];
                for (Eigen::Index j = 0; j < k; ++j)
                    spread(i, j) +=
                        (1.0 - share) * a.covariance(at(i), at(j)) + share * b.covariance(at(i), at(j));
            }
            c.spread = spread.llt().matrixL();
            c.whiten = c.spread.triangularView<Eigen::Lower>().solve(Eigen::MatrixXd::Identity(k, k));
            c.log_norm = -c.spread.diagonal().array().log().sum();
            components_.push_back(std::move(c));
        }
    }
}

std::vector<double> Likelihood::weigh(const Eigen::VectorXd& values, const Seen& seen) const {
    std::vector<double> out;
    double most = -1e300;
    for (const Component& c : components_) {
        const double distance = (c.whiten.triangularView<Eigen::Lower>() * (values - c.mean)).squaredNorm();
        out.push_back(std::log(c.weight) + c.log_norm - 0.5 * distance +
                      log_chance(seen, causes_[c.suspect]));
        most = std::max(most, out.back());
    }
    double sum = 0.0;
    for (double& w : out) sum += w = std::exp(w - most);
    for (double& w : out) w /= sum;
    return out;
}

double Likelihood::misfit(const Eigen::VectorXd& values) const {
    double least = 1e300;
    for (const Component& c : components_)
        least = std::min(least, (c.whiten.triangularView<Eigen::Lower>() * (values - c.mean)).squaredNorm());
    return least;
}

std::vector<double> Likelihood::by_suspect(const std::vector<double>& weights) const {
    std::vector<double> out(causes_.size(), 0.0);
    for (std::size_t i = 0; i < weights.size(); ++i) out[components_[i].suspect] += weights[i];
    return out;
}

} // namespace clearstroke
