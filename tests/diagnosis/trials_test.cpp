// A reduced run of the synthetic trials on the layout of docs/diagnosis.md; the page has the full count.
// Bounds are those asked of the full run, with room for the small count: three standard errors of a share of
// 30 or of all.
#include <cmath>

#include <gtest/gtest.h>

#include "tests/diagnosis/pedals.hpp"

namespace clearstroke::testing {
namespace {

TrialTable trials(bool clamps, bool mismatched) {
    const Scenario s = scenario("rear_drums", {"booster.gain=5"});
    TrialSettings settings;
    settings.per_cause = 30;
    settings.clamps = clamps;
    settings.mismatched = mismatched;
    settings.bank = {96, 10, 0.05};
    return run_trials(s.factory, {0}, settings);
}

double share(std::size_t n, const TrialRow& row) { return double(n) / double(row.trials); }

/// Mean over the causes; places of air count as one.
template <class Count> double mean(const TrialTable& t, Count count) {
    double air = 0.0, others = 0.0, places = 0.0, causes = 0.0;
    for (const TrialRow& row : t.rows) {
        (row.cause == Cause::air ? air : others) += share(count(row), row);
        (row.cause == Cause::air ? places : causes) += 1.0;
    }
    return (others + air / places) / (causes + 1.0);
}

void expect_matched(const TrialTable& t) {
    EXPECT_GT(mean(t, [](const TrialRow& r) { return r.among_two; }), 0.9);
    EXPECT_LT(mean(t, [](const TrialRow& r) { return r.cannot_tell; }), 0.2);
    double inside = 0.0, of_air = 0.0;
    for (const TrialRow& row : t.rows) {
        const double own_error = std::sqrt(0.9 * 0.1 / double(row.trials));
        EXPECT_GT(share(row.among_two, row), 0.9 - 3.0 * own_error) << name_of(row.cause) << " " << row.place;
        EXPECT_TRUE(!dangerous(row.cause) || row.no_fault <= 1u)
            << name_of(row.cause) << " called sound " << row.no_fault << " times";
        if (row.cause != Cause::air) continue;
        inside += double(row.air_inside);
        of_air += double(row.trials);
    }
    const double error = std::sqrt(0.9 * 0.1 / of_air);
    EXPECT_GT(inside / of_air, 0.85 - 3.0 * error);
    EXPECT_LT(inside / of_air, 0.95 + 3.0 * error);
}

TEST(Trials, MatchedWithoutClamps) { expect_matched(trials(false, false)); }

TEST(Trials, MatchedWithClamps) { expect_matched(trials(true, false)); }

// The model is wrong here: what still must hold is that a dangerous pedal is not called sound.
TEST(Trials, MismatchedNeverCallsADangerousPedalSound) {
    for (const TrialRow& row : trials(true, true).rows)
        EXPECT_TRUE(!dangerous(row.cause) || row.no_fault <= 1u)
            << name_of(row.cause) << " called sound " << row.no_fault << " times";
}

} // namespace
} // namespace clearstroke::testing
