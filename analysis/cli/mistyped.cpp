#include "analysis/cli/mistyped.hpp"

#include <algorithm>
#include <vector>

#include <fmt/format.h>
#include <fmt/ranges.h>

#include "scenarios/io/document.hpp"

namespace clearstroke {

std::optional<std::string> unknown_command(const CLI::App& app, const std::string& first) {
    if (first.empty() || first.front() == '-') return std::nullopt;
    std::vector<std::string> known;
    for (const CLI::App* command : app.get_subcommands([](const CLI::App*) { return true; }))
        known.push_back(command->get_name());
    if (std::ranges::find(known, first) != known.end()) return std::nullopt;
    const std::string near = nearest(first, known);
    return fmt::format("{}: there is no such command; {}allowed: {}", first,
                       near.empty() ? "" : fmt::format("did you mean \"{}\"? ", near),
                       fmt::join(known, ", "));
}

std::string near_options(const CLI::App& app) {
    std::string text;
    for (const CLI::App* command : app.get_subcommands()) {
        std::vector<std::string> known;
        for (const CLI::Option* option : command->get_options())
            known.insert(known.end(), option->get_lnames().begin(), option->get_lnames().end());
        for (const std::string& given : command->remaining()) {
            if (!given.starts_with("--")) continue;
            const std::string name = given.substr(2, given.find('=') - 2), near = nearest(name, known);
            if (!near.empty()) text += fmt::format("did you mean --{} for --{}?\n", near, name);
        }
    }
    return text;
}

} // namespace clearstroke
