#pragma once
/// Commands and options that the program does not have, with the nearest that it has.
#include <optional>
#include <string>

#include <CLI/CLI.hpp>

namespace clearstroke {

/// What is wrong with the first argument, if it stands where a command should and is none.
[[nodiscard]] std::optional<std::string> unknown_command(const CLI::App&, const std::string& first);

/// "did you mean --list for --lst?", a line for each unknown option of the command given that has a near one.
[[nodiscard]] std::string near_options(const CLI::App&);

} // namespace clearstroke
