// Exit statuses and messages; nothing half-written is left behind.
#include <filesystem>

#include <gmock/gmock.h>

#include "tests/cli/process.hpp"

namespace clearstroke::testing {
namespace {

using ::testing::HasSubstr;
using ::testing::MatchesRegex;
using ::testing::Not;

const std::string small = "scenarios/port_below_pocket.toml";

TEST(Status, IsTwoForABrokenFileThatIsNamedByLineAndKey) {
    int files = 0;
    for (const auto& entry : std::filesystem::directory_iterator("tests/scenarios/broken")) {
        if (entry.path().extension() != ".toml") continue;
        const Ran ran = run("orders '" + entry.path().string() + "'");
        EXPECT_EQ(ran.status, 2) << entry.path();
        EXPECT_EQ(ran.out, "") << entry.path();
        EXPECT_THAT(ran.err.substr(0, ran.err.find('\n')),
                    MatchesRegex(entry.path().string() + ":[0-9]+:[0-9]+: .*(allowed|known here).*"));
        ++files;
    }
    EXPECT_GE(files, 20);
}

TEST(Status, IsTwoForAWrongRequest) {
    for (const char* wrong :
         {"", "guess x.toml", "orders", "orders scenarios/minimal.toml --colour",
          "bleed scenarios/minimal.toml --set", "bleed scenarios/minimal.toml --set nokey=1",
          "orders scenarios/minimal.toml --cost money", "orders scenarios/minimal.toml --list \"LF,XX\"",
          "bleed scenarios/minimal.toml --method magic", "pedal scenarios/minimal.toml --rule 1"}) {
        const Ran ran = run(wrong);
        EXPECT_EQ(ran.status, 2) << wrong;
        EXPECT_EQ(ran.out, "") << wrong;
        EXPECT_NE(ran.err, "") << wrong;
    }
}

TEST(Status, IsFourForAFileThatIsNotThereAndSaysSo) {
    for (const char* command : {"inspect", "bleed", "orders --quick", "pedal", "compare", "guide --quick"}) {
        const Ran ran = run(std::string(command) + " none.toml");
        EXPECT_EQ(ran.status, 4) << command;
        EXPECT_THAT(ran.err, HasSubstr("none.toml: No such file or directory"));
    }
    EXPECT_THAT(run("bleed scenarios").err, HasSubstr("Is a directory"));
}

TEST(Status, IsFourForAnOutputThatCannotBeWritten) {
    for (const std::string& command :
         {"bleed " + small + " -o /nowhere/at/all.txt", "bleed " + small + " > /dev/full",
          "bleed " + small + " -o /dev/full", std::string("new /nowhere/at/all.toml")})
        EXPECT_EQ(run(command).status, 4) << command;
}

TEST(Status, IsFourForAPipeThatIsClosed) {
    const Ran ran = shell("{ \"$CS\" bleed " + small + " --json; echo $? >&2; } | true");
    EXPECT_THAT(ran.err, HasSubstr("4"));
}

TEST(Output, IsWholeOrNotThere) {
    const Folder folder;
    const std::string out = folder.file("out.json");
    const Ran killed =
        shell("timeout -s KILL 0.3 \"$CS\" orders scenarios/dry_system.toml --json -o '" + out + "'");
    EXPECT_EQ(killed.status, 137);
    EXPECT_FALSE(std::filesystem::exists(out));
    EXPECT_EQ(run("bleed " + small + " --json -o '" + out + "'").status, 0);
    EXPECT_TRUE(folder.holds_only("out.json"));
}

TEST(New, NeverOverwritesAndItsFileIsAccepted) {
    const Folder folder;
    const std::string file = folder.file("my_car.toml");
    ASSERT_EQ(run("new '" + file + "' --renewed \"LF caliper\" < /dev/null").status, 0);
    EXPECT_EQ(run("new '" + file + "'").status, 4);
    EXPECT_EQ(run("inspect '" + file + "' --expand").status, 0);
}

TEST(Help, StandsBehindEveryCommand) {
    EXPECT_EQ(run("--help").status, 0);
    EXPECT_THAT(run("--version").out, MatchesRegex("[0-9]+\\.[0-9]+\\.[0-9]+\n"));
    for (const char* command : {"inspect", "bleed", "orders", "compare", "pedal", "study", "guide", "new"})
        EXPECT_EQ(run(std::string(command) + " --help").status, 0) << command;
}

TEST(Words, ZeroHasNoSignAndCountsAgree) {
    EXPECT_THAT(run("pedal " + small).out, Not(HasSubstr("-0.00")));
    const std::string screen = run("orders " + small + " --quick").out;
    EXPECT_THAT(screen, HasSubstr("1 order of 1 screw;"));
    EXPECT_THAT(screen, HasSubstr("One order: it takes "));
}

} // namespace
} // namespace clearstroke::testing
