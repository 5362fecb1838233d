// Job records: read with units, refused with places, written to be filled in.
#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include "scenarios/record.hpp"

namespace clearstroke::testing {
namespace {

using ::testing::HasSubstr;

TEST(JobRecord, TemplateIsARecordWithNothingInIt) {
    const JobRecord r = parse_record(record_template({"LF", "RF"}, {"LF hose"}), "job.toml");
    EXPECT_TRUE(r.travel.empty());
    EXPECT_TRUE(r.clamped.empty());
    EXPECT_FALSE(r.bubbles || r.wet || r.torque_done);
    ASSERT_EQ(r.screws.size(), 2u);
    EXPECT_EQ(r.screws[1].name, "RF");
    EXPECT_FALSE(r.screws[1].strokes);
    EXPECT_DOUBLE_EQ(*r.number("gauge.force_error"), 0.05);
    EXPECT_FALSE(r.number("hold.sink"));
}

TEST(JobRecord, FilledInValuesAreSI) {
    const JobRecord r = parse_record(R"(
done_by = "first person"
torque_done = true
[fluid]
grade = "DOT 4"
[travel]
"50 lbf" = "2 in"
"100 N" = "35 mm"
[hold]
seconds = "1 min"
sink = "3 mm"
lost = "2 mL"
[clamped.travel]
"LF hose" = "4 cm"
[seen]
bubbles = "did not decline"
wet = false
[[screws]]
name = "LF"
strokes = 9
last_bubble = 4
fluid = "60 mL"
)",
                                     "job.toml");
    ASSERT_EQ(r.travel.size(), 2u);
    EXPECT_DOUBLE_EQ(r.travel[0].first, 100.0); // by rising force
    EXPECT_NEAR(r.travel[1].first, 222.4, 0.05);
    EXPECT_DOUBLE_EQ(r.travel[1].second, 0.0508);
    EXPECT_DOUBLE_EQ(*r.number("hold.seconds"), 60.0);
    EXPECT_NEAR(*r.number("hold.lost"), 2e-6, 1e-18);
    EXPECT_EQ(r.clamped[0].first, "LF hose");
    EXPECT_EQ(*r.bubbles, "did not decline");
    EXPECT_FALSE(*r.wet);
    EXPECT_TRUE(*r.torque_done);
    EXPECT_EQ(*r.screws[0].last_bubble, 4);
    EXPECT_EQ(r.facts.size(), 2u);
}

TEST(JobRecord, CountsAndTruthsMayStandBetweenTheQuotesOfTheTemplate) {
    const JobRecord r =
        parse_record("[seen]\nwet = \"false\"\n[[screws]]\nname = \"LF\"\nstrokes = \"9\"\n", "job.toml");
    EXPECT_FALSE(r.wet.value_or(true));
    EXPECT_EQ(r.screws[0].strokes.value_or(0), 9);
}

std::string message(const std::string& text) {
    try {
        (void)parse_record(text, "job.toml");
    } catch (const ScenarioError& e) {
        return e.what();
    }
    return "accepted";
}

TEST(JobRecord, WhatIsWrongIsSaidWithItsPlace) {
    EXPECT_THAT(message("[travel]\n\"200 N\" = \"41\"\n"),
                HasSubstr("job.toml:2:11: travel.200 N: is not a quantity in mm"));
    EXPECT_THAT(message("[travel]\n\"200 mm\" = \"41 mm\"\n"), HasSubstr("is not a force"));
    EXPECT_THAT(message("[hold]\nsinc = \"1 mm\"\n"), HasSubstr("did you mean \"hold.sink\""));
    EXPECT_THAT(message("[seen]\nbubbles = \"many\"\n"),
                HasSubstr("allowed: none, declined, did not decline"));
    EXPECT_THAT(message("[seen]\nwet = \"yes\"\n"), HasSubstr("is not true or false"));
    for (const char* count : {"-1", "\"9 or 10\"", "\"99999999999999999999\""})
        EXPECT_THAT(message(std::string("[[screws]]\nname = \"LF\"\nstrokes = ") + count + "\n"),
                    HasSubstr("is not a count"));
    EXPECT_THAT(message("done_by = 3\n"), HasSubstr("is not text"));
    EXPECT_THAT(message("[hold]\nsink = \"-1 mm\"\n"), HasSubstr("zero or more"));
}

} // namespace
} // namespace clearstroke::testing
