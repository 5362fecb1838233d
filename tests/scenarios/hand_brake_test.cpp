// The hand brake that is on: free play taken up where it is named, said in the notes, kept by the explicit form.
#include "tests/scenarios/support.hpp"

namespace clearstroke::testing {
namespace {

constexpr const char* held = R"(
[conditions]
hand_brake_on = ["LR wheel cylinder", "RF caliper"]
[drums]
rear = {}
[faults.knocked_back]
"RF caliper" = "1.2 mL"
"LF caliper" = "0.7 mL"
)";

TEST(HandBrake, TakesUpSlackAndKnockBackWhereItIsNamed) {
    const Case c = usual_case(parse(held));
    EXPECT_EQ(volume_named(c, "LR wheel cylinder").walls.take_up_volume, 0.0);
    EXPECT_GT(volume_named(c, "RR wheel cylinder").walls.take_up_volume, 0.5e-6);
    EXPECT_EQ(volume_named(c, "RF caliper").knocked_back, 0.0);
    EXPECT_NEAR(volume_named(c, "LF caliper").knocked_back, 0.7e-6, 1e-15);
    EXPECT_TRUE(volume_named(c, "LR wheel cylinder").hand_brake_on);
    EXPECT_FALSE(volume_named(c, "RR wheel cylinder").hand_brake_on);
}

TEST(HandBrake, IsSaidInTheNotes) {
    const auto said = [](const Scenario& s) {
        return std::ranges::any_of(s.warnings, [](const std::string& w) {
            return w.starts_with("the hand brake is on at LR wheel cylinder, RF caliper: ");
        });
    };
    const Scenario s = parse(held);
    EXPECT_TRUE(said(s));
    EXPECT_FALSE(said(parse("")));
}

TEST(HandBrake, TheExplicitFormKeepsIt) {
    const Scenario s = parse(held);
    EXPECT_EQ(every_bit(usual_case(parse(s.expanded_toml))), every_bit(usual_case(s)));
}

TEST(HandBrake, APartThatIsNotThereIsRefused) {
    EXPECT_NE(fault_of("[conditions]\nhand_brake_on = [\"LR drum\"]\n").find("there is no part \"LR drum\""),
              std::string::npos);
}

} // namespace
} // namespace clearstroke::testing
