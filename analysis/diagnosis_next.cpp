#include "analysis/diagnosis_next.hpp"

#include <algorithm>
#include <cmath>

#include "analysis/counter_random.hpp"

namespace clearstroke {
namespace {

constexpr std::size_t outcomes = 40; // drawn for each test

/// Entropy left by looking at something with a few outcomes, each with its chance under a cause.
template <class Chance>
double left_after_look(const Likelihood& likelihood, const std::vector<double>& suspects, int kinds,
                       Chance chance) {
    double out = 0.0;
    for (int kind = 0; kind < kinds; ++kind) {
        std::vector<double> after;
        double all = 0.0;
        for (std::size_t h = 0; h < suspects.size(); ++h) {
            after.push_back(suspects[h] * chance(kind, likelihood.cause(h)));
            all += after.back();
        }
        for (double& p : after) p /= all;
        out += all * entropy(after);
    }
    return out;
}

/// Entropy left by readings: outcomes are drawn from the components by their weight now.
double left_after_readings(const DiagnosisBank& bank, const Taken& taken, const Eigen::VectorXd& values,
                           const Seen& seen, const FurtherTest& test, const std::vector<double>& weights) {
    Taken more = taken;
    more.readings.insert(more.readings.end(), test.readings.begin(), test.readings.end());
    more.error.insert(more.error.end(), test.error.begin(), test.error.end());
    const Likelihood then(bank, more);
    const Eigen::Index k = values.size(), n = k + static_cast<Eigen::Index>(test.readings.size());
    CounterRandom random(0);
    double out = 0.0, passed = 0.0;
    std::size_t at = 0;
    for (std::size_t i = 0; i < outcomes; ++i) {
        const double u = (static_cast<double>(i) + 0.5) / outcomes;
        while (at + 1 < weights.size() && passed + weights[at] < u) passed += weights[at++];
        const auto& c = then.components()[at];
        Eigen::VectorXd z(n), all(n);
        if (k > 0) z.head(k) = c.whiten.topLeftCorner(k, k).transpose() * (values - c.mean.head(k));
        for (Eigen::Index j = k; j < n; ++j) z[j] = random.normal();
        all = c.mean + c.spread.triangularView<Eigen::Lower>() * z;
        if (k > 0) all.head(k) = values;
        out += entropy(then.by_suspect(then.weigh(all, seen))) / outcomes;
    }
    return out;
}

} // namespace

std::vector<FurtherTest> rank_tests(const DiagnosisBank& bank, const Taken& taken,
                                    const Eigen::VectorXd& measured, const Seen& seen,
                                    std::vector<FurtherTest> tests) {
    const Likelihood now(bank, taken);
    const Eigen::VectorXd values = now.on_scale(measured);
    const std::vector<double> weights = now.weigh(values, seen), suspects = now.by_suspect(weights);
    const double before = entropy(suspects);
    for (FurtherTest& test : tests) {
        double left = before;
        if (test.bubbles)
            left = left_after_look(
                now, suspects, 3, [](int kind, Cause c) { return chance_of(static_cast<Bubbles>(kind), c); });
        else if (test.wet)
            left = left_after_look(now, suspects, 2,
                                   [](int kind, Cause c) { return chance_of_wet(kind == 1, c); });
        else
            left = left_after_readings(bank, taken, values, seen, test, weights);
        test.information = std::max(before - left, 0.0);
    }
    std::ranges::stable_sort(tests, std::greater{}, &FurtherTest::information);
    return tests;
}

} // namespace clearstroke
