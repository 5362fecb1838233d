#pragma once
/// A weighed record, as text and JSON are made of it.
#include "analysis/cli/diagnosis.hpp"
#include "analysis/diagnosis_next.hpp"
#include "analysis/plan_result.hpp"

namespace clearstroke {

inline constexpr double no_drive_from = 0.05; ///< probability of a dangerous cause from which it is spoken of

/// Everything that a report speaks of.
struct Weighed {
    DiagnosisBank bank;
    std::vector<MeasuredReading> readings;
    Diagnosis diagnosis;
    double information{}; ///< of such readings, expected before they are taken [-]
    std::vector<FurtherTest> tests;
    std::vector<std::string> leads; ///< why not to drive
    std::vector<PlaceAir> kept;     ///< beyond reach by geometry, where air of the first set can sit
};

[[nodiscard]] Lines text_of(const Weighed&);
[[nodiscard]] Json json_of(const Weighed&);

} // namespace clearstroke
