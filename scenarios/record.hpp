#pragma once
/// A job record: what a person wrote down about a bleed and a pedal test, to be held against the model.
/// A TOML file; an empty text stands for what was not measured.
#include <filesystem>
#include <map>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "scenarios/scenario.hpp"

namespace clearstroke {

/// A screw as it was bled. Fluid [m^3].
struct ScrewRecord {
    std::string name;
    std::optional<int> strokes, last_bubble;
    std::optional<double> fluid;
};

/// SI values.
struct JobRecord {
    std::string path;
    std::vector<std::pair<std::string, std::string>> facts; ///< key and text, as "fluid.grade", in file order
    std::map<std::string, double, std::less<>> numbers;     ///< by key, as "hold.sink"
    std::vector<std::pair<double, double>> travel, travel_before; ///< force [N], travel [m]
    std::vector<std::pair<std::string, double>> clamped;          ///< hose, travel [m]
    std::vector<ScrewRecord> screws;
    std::optional<std::string> bubbles; ///< "none", "declined", "did not decline"
    std::optional<bool> wet, torque_done;

    [[nodiscard]] std::optional<double> number(std::string_view key) const;
    [[nodiscard]] double number_or(std::string_view key, double usual) const {
        return number(key).value_or(usual);
    }
};

/// Throws ScenarioError for what is wrong in it, std::filesystem::filesystem_error when it cannot be read.
[[nodiscard]] JobRecord read_record(const std::filesystem::path&);
[[nodiscard]] JobRecord parse_record(std::string_view text, std::string_view name);

/// A record to fill in, with the screws and flexible hoses of a circuit.
[[nodiscard]] std::string record_template(const std::vector<std::string>& screws,
                                          const std::vector<std::string>& hoses);
/// The same with these screws of a network, in this order, and its hoses.
[[nodiscard]] std::string record_template(const Network&, const std::vector<ScrewId>& screws);

} // namespace clearstroke
