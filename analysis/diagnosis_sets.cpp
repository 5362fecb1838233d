#include "analysis/diagnosis_sets.hpp"

#include <algorithm>
#include <cmath>

#include "analysis/counter_random.hpp"

namespace clearstroke {
namespace {

constexpr double mistaken_for = 0.1;   // (W-3)
constexpr double has_a_chance = 0.005; // probability from which a suspect is drawn
constexpr std::size_t draws = 40;      // per suspect
constexpr std::size_t draws_of_any = 60;

/// Draws one of those that `chances` weighs.
std::size_t pick(std::span<const double> chances, double u) {
    double sum = 0.0;
    for (std::size_t i = 0; i < chances.size(); ++i)
        if (u < (sum += chances[i])) return i;
    return chances.size() - 1;
}

/// What would be seen under a cause, where something was looked at.
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

/// Probabilities of the suspects, [draw][suspect], for pedals drawn under one of them, its amounts by
/// `weights`.
std::vector<std::vector<double>> redrawn(const Likelihood& likelihood, const std::vector<double>& weights,
                                         const Seen& asked, std::size_t suspect, std::size_t count,
                                         const std::vector<char>& among) {
    std::vector<std::size_t> own;
    double all = 0.0;
    for (std::size_t i = 0; i < weights.size(); ++i)
        if (likelihood.components()[i].suspect == suspect) {
            own.push_back(i);
            all += weights[i];
        }
    CounterRandom random(0, suspect);
    std::vector<std::vector<double>> out;
    std::size_t at = 0;
    double passed = 0.0;
    for (std::size_t n = 0; n < count; ++n) {
        const double u = all * (static_cast<double>(n) + 0.5) / static_cast<double>(count);
        while (at + 1 < own.size() && passed + weights[own[at]] < u) passed += weights[own[at++]];
        const auto& c = likelihood.components()[own[at]];
        Eigen::VectorXd z(c.mean.size());
        for (double& x : z) x = random.normal();
        const Eigen::VectorXd values = c.mean + c.spread.triangularView<Eigen::Lower>() * z;
        const Seen seen = drawn_seen(asked, likelihood.cause(suspect), random);
        out.push_back(likelihood.by_suspect(likelihood.weigh(values, seen, among)));
    }
    return out;
}

double sum_over(const std::vector<double>& chance, const std::vector<std::size_t>& set) {
    double out = 0.0;
    for (const std::size_t h : set) out += chance[h];
    return out;
}

class Joining {
public:
    Joining(const Likelihood& likelihood, const std::vector<double>& weights, const Seen& asked)
        : probability_(likelihood.by_suspect(weights)), drawn_(likelihood.suspects()) {
        std::vector<char> among;
        for (const double p : probability_) among.push_back(p >= has_a_chance);
        for (std::size_t h = 0; h < among.size(); ++h) {
            sets.push_back({{h}, probability_[h]});
            if (among[h]) drawn_[h] = redrawn(likelihood, weights, asked, h, draws, among);
        }
    }
    std::vector<WeighedSet> sets;

    void join() {
        for (;;) {
            double most = mistaken_for;
            std::size_t into = 0, from = 0;
            for (std::size_t i = 0; i < sets.size(); ++i)
                for (std::size_t j = i + 1; j < sets.size(); ++j) {
                    const double m = 0.5 * (mistaken(sets[i].suspects, sets[j].suspects) +
                                            mistaken(sets[j].suspects, sets[i].suspects));
                    if (m > most) {
                        most = m;
                        into = i;
                        from = j;
                    }
                }
            if (from == 0) return;
            auto& set = sets[into];
            set.suspects.insert(set.suspects.end(), sets[from].suspects.begin(), sets[from].suspects.end());
            set.probability += sets[from].probability;
            sets.erase(sets.begin() + static_cast<std::ptrdiff_t>(from));
        }
    }

private:
    std::vector<double> probability_;
    std::vector<std::vector<std::vector<double>>> drawn_;

    /// M(a, b) of (W-3).
    [[nodiscard]] double mistaken(const std::vector<std::size_t>& a,
                                  const std::vector<std::size_t>& b) const {
        double wrong = 0.0, all = 0.0;
        for (const std::size_t h : a)
            for (const auto& chance : drawn_[h]) {
                const double own = sum_over(chance, a), other = sum_over(chance, b);
                all += probability_[h];
                wrong += probability_[h] * (other > own ? 1.0 : other == own ? 0.5 : 0.0);
            }
        return all > 0.0 ? wrong / all : 0.0;
    }
};

} // namespace

std::vector<WeighedSet> sets_of(const Likelihood& likelihood, const std::vector<double>& weights,
                                const Seen& asked) {
    Joining joining(likelihood, weights, asked);
    joining.join();
    const std::vector<double> probability = likelihood.by_suspect(weights);
    for (WeighedSet& set : joining.sets)
        std::ranges::stable_sort(set.suspects, std::greater{}, [&](std::size_t h) { return probability[h]; });
    std::ranges::stable_sort(joining.sets, std::greater{}, &WeighedSet::probability);
    return std::move(joining.sets);
}

double entropy(const std::vector<double>& p) {
    double out = 0.0;
    for (const double x : p)
        if (x > 0.0) out -= x * std::log2(x);
    return out;
}

double expected_information(const Likelihood& likelihood, const Seen& asked) {
    std::vector<double> weights;
    for (const auto& c : likelihood.components()) weights.push_back(c.weight);
    const std::vector<double> before = likelihood.by_suspect(weights);
    const auto of_causes = [&](const std::vector<double>& suspects) {
        std::vector<double> sums(causes_in_all, 0.0);
        for (std::size_t h = 0; h < suspects.size(); ++h)
            sums[static_cast<std::size_t>(likelihood.cause(h))] += suspects[h];
        return entropy(sums);
    };
    double left = 0.0;
    for (std::size_t h = 0; h < before.size(); ++h)
        for (const auto& after : redrawn(likelihood, weights, asked, h, draws_of_any, {}))
            left += before[h] * of_causes(after) / draws_of_any;
    return 1.0 - left / of_causes(before);
}

} // namespace clearstroke
