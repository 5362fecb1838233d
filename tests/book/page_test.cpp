// The book's own machinery must be able to fail.
#include "tests/book/page.hpp"

#include <gmock/gmock.h>

#include <sstream>

namespace clearstroke::book {
namespace {

using ::testing::HasSubstr;
using ::testing::IsEmpty;
using ::testing::Not;
using ::testing::SizeIs;

Check sample() {
    return {"a length", "someone2000", "table 1",    Grade::verified,  "m",     10.0,
            10.4,       0.5,           "last digit", Relation::equals, "Fluids"};
}

TEST(Page, CheckHoldsOnlyWithinItsTolerance) {
    Check c = sample();
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

TEST(Page, RecordsSurviveTheirFile) {
    std::stringstream file;
    write_record(file, sample());
    const std::vector<Check> back = read_records(file);
    ASSERT_EQ(back.size(), 1u);
    EXPECT_EQ(page_lines(back), page_lines({sample()}));
    EXPECT_EQ(back[0].computed, 10.4);
    std::istringstream broken("Fluids\ta length\n");
    EXPECT_THROW((void)read_records(broken), std::runtime_error);
}

TEST(Page, IsCurrentOnlyWhileItSaysWhatTheChecksSay) {
    const std::vector<std::string> page = page_lines({sample()});
    EXPECT_THAT(stale_lines({sample()}, page), IsEmpty());
    Check c = sample();
    c.computed = 10.42; // less than a tenth of the tolerance
    EXPECT_THAT(stale_lines({c}, page), IsEmpty());
    c.computed = 10.2;
    EXPECT_THAT(stale_lines({c}, page), SizeIs(1));
    c = sample();
    c.expected = 10.1;
    EXPECT_THAT(stale_lines({c}, page), SizeIs(1));
    c = sample();
    c.reason = "another";
    EXPECT_THAT(stale_lines({c}, page), SizeIs(1));
    EXPECT_THAT(stale_lines({sample(), sample()}, page), Not(IsEmpty()));
    EXPECT_THAT(stale_lines({}, page), Not(IsEmpty()));
}

TEST(Page, CountsByGradeStandAtTheTop) {
    Check other = sample();
    other.grade = Grade::memory;
    const std::vector<std::string> page = page_lines({sample(), sample(), other});
    const std::string top = page[6] + page[11] + page[13];
    EXPECT_THAT(top, HasSubstr("3 checks"));
    EXPECT_THAT(top, HasSubstr("verified in the text | 2 |"));
    EXPECT_THAT(top, HasSubstr("from memory | 1 |"));
}

TEST(Page, FaultsOfRecordsAreFound) {
    const std::set<std::string> known = keys_of("@book{someone2000,\n title = {T}}\n@misc{other,\n}");
    EXPECT_EQ(known, (std::set<std::string>{"someone2000", "other"}));
    const auto count_of = [&](Check c) {
        return faults({std::move(c)}, known).size() - 2;
    }; // too few checks, twice
    EXPECT_EQ(count_of(sample()), 0u);
    Check c = sample();
    c.chapter = "Elsewhere";
    EXPECT_EQ(count_of(c), 1u);
    c = sample();
    c.source = "unknown1999";
    EXPECT_EQ(count_of(c), 1u);
    c.source = "";
    EXPECT_EQ(count_of(c), 1u);
    c.grade = Grade::exact;
    EXPECT_EQ(count_of(c), 0u);
    c = sample();
    c.reason = "";
    EXPECT_EQ(count_of(c), 1u);
    c = sample();
    c.computed = std::nan("");
    EXPECT_EQ(count_of(c), 1u);
    EXPECT_EQ(faults({sample(), sample()}, known).size(), 3u);
}

} // namespace
} // namespace clearstroke::book
