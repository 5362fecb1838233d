#pragma once
/// The explicit form of a scenario: every part and connection with its numbers in SI.
#include <string>

#include "scenarios/build/inputs.hpp"
#include "sim/parameter.hpp"

namespace clearstroke {

/// TOML whose reading gives `scenario`, the Case at the usual values, bit by bit.
[[nodiscard]] std::string explicit_toml(const Document&, const Noted&, const Case& scenario);

} // namespace clearstroke
