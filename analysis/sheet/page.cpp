#include "analysis/sheet/page.hpp"

#include <algorithm>
#include <span>
#include <stdexcept>

#include <fmt/format.h>

namespace clearstroke {

std::span<const SheetAsset> sheet_assets(); // written by embed.cmake

namespace {

std::string_view asset(std::string_view name) {
    const auto text = find_sheet_asset(name);
    if (!text) throw std::logic_error(fmt::format("no sheet asset {}", name));
    return *text;
}

// JSON that a script element can hold: no character that could end it.
std::string embedded(const nlohmann::ordered_json& json) {
    std::string text;
    for (const char c : json.dump(-1, ' ', true, nlohmann::ordered_json::error_handler_t::replace)) {
        if (c == '<' || c == '>' || c == '&')
            text += fmt::format("\\u{:04x}", static_cast<unsigned>(c));
        else
            text += c;
    }
    return text;
}

std::string escaped(const std::string& text) {
    std::string out;
    for (const char c : text) {
        if (c == '<')
            out += "&lt;";
        else if (c == '>')
            out += "&gt;";
        else if (c == '&')
            out += "&amp;";
        else
            out += c;
    }
    return out;
}

} // namespace

std::optional<std::string_view> find_sheet_asset(std::string_view name) {
    const auto all = sheet_assets();
    const auto found = std::ranges::find(all, name, &SheetAsset::name);
    return found == all.end() ? std::nullopt : std::optional(found->text);
}

std::vector<std::string> sheet_languages() {
    std::vector<std::string> languages;
    for (const SheetAsset& a : sheet_assets())
        if (a.name.starts_with("text/")) languages.emplace_back(a.name.substr(5, a.name.size() - 10));
    return languages;
}

std::string sheet_page(const nlohmann::ordered_json& data, const std::string& language) {
    const auto text = nlohmann::ordered_json::parse(asset("text/" + language + ".json"));
    const std::string title = data.at("scenario").at("title").get<std::string>();
    std::string page;
    const auto add = [&page](auto&&... parts) { ((page += parts), ...); };
    add("<!doctype html>\n<html lang=\"", language, "\">\n<head>\n<meta charset=\"utf-8\">\n",
        "<meta name=\"viewport\" content=\"width=device-width, initial-scale=1\">\n",
        "<meta http-equiv=\"Content-Security-Policy\" content=\"default-src 'none'; script-src 'sha256-",
        asset("bundle/sheet.sha256"), "'; style-src 'unsafe-inline'; img-src data:\">\n", "<title>",
        escaped(title), "</title>\n<style>\n", asset("src/style.css"),
        "</style>\n</head>\n<body>\n<noscript>", escaped(text.at("noscript").get<std::string>()),
        "</noscript>\n", "<script type=\"text/plain\" id=\"licences\">\n", asset("bundle/licences.txt"),
        "</script>\n", "<script type=\"application/json\" id=\"text\">", embedded(text), "</script>\n",
        "<script type=\"application/json\" id=\"data\">", embedded(data), "</script>\n", "<script>",
        asset("bundle/sheet.js"), "</script>\n</body>\n</html>\n");
    return page;
}

} // namespace clearstroke
