#pragma once
/// Evidence by sampling on the screen and in the JSON document.
#include "analysis/cli/json.hpp"
#include "analysis/cli/text.hpp"
#include "analysis/evidence.hpp"

namespace clearstroke {

/// The finding, what drives it, and a row for each of the first `most` alternatives (0: all).
[[nodiscard]] Lines evidence_lines(const Evidence&, const std::vector<std::string>& names, std::size_t most);

[[nodiscard]] Json evidence_json(const Evidence&, const std::vector<std::string>& names, std::uint64_t seed);

} // namespace clearstroke
