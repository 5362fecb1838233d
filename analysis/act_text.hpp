#pragma once
/// Acts in words, as a row of a protocol names them.
#include <string>
#include <vector>

#include "sim/procedure.hpp"

namespace clearstroke {

/// "open the screw 0.50 turns", "press and hold", "turn LF caliper to 30 degrees".
[[nodiscard]] std::string describe(const Network&, const Act&);
/// Joined by commas; "nothing" when there are none.
[[nodiscard]] std::string describe(const Network&, const std::vector<Act>&);

/// What comes before the strokes at a screw: its acts, and its method where that is not the procedure's.
[[nodiscard]] std::vector<std::string> before_screw(const Network&, const Procedure&, ScrewId);

} // namespace clearstroke
