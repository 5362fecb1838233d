#pragma once
/// A commented starter scenario made from a few choices.
#include <string>
#include <vector>

namespace clearstroke {

struct StarterChoices {
    std::string title{"My circuit"};
    std::string layout{"front/rear"}; ///< "front/rear", "diagonal", "motorcycle", "clutch", "explicit"
    std::string fluid{"DOT 4"};
    std::string method;               ///< empty: the usual one
    std::string condition;            ///< empty, or "fluid change", "little air", "drained", "dry"
    std::string anti_lock{"unknown"}; ///< "yes", "no", "unknown"
    std::vector<std::string> renewed, opened;
};

/// TOML text that read_scenario accepts. Throws std::invalid_argument, saying what is allowed.
[[nodiscard]] std::string starter_scenario(const StarterChoices&);

/// A quantity that a starter states and a user may want to change.
struct StarterValue {
    std::string path;  ///< "lines.front.to_tee"
    std::string value; ///< "0.5 m"
    std::size_t at{};  ///< where the value stands in the text
};

/// Quantities in the tables of a starter, in the order of its text.
[[nodiscard]] std::vector<StarterValue> values_of_starter(const std::string& text);

} // namespace clearstroke
