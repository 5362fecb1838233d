#pragma once
/// A scenario file as flat, checked keys: every value has been found in the key table, read in its
/// unit and held against its range. Entries of lists of tables go by their names, so
/// [[volumes]] name = "LF caliper" and [volumes."LF caliper"] say the same.
#include <map>
#include <span>
#include <string>
#include <string_view>
#include <vector>

#include "scenarios/io/quantity.hpp"
#include "scenarios/scenario.hpp"
#include "scenarios/schema.hpp"

namespace clearstroke {

struct Place {
    std::string file;
    int line{}, column{};
};

/// One value of a file. Which member holds it depends on the row's kind.
struct Entry {
    const KeyRow* row{};
    Quantity quantity;
    int count{};
    bool truth{};
    std::string text;
    std::vector<std::string> texts;
    std::vector<double> quantities;
    Place place;
};

struct Document {
    std::string file;
    std::string family; ///< of layouts, see family_of()
    std::map<std::string, Entry, std::less<>> entries;
    std::map<std::string, Place, std::less<>> tables; ///< tables that are there
    std::map<std::string, std::vector<std::string>, std::less<>>
        children; ///< names in a table, in file order

    [[nodiscard]] const Entry* find(std::string_view path) const;
    /// Place of a key, or of the nearest table around it.
    [[nodiscard]] Place place_of(std::string_view path) const;
};

/// "car", "motorcycle", "clutch" or "explicit".
[[nodiscard]] std::string family_of(std::string_view layout);

/// Reads `text`, then each override; adds what is wrong to `faults`.
[[nodiscard]] Document read_document(std::string_view text, std::string_view file,
                                     std::span<const std::string> overrides,
                                     std::vector<ScenarioFault>& faults);

/// The name among `known` that is nearest to `word`; empty when none is near, or two are as near.
[[nodiscard]] std::string nearest(std::string_view word, std::span<const std::string> known);

/// "allowed: 1 mm to 80 mm, as text with its unit such as \"22.22 mm\"": what a row takes.
[[nodiscard]] std::string allowed_text(const KeyRow&);

} // namespace clearstroke
