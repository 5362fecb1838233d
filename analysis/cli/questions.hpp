#pragma once
/// Asks on a terminal what a starter scenario needs: the layout, the work, and the sizes that matter.
#include <iosfwd>
#include <string>

#include "scenarios/starter.hpp"

namespace clearstroke {

/// Asks until every answer is understood; an empty answer takes what stands in brackets. Returns the text of
/// the scenario. Throws RequestError when the answers end too early.
[[nodiscard]] std::string ask_for_scenario(StarterChoices, std::istream& in, std::ostream& out);

} // namespace clearstroke
