// Every check names a source of the bibliography, where in it, how far it was verified, and why its
// tolerance.
#include <algorithm>
#include <fstream>
#include <iterator>
#include <string>

#include "tests/published/check.hpp"

namespace clearstroke::published {
namespace {

TEST(PublishedSources, AreInTheBibliographyAndGraded) {
    std::ifstream file("docs/references.bib");
    const std::string bibliography{std::istreambuf_iterator<char>(file), {}};
    ASSERT_FALSE(bibliography.empty());
    const std::vector<std::string> grades{"verified in the text", "secondary", "from memory",
                                          "common practice"};
    for (const PublishedCheck& c : all_checks()) {
        SCOPED_TRACE(c.what);
        EXPECT_NE(bibliography.find("{" + c.source_key + ","), std::string::npos) << c.source_key;
        EXPECT_TRUE(std::ranges::find(grades, c.grade) != grades.end()) << c.grade;
        EXPECT_FALSE(c.place.empty());
        EXPECT_FALSE(c.unit.empty());
        EXPECT_FALSE(c.reason.empty());
        EXPECT_TRUE(std::isfinite(c.computed) && std::isfinite(c.published) && c.tolerance >= 0.0);
    }
}

TEST(PublishedSources, AreToldOnce) {
    std::vector<std::string> seen;
    for (const PublishedCheck& c : all_checks()) seen.push_back(c.source_key + ": " + c.what);
    std::ranges::sort(seen);
    EXPECT_EQ(std::ranges::adjacent_find(seen), seen.end());
}

// The helper must be able to fail.
TEST(PublishedCheck, HoldsOnlyWithinItsTolerance) {
    PublishedCheck c{"", "", "", "", "", 10.0, 10.4, 0.5, ""};
    EXPECT_TRUE(holds(c));
    c.computed = 10.6;
    EXPECT_FALSE(holds(c));
    c.relation = Relation::at_least;
    EXPECT_TRUE(holds(c));
    c.relation = Relation::at_most;
    EXPECT_FALSE(holds(c));
    c.computed = 9.0;
    EXPECT_TRUE(holds(c));
    c.relation = Relation::at_least;
    EXPECT_FALSE(holds(c));
    c.computed = std::nan("");
    EXPECT_FALSE(holds(c));
}

} // namespace
} // namespace clearstroke::published
