#pragma once
/// A scenario: what a user wrote about a circuit and the work done on it, read, checked and turned
/// into parameters and a pure factory. Files are TOML; docs/reference_keys.md lists every key.
#include <exception>
#include <filesystem>
#include <span>
#include <string>
#include <string_view>
#include <vector>

#include "sim/parameter.hpp"

namespace clearstroke {

/// One thing that is wrong in a scenario, and where. Line and column count from 1; 0: the whole file.
struct ScenarioFault {
    std::string file;
    int line{}, column{};
    std::string key;     ///< path of the key, e.g. "calipers.front.bore"
    std::string message; ///< what is wrong, what is allowed
};

/// "file:line:column: key: message"
[[nodiscard]] std::string to_text(const ScenarioFault&);

/// Everything that is wrong in a scenario, in the order of its lines; what() has a line for each.
class ScenarioError : public std::exception {
public:
    explicit ScenarioError(std::vector<ScenarioFault> faults);
    [[nodiscard]] const std::vector<ScenarioFault>& faults() const noexcept { return faults_; }
    [[nodiscard]] const char* what() const noexcept override { return text_.c_str(); }

private:
    std::vector<ScenarioFault> faults_;
    std::string text_;
};

/// A value that the file does not state, as a person reads it.
struct Assumption {
    std::string key; ///< key that would state it
    std::string meaning;
    std::string value; ///< "54 mm"
    std::string band;  ///< "48 to 60 mm"; empty: none
    SourceGrade grade{};
    std::string source;
    std::string how_to_measure; ///< empty when a person cannot
};

enum class AntiLock { no, yes, unknown };

/// An order of bleed points that the file lists for comparison.
struct ListedOrder {
    std::string name; ///< as the file calls it, or "order 2 of the file"
    std::vector<ScrewId> screws;
};

/// What every order of a comparison must keep.
struct Sequence {
    std::vector<std::vector<ScrewId>> together;      ///< each group in one go
    std::vector<ScrewId> first, last;                ///< before all others; after all others
    std::vector<std::pair<ScrewId, ScrewId>> before; ///< the first of a pair before the second
};

struct Scenario {
    std::string title;
    std::string path;                   ///< as given, or the name of a text
    std::string text;                   ///< the file as it was read
    std::vector<std::string> overrides; ///< "key.path=value", applied in order
    CaseFactory factory;
    std::vector<Assumption> assumptions; ///< by order of the key table, then what was derived from the work
    std::vector<std::string> warnings;
    std::vector<ListedOrder> orders; ///< listed in the file; empty: none
    Sequence sequence;
    AntiLock anti_lock{AntiLock::unknown};
    std::string expanded_toml; ///< explicit form; reading it gives the same Case, bit by bit
};

/// Reads a file. Throws ScenarioError for what is wrong in it, std::filesystem::filesystem_error
/// when it cannot be read.
[[nodiscard]] Scenario read_scenario(const std::filesystem::path&,
                                     std::span<const std::string> overrides = {});

/// The same for a text; `name` stands where a path would in messages.
[[nodiscard]] Scenario parse_scenario(std::string_view text, std::string_view name,
                                      std::span<const std::string> overrides = {});

} // namespace clearstroke
