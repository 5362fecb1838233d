#include <algorithm>
#include <array>
#include <iterator>

#include "scenarios/schema.hpp"

namespace clearstroke {
namespace {

constexpr std::array<std::string_view, 6> car_corners{"front", "rear", "LF", "RF", "LR", "RR"},
    cycle_corners{"front", "rear", "LF", "RF", "F", "R"};

std::vector<std::string_view> segments(std::string_view path) {
    std::vector<std::string_view> out;
    for (;;) {
        const auto dot = path.find('.');
        out.push_back(path.substr(0, dot));
        if (dot == std::string_view::npos) return out;
        path.remove_prefix(dot + 1);
    }
}

bool is_number(std::string_view text) {
    return !text.empty() && std::ranges::all_of(text, [](char c) { return c >= '0' && c <= '9'; });
}

bool fits(std::string_view pattern, std::string_view segment) {
    if (pattern == "{name}") return true;
    if (pattern == "{n}") return is_number(segment);
    if (pattern == "{corner}")
        return std::ranges::find(car_corners, segment) != car_corners.end() ||
               std::ranges::find(cycle_corners, segment) != cycle_corners.end();
    return pattern == segment;
}

/// Do the first segments of the pattern fit all of `path`?
bool begins(const std::vector<std::string_view>& pattern, const std::vector<std::string_view>& path) {
    return pattern.size() >= path.size() &&
           std::equal(path.begin(), path.end(), pattern.begin(),
                      [](auto segment, auto part) { return fits(part, segment); });
}

const std::vector<std::vector<std::string_view>>& split_table() {
    static const auto split = [] {
        std::vector<std::vector<std::string_view>> out;
        for (const KeyRow& row : key_table()) out.push_back(segments(row.path));
        return out;
    }();
    return split;
}

} // namespace

const std::vector<KeyRow>& key_table() {
    static const std::vector<KeyRow> table = [] {
        std::vector<KeyRow> all;
        for (const auto part : {general_keys(), work_keys(), cylinder_keys(), line_keys(), wheel_keys(),
                                other_layout_keys(), fault_keys(), explicit_keys()})
            std::ranges::copy(part, std::back_inserter(all));
        return all;
    }();
    return table;
}

const KeyRow* find_key(std::string_view path, std::string_view family) {
    const auto parts = segments(path);
    const KeyRow* other_family = nullptr;
    for (std::size_t i = 0; i < key_table().size(); ++i) {
        const KeyRow& row = key_table()[i];
        if (split_table()[i].size() != parts.size() || !begins(split_table()[i], parts)) continue;
        if (row.family.empty() || row.family == family) return &row;
        if (!other_family) other_family = &row;
    }
    return other_family;
}

bool is_key_table(std::string_view path) {
    const auto parts = segments(path);
    return std::ranges::any_of(split_table(), [&](const auto& pattern) {
        return pattern.size() > parts.size() && begins(pattern, parts);
    });
}

KnownChildren known_children(std::string_view path, std::string_view family) {
    const auto parts = path.empty() ? std::vector<std::string_view>{} : segments(path);
    KnownChildren out;
    const auto add = [&](std::string_view name) {
        if (std::ranges::find(out.names, name) == out.names.end()) out.names.emplace_back(name);
    };
    for (std::size_t i = 0; i < split_table().size(); ++i) {
        const auto& pattern = split_table()[i];
        const std::string_view rows_family = key_table()[i].family;
        if (pattern.size() <= parts.size() || !begins(pattern, parts)) continue;
        if (!rows_family.empty() && rows_family != family) continue;
        const std::string_view next = pattern[parts.size()];
        if (next == "{name}" || next == "{n}")
            out.any_name = true;
        else if (next == "{corner}")
            std::ranges::for_each(family == "motorcycle" ? cycle_corners : car_corners, add);
        else
            add(next);
    }
    return out;
}

std::string_view naming_key(std::string_view path) {
    const std::string_view last = segments(path).back();
    if (last == "pistons") return "chamber";
    return last == "heights" || last == "gas" || last == "visits" ? "" : "name";
}

std::vector<std::string_view> choices_of(const KeyRow& row) {
    std::vector<std::string_view> out;
    for (std::string_view rest = row.allowed;;) {
        const auto bar = rest.find(" | ");
        out.push_back(rest.substr(0, bar));
        if (bar == std::string_view::npos) return out;
        rest.remove_prefix(bar + 3);
    }
}

} // namespace clearstroke
