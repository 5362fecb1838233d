// Links between pages lead somewhere, and commands named in them are those of the program.
#include "tests/docs/text_files.hpp"

namespace clearstroke::docs {
namespace {

std::vector<std::filesystem::path> pages() {
    std::vector<std::filesystem::path> out = files_in("docs", ".md");
    for (const char* top : {"README.md", "DEVELOPERS.md"}) out.emplace_back(top);
    return out;
}

/// Anchor of a heading, as renderers of Markdown make it.
std::string anchor_of(const std::string& heading) {
    std::string out;
    for (const char c : heading) {
        if (std::isalnum(static_cast<unsigned char>(c)) || c == '-' || c == '_')
            out += static_cast<char>(std::tolower(static_cast<unsigned char>(c)));
        else if (c == ' ')
            out += '-';
    }
    return out;
}

std::set<std::string> anchors_of(const std::filesystem::path& page) {
    std::set<std::string> out;
    for (const std::string& heading : matches(text_of(page), std::regex("(?:^|\\n)#+ +([^\\n]+)")))
        out.insert(anchor_of(heading));
    return out;
}

TEST(Links, LeadToFilesAndHeadings) {
    int seen = 0;
    for (const auto& page : pages())
        for (const std::string& link : matches(text_of(page), std::regex("\\]\\(([^)\\s]+)\\)"))) {
            if (link.find("://") != std::string::npos) continue;
            ++seen;
            const std::size_t hash = link.find('#');
            const std::string file = link.substr(0, hash);
            const std::filesystem::path target = file.empty() ? page : page.parent_path() / file;
            ASSERT_TRUE(std::filesystem::exists(target)) << page << " links to " << link;
            if (hash == std::string::npos) continue;
            EXPECT_TRUE(anchors_of(target).contains(link.substr(hash + 1))) << page << " links to " << link;
        }
    EXPECT_GT(seen, 20);
}

TEST(Links, EveryPageIsReachedFromTheIndex) {
    const std::string index = text_of("docs/index.md");
    for (const auto& page : files_in("docs", ".md")) {
        const std::string name = std::filesystem::relative(page, "docs").generic_string();
        if (name == "index.md") continue;
        EXPECT_NE(index.find("(" + name + ")"), std::string::npos) << name << " is not in docs/index.md";
    }
}

TEST(Links, NamedScenariosAndScriptsExist) {
    for (const auto& page : pages())
        for (const std::string& file :
             matches(text_of(page), std::regex("\\b((?:scenarios|tests)/[a-z_0-9]+\\.(?:toml|sh))\\b")))
            EXPECT_TRUE(std::filesystem::exists(file)) << page << " names " << file;
}

TEST(Links, CommandsAreThoseOfTheProgram) {
    const std::string program = text_of("analysis/cli/main.cpp");
    std::set<std::string> commands, options;
    for (const std::string& c : matches(program, std::regex("add_subcommand\\(\"([a-z]+)\"")))
        commands.insert(c);
    for (const std::string& o : matches(program, std::regex("(--[a-z]+)[,\"]"))) options.insert(o);
    options.insert({"--help", "--version"});
    ASSERT_GE(commands.size(), 6u);
    for (const auto& page : pages())
        for (const std::string& line :
             matches(text_of(page), std::regex("(?:^|\\n)(?:build/)?clearstroke ([^\\n]+)"))) {
            const std::string command = line.substr(0, line.find(' '));
            EXPECT_TRUE(commands.contains(command) || options.contains(command)) << page << ": " << line;
            for (const std::string& o : matches(line.substr(0, line.find(" #")), std::regex("(--[a-z]+)")))
                EXPECT_TRUE(options.contains(o)) << page << ": " << o << " in " << line;
        }
}

} // namespace
} // namespace clearstroke::docs
