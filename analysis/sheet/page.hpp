#pragma once
/// The page itself: script, style and text of the sheet are built into the program; data goes in as JSON.
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include <nlohmann/json.hpp>

namespace clearstroke {

/// A file of analysis/sheet that was built into the program.
struct SheetAsset {
    std::string_view name, text;
};
[[nodiscard]] std::optional<std::string_view> find_sheet_asset(std::string_view name);
/// Languages that there is a catalogue of text for: "en".
[[nodiscard]] std::vector<std::string> sheet_languages();

/// A page in one file: opens from disk, asks no network. Whatever stands in `data` is text, never markup.
[[nodiscard]] std::string sheet_page(const nlohmann::ordered_json& data, const std::string& language);

} // namespace clearstroke
