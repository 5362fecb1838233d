#pragma once
/// Synthetic trials: pedals with a known fault are read with noise and diagnosed. What the diagnosis is worth
/// on a layout when its model is right, and when it is not.
#include <array>
#include <cstdint>
#include <string>
#include <vector>

#include "analysis/diagnosis.hpp"

namespace clearstroke {

/// Readings of a usual test at a pedal: three forces, two more strokes, a rest, a hold, the engine if there
/// is a booster, the hand brake if there are shoes; every flexible hose clamped in turn if wanted.
[[nodiscard]] std::vector<Reading> usual_readings(const Network&, ActuatorId, bool clamps);
/// Standard deviation of a reading with a ruler, a watch and a measure: 1 mm, 1 mL.
[[nodiscard]] double usual_error(const Reading&);

struct TrialSettings {
    std::size_t per_cause{500}; ///< of air: per place
    bool clamps{};
    bool mismatched{}; ///< other hose, roll-back and gas laws, bands twice as wide, a second fault in every
                       ///< third trial
    std::uint64_t seed{1};
    BankSettings bank;
};

/// How the trials of one cause (of air: one place) came out.
struct TrialRow {
    Cause cause{};
    std::string place;                          ///< of air; else empty
    std::size_t trials{}, first{}, among_two{}; ///< the set with the truth was first; among the first two
    std::size_t no_fault{}, cannot_tell{}, none_fits{};
    std::size_t air_inside{};                        ///< true air within the 90 % interval
    std::size_t in_first{};                          ///< suspects of 1 % and more in the first set, sum
    std::array<std::size_t, causes_in_all> called{}; ///< told so, by the leading cause of the first set
};

struct TrialTable {
    std::vector<TrialRow> rows;
    double information{}; ///< expected_information of the readings [-]
};

[[nodiscard]] TrialTable run_trials(const CaseFactory&, ActuatorId, const TrialSettings&);

} // namespace clearstroke
