#pragma once
/// A file as text.
#include <filesystem>
#include <string>

namespace clearstroke {

/// Throws std::filesystem::filesystem_error with the system's reason when it cannot be read.
[[nodiscard]] std::string text_of_file(const std::filesystem::path&);

} // namespace clearstroke
