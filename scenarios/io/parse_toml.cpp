#include "scenarios/io/parse_toml.hpp"

#include <algorithm>
#include <cctype>

#include <fmt/format.h>

#include "scenarios/io/toml_text.hpp"

namespace clearstroke {
namespace {

constexpr std::string_view allowed = "allowed: KEY = VALUE, [TABLE], [[LIST]]";

/// Can a table's name begin with what follows the brackets of `line`? toml++ 3.3 takes that for granted.
bool header_is_sound(std::string_view line) {
    const auto first = line.find_first_not_of(" \t");
    if (first == std::string_view::npos || line[first] != '[') return true;
    line.remove_prefix(first + (line.substr(first).starts_with("[[") ? 2 : 1));
    const auto name = line.find_first_not_of(" \t");
    if (name == std::string_view::npos) return false;
    const auto c = static_cast<unsigned char>(line[name]);
    return std::isalnum(c) || c >= 0x80 ||
           std::string_view("_-\"']").find(line[name]) != std::string_view::npos;
}

/// Line, from 1, of the first table header that is none.
std::optional<int> unsound_header(std::string_view text) {
    for (int line = 1; !text.empty(); ++line) {
        const auto end = std::min(text.find('\n'), text.size());
        if (!header_is_sound(text.substr(0, end))) return line;
        text.remove_prefix(std::min(end + 1, text.size()));
    }
    return std::nullopt;
}

} // namespace

std::optional<toml::table> parse_toml(std::string_view text, const std::string& file,
                                      std::vector<ScenarioFault>& faults) {
    if (const auto line = unsound_header(text)) {
        faults.push_back({file, *line, 1, "", fmt::format("not TOML: a table without a name; {}", allowed)});
        return std::nullopt;
    }
    try {
        return toml::parse(text, file);
    } catch (const toml::parse_error& error) {
        const auto at = error.source().begin;
        faults.push_back({file, int(at.line), int(at.column), "",
                          fmt::format("not TOML: {}; {}", error.description(), allowed)});
        return std::nullopt;
    }
}

std::optional<toml::table> parse_override(std::string_view text, const Place& at,
                                          std::vector<ScenarioFault>& faults) {
    const auto equals = text.find('=');
    if (equals == std::string_view::npos) {
        faults.push_back({at.file, at.line, at.column, std::string(text), "no value; allowed: KEY=VALUE"});
        return std::nullopt;
    }
    const std::string key(text.substr(0, equals)), value(text.substr(equals + 1));
    std::vector<ScenarioFault> ignored;
    for (const std::string& written : {value, toml_string(value)})
        if (auto tree = parse_toml(key + " = " + written, at.file, ignored)) return tree;
    faults.push_back({at.file, at.line, at.column, std::string(text),
                      "not a key and a value; allowed: KEY=VALUE, a name with spaces in quotes, such as "
                      "volumes.\"LF caliper\".gas=1 mL"});
    return std::nullopt;
}

} // namespace clearstroke
