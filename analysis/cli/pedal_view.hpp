#pragma once
/// A computed pedal test in the JSON documents, and what it means by a public rule.
#include "analysis/cli/json.hpp"
#include "analysis/pedal_test.hpp"

namespace clearstroke {

/// Judged by `rule`; by none where none is held.
[[nodiscard]] Acceptance pedal_verdict(const PedalTest&, const Network&, const AcceptanceRule* rule);

[[nodiscard]] Json pedal_test_json(const PedalTest&, const Network&, const AcceptanceRule* rule);

} // namespace clearstroke
