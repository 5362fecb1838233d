// Whatever is done to a file, it is read or refused with a place in it; nothing else is thrown, and what is
// read holds together at the ends of its bands.
#include <random>

#include "tests/scenarios/support.hpp"

namespace clearstroke::testing {
namespace {

class Mutator {
public:
    explicit Mutator(unsigned seed) : engine_(seed) {}

    std::string mutate(std::string text) {
        for (std::size_t times = 1 + below(3); times > 0 && !text.empty(); --times) {
            const std::size_t at = below(text.size());
            switch (below(4)) {
            case 0:
                text[at] = letters[below(letters.size())];
                break;
            case 1:
                text.erase(at, 1 + below(4));
                break;
            case 2:
                text.insert(at, 1, letters[below(letters.size())]);
                break;
            default:
                swap_lines(text, at);
            }
        }
        return text;
    }

private:
    static constexpr std::string_view letters = "0159-.\"'[]{}=,# \nabmLRF";
    std::mt19937 engine_;

    std::size_t below(std::size_t n) { return engine_() % n; }

    /// Moves the line at `at` to the end.
    static void swap_lines(std::string& text, std::size_t at) {
        const auto begin = text.rfind('\n', at), end = text.find('\n', at + 1);
        if (begin == std::string::npos || end == std::string::npos) return;
        const std::string line = text.substr(begin, end - begin);
        text.erase(begin, end - begin);
        text += line + "\n";
    }
};

TEST(Mutation, IsReadOrRefusedWithAPlace) {
    Mutator mutator(20240117u);
    int read = 0, refused = 0;
    for (const auto& path : toml_files("scenarios")) {
        const std::string original = text_of(path);
        for (int k = 0; k < 30; ++k) {
            const std::string text = mutator.mutate(original);
            try {
                const Scenario s = parse(text);
                const Case c = usual_case(s);
                EXPECT_NO_THROW(check(c.network, c.contents)) << text;
                EXPECT_EQ(every_bit(usual_case(parse(s.expanded_toml))), every_bit(c)) << text;
                ++read;
            } catch (const ScenarioError& error) {
                ASSERT_FALSE(error.faults().empty());
                for (const ScenarioFault& f : error.faults())
                    EXPECT_GT(f.line, 0) << to_text(f) << "\n" << text;
                ++refused;
            } catch (const std::exception& other) {
                ADD_FAILURE() << other.what() << "\n" << text;
            }
        }
    }
    EXPECT_GT(read, 50);
    EXPECT_GT(refused, 100);
}

} // namespace
} // namespace clearstroke::testing
