#pragma once
/// A commented starter scenario made from a few choices.
#include <string>
#include <vector>

namespace clearstroke {

struct StarterChoices {
    std::string title{"My circuit"};
    std::string layout{"front/rear"}; ///< "front/rear", "diagonal", "motorcycle", "clutch", "explicit"
    std::string fluid{"DOT 4"};
    std::string method;    ///< empty: the usual one
    std::string condition; ///< empty, or "fluid change", "little air", "drained", "dry"
    std::vector<std::string> renewed, opened;
};

/// TOML text that read_scenario accepts. Throws std::invalid_argument, saying what is allowed.
[[nodiscard]] std::string starter_scenario(const StarterChoices&);

} // namespace clearstroke
