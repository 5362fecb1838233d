#pragma once
/// TOML text to a tree, with faults of the project's kind. Internal to scenarios/io.
#include <optional>
#include <string_view>
#include <vector>

#include <toml++/toml.h>

#include "scenarios/io/document.hpp"

namespace clearstroke {

/// The tree, or a fault noted.
[[nodiscard]] std::optional<toml::table> parse_toml(std::string_view text, const std::string& file,
                                                    std::vector<ScenarioFault>& faults);

/// "key.path=value" as a tree; a value that is no TOML is taken as text. Faults are at `at`.
[[nodiscard]] std::optional<toml::table> parse_override(std::string_view text, const Place& at,
                                                        std::vector<ScenarioFault>& faults);

} // namespace clearstroke
