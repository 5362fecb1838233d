#pragma once
/// `pedal --measured`: a job record read against the model.
#include "analysis/cli/json.hpp"
#include "analysis/cli/request.hpp"
#include "analysis/cli/text.hpp"

namespace clearstroke {

/// The record that the arguments name, weighed; text and JSON of the result.
struct DiagnosisReport {
    Lines lines;
    Json json;
};
[[nodiscard]] DiagnosisReport diagnosis_report(const PedalArgs&, const Scenario&);

/// `pedal --trials`: what such a diagnosis is worth on this layout.
[[nodiscard]] DiagnosisReport trials_report(const PedalArgs&, const Scenario&);

} // namespace clearstroke
