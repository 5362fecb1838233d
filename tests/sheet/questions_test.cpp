// Questions of `new`: what is answered stands in the file, what is not understood is asked again.
#include "analysis/cli/questions.hpp"

#include <cctype>
#include <sstream>

#include <gmock/gmock.h>

#include "analysis/orders.hpp"
#include "scenarios/scenario.hpp"

namespace clearstroke {
namespace {

using ::testing::HasSubstr;

struct Talk {
    std::string text, said;
};
Talk talk(const std::string& answers) {
    std::istringstream in(answers);
    std::ostringstream out;
    const std::string text = ask_for_scenario({}, in, out);
    return {text, out.str()};
}

// Title, layout, fluid, method, state, new, opened, anti-lock; then ten sizes of a front/rear car.
const std::string ten_kept = "\n\n\n\n\n\n\n\n\n\n\n\n";

TEST(Questions, EnterTakesWhatStandsInBrackets) {
    const Talk t = talk("\n\n\n\n\n\n\n\n" + ten_kept);
    const Scenario s = parse_scenario(t.text, "talk");
    EXPECT_EQ(s.title, "My circuit");
    EXPECT_THAT(
        t.said,
        HasSubstr("Layout:\n  1 front/rear           one circuit for the front wheels, one for the rear\n"));
    EXPECT_THAT(t.said, HasSubstr("  Number or word [front/rear]: "));
    EXPECT_THAT(t.said, HasSubstr("Anti-lock unit (1 yes, 2 no, 3 unknown) [unknown]: "));
}

TEST(Questions, AnswersStandInTheFile) {
    const Talk t =
        talk("Both renewed\n1\nDOT 5.1\n2\nwork\nLF caliper, RF caliper\n\nno\n7/8 in\n0.6 m\n" + ten_kept);
    const Scenario s = parse_scenario(t.text, "talk");
    EXPECT_EQ(s.title, "Both renewed");
    EXPECT_EQ(s.anti_lock, AntiLock::no);
    EXPECT_THAT(t.text, HasSubstr("renewed = [\"LF caliper\", \"RF caliper\"]"));
    EXPECT_THAT(t.text, HasSubstr("method = \"two people\""));
    EXPECT_THAT(t.text, HasSubstr("bore = \"7/8 in\""));
    EXPECT_THAT(t.text, HasSubstr("front = { to_tee = \"0.6 m\", LF = \"0.9 m\""));
}

TEST(Questions, AsksAgainForWhatIsNotUnderstood) {
    const Talk t = talk("\nsideways\n2\n\n\n\nleft brake\nLF caliper\n\n\nlong\n20 mm\n" + ten_kept);
    EXPECT_THAT(t.said, HasSubstr("\"sideways\" is none of these, or more than one."));
    EXPECT_THAT(t.said, HasSubstr("left brake"));
    EXPECT_THAT(t.text, HasSubstr("layout = \"diagonal\""));
    EXPECT_THAT(t.text, HasSubstr("bore = \"20 mm\""));
}

TEST(Questions, TakesTheBeginningOfAWordInAnyCase) {
    const Talk t = talk("\nDIAG\ndot 5.1\ntwo\nDry\nY\n" + ten_kept);
    for (const char* line : {"layout = \"diagonal\"", "fluid = \"DOT 5.1\"", "method = \"two people\"",
                             "condition = \"dry\"", "anti_lock = \"yes\""})
        EXPECT_THAT(t.text, HasSubstr(line));
    EXPECT_THAT(talk("\nd\n\ndot\n\n\n\n\n\n\n" + ten_kept).said,
                HasSubstr("\"dot\" is none of these, or more than one."));
}

TEST(Questions, ExplainsEveryWordOfEveryChoiceAndNamesTheParts) {
    const std::string said = talk("\n\n\n\n\n\n\n\n" + ten_kept).said;
    std::istringstream lines(said);
    int explained = 0;
    for (std::string line; std::getline(lines, line);) {
        if (line.size() < 3 || line.substr(0, 2) != "  " ||
            !std::isdigit(static_cast<unsigned char>(line[2])))
            continue;
        EXPECT_GT(line.size(), 25u) << line;
        ++explained;
    }
    EXPECT_EQ(explained, 5 + 11 + 6); // layouts, methods, where air may be
    for (const char* part : {"LF caliper", "RR hose", "master cylinder"}) EXPECT_THAT(said, HasSubstr(part));
}

TEST(Questions, EndOfAnswersIsRefused) { EXPECT_THROW((void)talk("A question\n"), RequestError); }

} // namespace
} // namespace clearstroke
