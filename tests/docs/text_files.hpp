#pragma once
/// Text of the project's files, for tests that compare documentation with code.
#include <filesystem>
#include <regex>
#include <set>
#include <string>
#include <vector>

namespace clearstroke::docs {

[[nodiscard]] std::string text_of(const std::filesystem::path&);
[[nodiscard]] std::vector<std::string> lines_of(const std::string& text);

/// Files below a folder (or the one named) with this extension, in order of their names.
[[nodiscard]] std::vector<std::filesystem::path> files_in(const std::filesystem::path&,
                                                          const std::string& extension);

/// First groups of all matches.
[[nodiscard]] std::vector<std::string> matches(const std::string& text, const std::regex&);

} // namespace clearstroke::docs
