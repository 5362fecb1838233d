#pragma once
/// A headless browser that prints a page.
#include <optional>
#include <string>

namespace clearstroke {

/// Path of the first browser on this machine that can print without a window.
[[nodiscard]] std::optional<std::string> find_browser();

/// Prints a page file into a PDF. Throws RequestError without a browser, WriteError when it fails.
void print_page(const std::string& page, const std::string& pdf);

} // namespace clearstroke
