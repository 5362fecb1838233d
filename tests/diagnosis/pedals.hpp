#pragma once
/// Pedals with a known fault on shipped layouts, and readings of them without noise.
#include <algorithm>
#include <stdexcept>

#include "analysis/diagnosis_trials.hpp"
#include "scenarios/scenario.hpp"

namespace clearstroke::testing {

inline Scenario scenario(const std::string& name, const std::vector<std::string>& changes = {}) {
    return read_scenario("scenarios/" + name + ".toml", changes);
}

inline PedalModel usual_model(const Scenario& s) {
    return full_model(s.factory, {0}, usual_values(s.factory)).model;
}

/// Few samples and amounts: enough for large faults.
inline BankSettings small_bank() { return {64, 8, 0.05}; }

/// A bank of the usual readings, and its likelihood.
struct Bench {
    DiagnosisBank bank;
    Taken taken;
    std::vector<Likelihood> likelihood;

    Bench(const Scenario& s, bool clamps) {
        const Network net = full_model(s.factory, {0}, usual_values(s.factory)).network;
        bank = make_bank(s.factory, {0}, usual_readings(net, {0}, clamps), small_bank());
        for (std::size_t i = 0; i < bank.readings.size(); ++i) {
            taken.readings.push_back(i);
            taken.error.push_back(usual_error(bank.readings[i]));
        }
        likelihood.emplace_back(bank, taken);
    }

    [[nodiscard]] Eigen::VectorXd read(const PedalModel& model) const {
        Hand hand;
        hand.force_error.assign(bank.readings.size(), 0.0);
        const auto values =
            read_pedal(model, bank.readings, clamps_of(bank.readings, bank.network, model), hand);
        return Eigen::Map<const Eigen::VectorXd>(values.data(), Eigen::Index(values.size()));
    }
    [[nodiscard]] Diagnosis diagnose(const PedalModel& model, const Seen& seen) const {
        return clearstroke::diagnose(likelihood.front(), read(model), seen);
    }
    [[nodiscard]] const Suspect& suspect(Cause cause, const std::string& place = "") const {
        for (const Suspect& s : bank.suspects)
            if (s.cause == cause && (place.empty() || s.place == place)) return s;
        throw std::out_of_range("no such suspect");
    }
    [[nodiscard]] double probability(const Diagnosis& d, Cause cause) const {
        double sum = 0.0;
        for (std::size_t h = 0; h < bank.suspects.size(); ++h)
            if (bank.suspects[h].cause == cause) sum += d.suspect_probability[h];
        return sum;
    }
    [[nodiscard]] bool first_set_holds(const Diagnosis& d, Cause cause) const {
        return std::ranges::any_of(d.sets.front().suspects,
                                   [&](std::size_t h) { return bank.suspects[h].cause == cause; });
    }
};

} // namespace clearstroke::testing
