#pragma once
/// A study: which scenarios to run, with which keys changed and how. Files are TOML; docs/study.md tells how
/// to write one. Keys that vary are keys of a scenario, so everything a scenario says can be studied.
#include <cstdint>
#include <filesystem>
#include <string>
#include <string_view>
#include <vector>

#include "scenarios/scenario.hpp"

namespace clearstroke {

/// A value of a key: as written in an override, and as a number (SI) or a text for tables.
struct KeyValue {
    std::string written;
    double number{};
    std::string text;
};

/// A key that a study varies.
struct StudyKey {
    std::string path;    ///< "lines.rear.to_tee"
    std::string meaning; ///< from the key reference
    std::string unit;    ///< SI; "1": a pure number or a count; empty: a text
    std::string read_in; ///< unit that a person reads; quantities only
};

/// A key with a list of values; all lists of a study are combined with each other.
struct StudyFactor {
    StudyKey key;
    std::vector<KeyValue> values;
};

/// A key drawn from a stated distribution.
struct StudyDraw {
    enum class Kind { uniform, log_uniform, triangular, normal, one_of };
    StudyKey key;
    Kind kind{};
    std::vector<double> numbers;  ///< low, high | low, mode, high | mean, standard deviation
    std::vector<KeyValue> values; ///< one_of
    std::vector<double> weights;  ///< of the values, sum 1
};

/// Value at the share `u` in (0, 1) of the distribution.
[[nodiscard]] KeyValue value_at(const StudyDraw&, double u);

struct StudyBase {
    std::string name, file, text; ///< the scenario
    std::vector<std::string> set; ///< "key.path=value"
    std::vector<StudyDraw> draws; ///< for this base
};

enum class StudyDesign {
    usual,   ///< every combination of factors once
    random,  ///< plain random samples
    sobol,   ///< scrambled Sobol' samples
    indices, ///< Sobol' indices
    effects  ///< elementary effects
};

enum class StudyOrders {
    own,   ///< the file's own
    rules, ///< all orders are run; the best, the worst, the usual rules and the file's own are kept
    all,   ///< all are run and kept
    listed ///< those listed
};

struct StudyFile {
    std::string title, path, text, cost{"strokes"};
    std::uint64_t seed{1};
    std::vector<StudyBase> bases;
    std::vector<StudyFactor> factors;
    std::vector<StudyDraw> draws; ///< for all bases
    StudyDesign design{};
    std::uint64_t samples{1}, scramblings{8};
    bool all_bands{};               ///< every value with a band is drawn within it
    std::vector<std::string> bands; ///< or those of these names or groups
    StudyOrders orders{};
    std::vector<std::vector<std::string>> listed; ///< screws
    std::vector<std::string> traces;
    std::uint64_t trace_strokes{100};
};

/// "lines.rear.to_tee=3.2 m": an override, with quotes round names that want them.
[[nodiscard]] std::string override_of(const std::string& path, const std::string& written);

/// Reads a study and the scenarios it names, relative to it. Throws as read_scenario does.
[[nodiscard]] StudyFile read_study(const std::filesystem::path&);

/// The same from texts; the scenarios' in the order of the study's bases.
[[nodiscard]] StudyFile parse_study(std::string_view text, const std::string& name,
                                    const std::vector<std::string>& base_texts);

} // namespace clearstroke
