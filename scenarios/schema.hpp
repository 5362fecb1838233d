#pragma once
/// The table of every key a scenario may have. The reader checks files against it and takes
/// defaults from it; docs/reference_keys.md is printed from it.
///
/// A path is written with dots. `{corner}` stands for an axle or wheel, `{name}` for any name, `{n}`
/// for the place in a list. The first row that fits a path is the one that counts.
#include <span>
#include <string>
#include <string_view>
#include <vector>

#include "sim/parameter.hpp"

namespace clearstroke {

enum class KeyKind {
    quantity,   ///< text with a unit; a pure number when the unit is "1"
    count,      ///< whole number
    truth,      ///< true or false
    text,       ///< any text
    choice,     ///< one of the texts in `allowed`
    texts,      ///< list of texts
    quantities, ///< list of quantities
};

struct KeyRow {
    std::string_view path;
    KeyKind kind{};
    std::string_view unit;                           ///< that a person reads; quantities only
    std::string_view usual;                          ///< default, written as in a file; empty: none
    std::string_view allowed;                        ///< "1 mm to 80 mm", or choices parted by " | "
    SourceGrade grade{SourceGrade::common_practice}; ///< of the default
    std::string_view source;                         ///< of the default
    std::string_view meaning;
    std::string_view measure; ///< how a person measures it; empty: cannot, or nothing to measure
    std::string_view group;   ///< of parameters that vary together
    std::string_view family;  ///< "car", "motorcycle", "clutch", "explicit"; empty: all
};

/// All rows, in the order of the reference.
[[nodiscard]] const std::vector<KeyRow>& key_table();

/// Row of a path in a family of layouts; null if there is none.
[[nodiscard]] const KeyRow* find_key(std::string_view path, std::string_view family);

/// Is `path` a table that holds keys of the table above?
[[nodiscard]] bool is_key_table(std::string_view path);

/// Names that may follow `path` in a family of layouts, and whether any name may.
struct KnownChildren {
    std::vector<std::string> names;
    bool any_name{};
};
[[nodiscard]] KnownChildren known_children(std::string_view path, std::string_view family);

/// Key that names the entries of a list of tables at `path`: "name", "chamber"; empty: they are numbered.
[[nodiscard]] std::string_view naming_key(std::string_view path);

[[nodiscard]] std::vector<std::string_view> choices_of(const KeyRow&);

/// The page docs/reference_keys.md.
[[nodiscard]] std::string key_reference_markdown();

// The parts of the table, one per page of the reference.
[[nodiscard]] std::span<const KeyRow> general_keys();
[[nodiscard]] std::span<const KeyRow> work_keys();
[[nodiscard]] std::span<const KeyRow> cylinder_keys();
[[nodiscard]] std::span<const KeyRow> line_keys();
[[nodiscard]] std::span<const KeyRow> wheel_keys();
[[nodiscard]] std::span<const KeyRow> other_layout_keys();
[[nodiscard]] std::span<const KeyRow> fault_keys();
[[nodiscard]] std::span<const KeyRow> explicit_keys();

} // namespace clearstroke
