#pragma once
/// Shared by the scenario tests: files, parsing, and a Case as text that shows every bit.
#include <algorithm>
#include <filesystem>
#include <fstream>
#include <sstream>
#include <string>
#include <vector>

#include <fmt/format.h>
#include <gtest/gtest.h>

#include "scenarios/scenario.hpp"

namespace clearstroke::testing {

inline std::string text_of(const std::filesystem::path& path) {
    std::ifstream in(path, std::ios::binary);
    EXPECT_TRUE(in.good()) << path;
    std::ostringstream out;
    out << in.rdbuf();
    return out.str();
}

/// The shipped scenarios, sorted.
inline std::vector<std::filesystem::path> toml_files(const std::filesystem::path& folder) {
    std::vector<std::filesystem::path> out;
    for (const auto& entry : std::filesystem::directory_iterator(folder))
        if (entry.path().extension() == ".toml") out.push_back(entry.path());
    std::ranges::sort(out);
    return out;
}

inline Scenario parse(const std::string& text, const std::vector<std::string>& overrides = {}) {
    return parse_scenario(text, "test.toml", overrides);
}

inline Case usual_case(const Scenario& s) { return s.factory.make(usual_values(s.factory)); }

/// What parsing says is wrong; empty when nothing is.
inline std::string fault_of(const std::string& text, const std::vector<std::string>& overrides = {}) {
    try {
        (void)parse(text, overrides);
    } catch (const ScenarioError& error) {
        return error.what();
    }
    return {};
}

inline const Volume& volume_named(const Case& c, const std::string& name) {
    return *std::ranges::find(c.network.volumes, name, &Volume::name);
}

inline const Line& line_named(const Case& c, const std::string& name) {
    return *std::ranges::find(c.network.lines, name, &Line::name);
}

inline double gas_in(const Case& c, const std::string& volume) {
    return c.contents.volume_gas[std::size_t(&volume_named(c, volume) - c.network.volumes.data())];
}

inline const std::vector<GasStretch>& stretches_in(const Case& c, const std::string& line) {
    return c.contents.line_gas[std::size_t(&line_named(c, line) - c.network.lines.data())];
}

/// Every field of a Case, doubles by their bits.
std::string every_bit(const Case&);

} // namespace clearstroke::testing
