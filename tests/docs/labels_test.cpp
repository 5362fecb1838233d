// The model book and the code name the same equations, and every page names headers and sources that exist.
#include <algorithm>
#include <map>

#include "tests/docs/text_files.hpp"

namespace clearstroke::docs {
namespace {

const std::regex label("\\(([A-Z]-[0-9]+)\\)");
// An equation stands on an indented line of a page, with two spaces or more before its label.
const std::regex equation("(?:^|\\n) {4}[^\\n]*  \\(([A-Z]-[0-9]+)\\)");
const std::regex header_equation("///  [^\\n]*  \\(([A-Z]-[0-9]+)\\)");
const std::regex header_name("`((?:models|sim)/[a-z_0-9]+\\.hpp)`");
const std::regex key("\\b([a-z][a-z_]*(?:18|19|20)[0-9]{2}|cfr[0-9]+_[0-9]+)\\b");

std::string title_of(const std::string& page) { return page.substr(0, page.find('\n')); }

/// Label to the files that state its equation.
using Places = std::map<std::string, std::set<std::string>>;

Places stated_in_pages() {
    Places out;
    for (const auto& path : files_in("docs/model", ".md"))
        for (const std::string& name : matches(text_of(path), equation)) out[name].insert(path.string());
    return out;
}

Places mentioned_in_headers() {
    Places out;
    for (const char* layer : {"models", "sim"})
        for (const auto& path : files_in(layer, ".hpp"))
            for (const std::string& name : matches(text_of(path), label)) out[name].insert(path.string());
    return out;
}

std::set<std::string> names(const Places& places) {
    std::set<std::string> out;
    for (const auto& [name, files] : places) out.insert(name);
    return out;
}

TEST(ModelBook, StatesTheEquationsOfTheHeadersAndNoOthers) {
    const std::set<std::string> pages = names(stated_in_pages());
    ASSERT_GT(pages.size(), 40u);
    EXPECT_EQ(pages, names(mentioned_in_headers()));
}

TEST(ModelBook, StatesEachEquationOnOnePage) {
    for (const auto& [name, pages] : stated_in_pages())
        EXPECT_EQ(pages.size(), 1u) << name << " stands on " << testing::PrintToString(pages);
}

TEST(ModelBook, EachLabelHasOneHomeInTheCode) {
    Places homes;
    for (const char* layer : {"models", "sim"})
        for (const auto& path : files_in(layer, ".hpp"))
            for (const std::string& name : matches(text_of(path), header_equation))
                homes[name].insert(path.string());
    ASSERT_GT(homes.size(), 40u);
    for (const auto& [name, headers] : homes)
        EXPECT_EQ(headers.size(), 1u) << name << " is stated in " << testing::PrintToString(headers);
}

TEST(ModelBook, PagesNameTheHeadersOfTheirEquations) {
    const Places headers = mentioned_in_headers();
    for (const auto& path : files_in("docs/model", ".md")) {
        const std::string page = text_of(path);
        const std::vector<std::string> named = matches(title_of(page), header_name);
        ASSERT_FALSE(named.empty()) << path << " names no header in its title";
        for (const std::string& header : named)
            EXPECT_TRUE(std::filesystem::exists(header)) << path << " names " << header;
        for (const std::string& name : matches(page, equation)) {
            const auto found = headers.find(name);
            const bool home = found != headers.end() && std::ranges::any_of(named, [&](const auto& h) {
                                  return found->second.contains(h);
                              });
            EXPECT_TRUE(home) << path << ": " << name << " is in none of the headers of its title";
        }
    }
}

TEST(ModelBook, SourcesAreInTheBibliography) {
    std::set<std::string> known;
    for (const std::string& k : matches(text_of("docs/references.bib"), std::regex("\\n@[a-z]+\\{([^,]+),")))
        known.insert(k);
    ASSERT_GT(known.size(), 20u);
    for (const auto& path : files_in("docs/model", ".md"))
        for (const std::string& k : matches(text_of(path), key))
            EXPECT_TRUE(known.contains(k)) << path << " cites " << k;
}

} // namespace
} // namespace clearstroke::docs
