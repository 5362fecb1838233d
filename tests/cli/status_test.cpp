// Exit statuses and messages; nothing half-written is left behind.
#include <algorithm>
#include <csignal>
#include <filesystem>

#include <gmock/gmock.h>

#include "tests/cli/process.hpp"
#include "tests/folder.hpp"

namespace clearstroke::testing {
namespace {

using ::testing::HasSubstr;
using ::testing::MatchesRegex;
using ::testing::Not;
using ::testing::StartsWith;

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

TEST(Status, NamesWhatWasMistypedAndTheNearest) {
    EXPECT_THAT(run("oders x.toml").err,
                HasSubstr("oders: there is no such command; did you mean \"orders\"?"));
    EXPECT_THAT(run("orders " + small + " --lst LF").err, HasSubstr("did you mean --list for --lst?"));
}

TEST(Status, FaultsOfAnOptionAreHeadedByIt) {
    EXPECT_THAT(run("bleed " + small + " --condition damp").err,
                StartsWith("--condition: \"damp\" is not one of the choices"));
    const std::string both = run("bleed " + small + " --condition dry --method sifon --set a=1").err;
    EXPECT_THAT(both, HasSubstr("--method: \"sifon\" is not one of the choices"));
    EXPECT_THAT(both, HasSubstr("--set:1:1: a: unknown key"));
}

TEST(Study, SaysWhatCannotBeWrittenOrRead) {
    const Folder folder;
    const std::string study = "scenarios/studies/bore.toml";
    const std::string empty = folder / "empty.h5";
    (void)shell(": > '" + empty + "'");
    const Ran nowhere = run("study " + study + " -o /nowhere/at/all.h5");
    EXPECT_EQ(nowhere.status, 4);
    EXPECT_EQ(nowhere.err, "/nowhere/at/all.h5: cannot be written there: No such file or directory\n");
    const Ran none = run("study " + study + " -o '" + empty + "'");
    EXPECT_EQ(none.status, 4);
    EXPECT_THAT(none.err, StartsWith(empty + ": is empty, and so no study file"));
}

TEST(Study, StoppedByASignalSaysHowToGoOnAndLeavesNoLock) {
    const Folder folder;
    const std::string out = folder / "out.h5";
    const Ran ran = shell("timeout --preserve-status 1 \"$CS\" study scenarios/studies/drawn_layouts.toml "
                          "-o '" +
                          out + "'");
    EXPECT_EQ(ran.status, 128 + SIGTERM);
    EXPECT_THAT(ran.err, HasSubstr("stopping when the cases at work are done"));
    EXPECT_THAT(ran.err, HasSubstr("of 128 cases; the same command goes on from there"));
    EXPECT_TRUE(folder.holds_only("out.h5"));
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
    const std::string out = folder / "out.json";
    const Ran killed =
        shell("timeout -s KILL 0.3 \"$CS\" orders scenarios/dry_system.toml --json -o '" + out + "'");
    EXPECT_EQ(killed.status, 137);
    EXPECT_FALSE(std::filesystem::exists(out));
    EXPECT_EQ(run("bleed " + small + " --json -o '" + out + "'").status, 0);
    EXPECT_TRUE(folder.holds_only("out.json"));
}

TEST(New, NeverOverwritesAndItsFileIsAccepted) {
    const Folder folder;
    const std::string file = folder / "my_car.toml";
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

/// Stretches of a page's excerpt between "..." stand on the program's screen, in that order.
void expect_excerpt(const std::string& page, const std::string& beginning, const std::string& screen) {
    const std::string text = text_in(page);
    const auto first = text.find(beginning);
    ASSERT_NE(first, std::string::npos) << page << ": " << beginning;
    const std::string excerpt = text.substr(first, text.find("```", first) - first);
    std::size_t found = 0;
    for (std::size_t at = 0; at < excerpt.size();) {
        const auto end = std::min(excerpt.find("...\n", at), excerpt.size());
        const std::string stretch = excerpt.substr(at, end - at);
        found = screen.find(stretch, found);
        ASSERT_NE(found, std::string::npos) << page << ":\n" << stretch << "\nis not in\n" << screen;
        at = end + 4;
    }
}

TEST(Words, ExcerptsOfTheOrdersScreenAreTheProgramsOwn) {
    const std::string screen = run("orders scenarios/front_rear_split.toml --quick").out;
    for (const char* page : {"README.md", "docs/guide.md"})
        expect_excerpt(page, "Kit roadster, both front calipers renewed\n24 orders", screen);
}

TEST(Words, ExcerptsOfTheChecksAreTheProgramsOwn) {
    const std::string with_air =
        small + " --set 'volumes.caliper.gas=1 mL' --set \"volumes.caliper.ports.screw.at=12 o'clock\"";
    expect_excerpt("docs/checks.md", "pedal: travel at the pad [mm], strokes",
                   run("pedal " + with_air + " --force 100,222,500").out);
    expect_excerpt("docs/checks.md", "caliper  stroke 1                1.0", run("bleed " + with_air).out);
    expect_excerpt("docs/checks.md", "caliper  stroke 1                5.4", run("bleed " + small).out);
}

TEST(Words, TheColumnsOfBleedAndWhatIsLeftAreExplained) {
    EXPECT_THAT(run("bleed " + small).out,
                HasSubstr("\nbubbles: free air seen in the clear hose; new: share of "));
    const std::string drained = run("orders scenarios/front_rear_split.toml --quick --condition drained").out;
    EXPECT_THAT(drained, MatchesRegex("(.|\n)*is within its\\s+reach, with more\\s+strokes(.|\n)*"));
}

TEST(Words, WhatComesBeforeAScrewStandsWithIt) {
    const std::string screen = run("orders scenarios/linked_motorcycle.toml --quick").out;
    EXPECT_THAT(
        screen,
        MatchesRegex(
            "(.|\n)*\\. rear +[0-9]+ strokes, no bubbles\n +before it: top up, tap rear caliper\n(.|\n)*"));
    EXPECT_THAT(
        screen,
        HasSubstr("before it: take the method joint, each stroke: open the screw, press 30 % of its travel"));
    EXPECT_THAT(run("orders scenarios/front_rear_split.toml --quick").out, Not(HasSubstr("before it:")));
}

TEST(Words, AnOrderThatLeavesOutScrewsSaysSo) {
    const std::string screen = run("orders scenarios/front_rear_split.toml --quick --list \"RR,LR\"").out;
    EXPECT_THAT(screen, HasSubstr("\n3 orders; "));
    EXPECT_THAT(screen, HasSubstr("FINDING   No difference: each of the 2 whole orders"));
    EXPECT_THAT(screen, HasSubstr("NOTE      order 1 of the list (RR, LR) leaves out RF, LF"));
    EXPECT_THAT(screen, Not(HasSubstr("the worst")));
}

TEST(Words, ZeroHasNoSignAndCountsAgree) {
    EXPECT_THAT(run("pedal " + small).out, Not(HasSubstr("-0.00")));
    const std::string screen = run("orders " + small + " --quick").out;
    EXPECT_THAT(screen, HasSubstr("1 order of 1 screw;"));
    EXPECT_THAT(screen, HasSubstr("One order: it takes "));
}

} // namespace
} // namespace clearstroke::testing
