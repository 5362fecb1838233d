#pragma once
/// Texts as TOML strings.
#include <string>
#include <string_view>
#include <vector>

namespace clearstroke {

/// The text in quotes, with what TOML wants escaped.
[[nodiscard]] inline std::string toml_string(std::string_view text) {
    std::string out = "\"";
    for (const char c : text) {
        if (c == '\n') {
            out += "\\n";
            continue;
        }
        if (c == '"' || c == '\\') out += '\\';
        out += c;
    }
    return out + "\"";
}

[[nodiscard]] inline std::string toml_list(const std::vector<std::string>& texts) {
    std::string out = "[";
    for (const std::string& text : texts) out += (out.size() > 1 ? ", " : "") + toml_string(text);
    return out + "]";
}

} // namespace clearstroke
