#pragma once
/// One TOML value against one row of the key table. Internal to scenarios/io.
#include <string>

#include <toml++/toml.h>

#include "scenarios/io/document.hpp"

namespace clearstroke {

/// Fills `entry`; returns what is wrong, empty when nothing is.
[[nodiscard]] std::string read_value(const toml::node&, const KeyRow&, Entry& entry);

} // namespace clearstroke
