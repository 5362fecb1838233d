// The commands: a record is written, filled in, read against the model, in text and JSON.
#include <sstream>

#include <gmock/gmock.h>
#include <gtest/gtest.h>
#include <nlohmann/json.hpp>

#include "analysis/cli/commands.hpp"
#include "tests/folder.hpp"

namespace clearstroke::testing {
namespace {

using ::testing::HasSubstr;
using ::testing::StartsWith;

class PedalCommand : public ::testing::Test {
protected:
    Folder folder;

    std::string record(const std::string& text) const { return folder.file("job.toml", text); }
};

struct Ran {
    int status{};
    std::string out, err;
};

Ran pedal(const std::string& measured, bool json) {
    PedalArgs args;
    args.file = "scenarios/rear_drums.toml";
    args.measured = measured;
    args.json = json;
    std::ostringstream out, err;
    Ran ran;
    ran.status = run_pedal(args, out, err);
    ran.out = out.str();
    ran.err = err.str();
    return ran;
}

TEST_F(PedalCommand, NewWritesARecordThatHoldsNoReading) {
    NewArgs args;
    args.file = folder / "fresh.toml";
    args.record = true;
    args.scenario = "scenarios/rear_drums.toml";
    std::istringstream in;
    std::ostringstream out, err;
    ASSERT_EQ(run_new(args, in, out, err), exit_done) << err.str();
    const Ran ran = pedal(args.file, false);
    EXPECT_EQ(ran.status, exit_request);
    EXPECT_THAT(ran.err, HasSubstr("holds no reading of the pedal"));
}

TEST_F(PedalCommand, ASinkLeads) {
    const Ran ran = pedal(record("[travel]\n\"200 N\" = \"50 mm\"\n[hold]\nsink = \"12 mm\"\n"), false);
    ASSERT_EQ(ran.status, exit_done) << ran.err;
    EXPECT_THAT(ran.out, HasSubstr("\n\nDo not drive: the pedal sank 12.0 mm in 60 s.\n"));
    EXPECT_THAT(ran.out, HasSubstr("predicted from the others"));
    EXPECT_THAT(ran.out, HasSubstr("nobody beneath"));
}

TEST_F(PedalCommand, AFailedReserveLeads) {
    const Ran ran = pedal(record("[travel]\n\"200 N\" = \"130 mm\"\n"), false); // of 150 mm to the floor
    ASSERT_EQ(ran.status, exit_done) << ran.err;
    EXPECT_THAT(ran.out, HasSubstr("\n\nDo not drive: 130 mm at 200 N are more than 80 %"));
}

TEST_F(PedalCommand, JsonIsOneDocumentWhoseProbabilitiesAddUp) {
    const Ran ran = pedal(
        record("[travel]\n\"100 N\" = \"60 mm\"\n\"200 N\" = \"70 mm\"\n[seen]\nbubbles = \"declined\"\n"),
        true);
    ASSERT_EQ(ran.status, exit_done) << ran.err;
    const auto json = nlohmann::json::parse(ran.out);
    double sum = 0.0;
    for (const auto& set : json["sets"]) sum += double(set["probability"]);
    EXPECT_NEAR(sum, 1.0, 1e-4);
    EXPECT_EQ(json["readings"].size(), 2u);
    EXPECT_GT(json["next_tests"].size(), 3u);
    EXPECT_THAT(std::string(json["schema"]), StartsWith("clearstroke/diagnosis/"));
}

TEST_F(PedalCommand, AnUnknownHoseAndAMissingFileAreRefused) {
    const Ran hose = pedal(record("[clamped.travel]\n\"LX hose\" = \"30 mm\"\n"), false);
    EXPECT_EQ(hose.status, exit_request);
    EXPECT_THAT(hose.err, HasSubstr("no such hose; allowed: LF hose"));
    EXPECT_EQ(pedal(folder / "nowhere.toml", false).status, exit_file);
}

} // namespace
} // namespace clearstroke::testing
