// What is told before anything is run.
#include "tests/scenarios/support.hpp"

namespace clearstroke::testing {
namespace {

std::string warnings_of(const std::string& text) {
    std::string out;
    for (const std::string& w : parse(text).warnings) out += w + "\n";
    return out;
}
bool warns(const std::string& text, const std::string& of) { return warnings_of(text).find(of) != std::string::npos; }

TEST(WarningsOfWork, AMeteringValveBlocksATankOrGravityUnlessHeldOpen) {
    const std::string valve = "[pipes.\"front pipe\"]\nvalve = \"metering\"\nvalve_hold_off = \"6 bar\"\n";
    EXPECT_TRUE(warns("method = \"reservoir pressure\"\n" + valve, "metering valve of front pipe"));
    EXPECT_TRUE(warns("method = \"gravity\"\n" + valve, "metering valve of front pipe"));
    EXPECT_FALSE(warns(valve, "metering"));
    EXPECT_FALSE(warns("method = \"gravity\"\n[acts]\nprepare = [\"hold open front pipe\"]\n" + valve, "metering"));
    EXPECT_TRUE(warns("[pipes.\"front pipe\"]\nvalve = \"shut\"\n", "is shut"));
}

TEST(WarningsOfWork, ALoopAboveBothEndsIsNamedWithItsHeight) {
    const std::string loop = "[pipes.\"front pipe\"]\nheights = [{ at = 0.5, height = \"1.5 m\" }]\n";
    EXPECT_TRUE(warns(loop, "front pipe has a loop"));
    EXPECT_FALSE(warns("", "loop"));
}

TEST(WarningsOfWork, AReservoirThatOneStrokeEmpties) {
    EXPECT_TRUE(warns("[reservoir]\ncapacity = \"15 mL\"\n", "one full stroke takes"));
    EXPECT_FALSE(warns("", "one full stroke takes"));
}

TEST(WarningsOfWork, GasThatGravityCannotWaitFor) {
    const std::string drained = "condition = \"drained\"\n";
    EXPECT_TRUE(warns("method = \"gravity\"\n" + drained, "an hour by itself"));
    EXPECT_FALSE(warns(drained, "an hour by itself"));
    EXPECT_FALSE(warns("method = \"gravity\"\ncondition = \"full\"\n", "an hour by itself"));
}

} // namespace
} // namespace clearstroke::testing
