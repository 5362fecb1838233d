// The page as text: nothing of the data can become markup, nothing points outside.
#include "analysis/sheet/page.hpp"

#include <gmock/gmock.h>

namespace clearstroke {
namespace {

using nlohmann::ordered_json;
using ::testing::HasSubstr;
using ::testing::Not;

std::string page_of(const std::string& title) {
    return sheet_page(ordered_json{{"scenario", {{"title", title}}}}, "en");
}

std::string between(const std::string& text, const std::string& from, const std::string& to) {
    const auto begin = text.find(from) + from.size();
    return text.substr(begin, text.find(to, begin) - begin);
}

TEST(Page, DataGoesInAsTextOnly) {
    const std::string page = page_of("</script><script>alert(1)</script><!-- & \u2028");
    EXPECT_THAT(page, Not(HasSubstr("alert(1)</script>")));
    EXPECT_THAT(between(page, "<title>", "</title>"), HasSubstr("&lt;/script&gt;"));
    const std::string data = between(page, "id=\"data\">", "</script>");
    EXPECT_EQ(data.find_first_of("<>&"), std::string::npos);
    EXPECT_EQ(ordered_json::parse(data)["scenario"]["title"],
              "</script><script>alert(1)</script><!-- & \u2028");
}

TEST(Page, HoldsBrokenBytesAsWellFormedText) {
    const std::string data = between(page_of("bad \xff byte"), "id=\"data\">", "</script>");
    EXPECT_TRUE(ordered_json::accept(data));
}

TEST(Page, PointsToNoPlaceOutside) {
    const std::string page = page_of("x");
    EXPECT_THAT(page, HasSubstr("default-src 'none'"));
    for (const char* outside : {"<link", "src=\"", "href=\"", "@import", "url("})
        EXPECT_THAT(between(page, "<head>", "<noscript>"), Not(HasSubstr(outside)));
}

TEST(Page, LanguagesAreThoseWithACatalogue) { EXPECT_THAT(sheet_languages(), ::testing::Contains("en")); }

} // namespace
} // namespace clearstroke
