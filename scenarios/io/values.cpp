#include "scenarios/io/values.hpp"

#include <algorithm>
#include <sstream>

#include <fmt/format.h>

namespace clearstroke {
namespace {

std::string as_written(const toml::node& node) {
    std::ostringstream out;
    node.visit([&](auto&& value) { out << value; });
    std::string text = out.str();
    std::ranges::replace(text, '\n', ' ');
    std::ranges::replace(text, '\'', '"');
    return text.size() > 60 ? text.substr(0, 57) + "..." : text;
}

struct Range {
    double low{}, high{};
};

Range range_of(const KeyRow& row) {
    const auto to = row.allowed.find(" to ");
    const std::string_view low = row.allowed.substr(0, to), high = row.allowed.substr(to + 4);
    const std::string_view unit = row.unit.empty() ? std::string_view("1") : row.unit;
    return {read_quantity(low, unit).value.usual, read_quantity(high, unit).value.usual};
}

std::string fault_text(QuantityFault fault, const std::string& written, const KeyRow& row) {
    switch (fault) {
    case QuantityFault::no_unit:
        return written + " has no unit";
    case QuantityFault::no_number:
        return written + " does not begin with a number";
    case QuantityFault::unknown_unit:
        return written + " has a unit that is not known";
    case QuantityFault::wrong_dimension:
        return fmt::format("{} is not a quantity in {}", written, row.unit);
    case QuantityFault::bad_band:
        return written + " has a band that does not hold the value";
    case QuantityFault::none:
        break;
    }
    return {};
}

/// Reads one quantity and holds it against the range of its row.
std::string read_in_range(const toml::node& node, const KeyRow& row, Quantity& out) {
    const std::string written = as_written(node);
    ReadQuantity read;
    if (const auto text = node.value_exact<std::string>()) {
        read = read_quantity(*text, row.unit);
    } else if (const auto number = node.value<double>(); number && row.unit == "1" && !node.is_boolean()) {
        read.value = {*number, *number, *number, false};
    } else if (node.is_number()) {
        return written + " has no unit";
    } else {
        return written + " is not a quantity";
    }
    if (read.fault != QuantityFault::none) return fault_text(read.fault, written, row);
    const Range range = range_of(row);
    const Quantity& q = read.value;
    if (!(q.low >= range.low && q.high <= range.high)) return written + " is out of range";
    out = q;
    return {};
}

std::string read_count(const toml::node& node, const KeyRow& row, Entry& entry) {
    const auto number = node.value_exact<std::int64_t>();
    if (!number) return as_written(node) + " is not a whole number";
    const Range range = range_of(row);
    if (double(*number) < range.low || double(*number) > range.high)
        return as_written(node) + " is out of range";
    entry.count = int(*number);
    return {};
}

std::string read_choice(const toml::node& node, const KeyRow& row, Entry& entry) {
    const auto text = node.value_exact<std::string>();
    if (!text) return as_written(node) + " is not text";
    std::string wanted = *text;
    std::vector<std::string> known;
    for (const std::string_view choice : choices_of(row)) known.emplace_back(choice);
    const auto found = [&] { return std::ranges::find(known, wanted) != known.end(); };
    if (!found()) std::ranges::replace(wanted, '_', ' ');
    if (!found()) {
        const std::string near = nearest(*text, known);
        return fmt::format("\"{}\" is not one of the choices{}", *text,
                           near.empty() ? "" : fmt::format(" (did you mean \"{}\"?)", near));
    }
    entry.text = wanted;
    return {};
}

std::string read_texts(const toml::node& node, Entry& entry) {
    const toml::array* list = node.as_array();
    if (!list) return as_written(node) + " is not a list";
    for (const toml::node& item : *list) {
        const auto text = item.value_exact<std::string>();
        if (!text) return as_written(item) + " is not text";
        entry.texts.push_back(*text);
    }
    return {};
}

std::string read_quantities(const toml::node& node, const KeyRow& row, Entry& entry) {
    const toml::array* list = node.as_array();
    if (!list || list->empty()) return as_written(node) + " is not a list of quantities";
    for (const toml::node& item : *list) {
        Quantity q;
        if (std::string wrong = read_in_range(item, row, q); !wrong.empty()) return wrong;
        entry.quantities.push_back(q.usual);
    }
    return {};
}

} // namespace

std::string read_value(const toml::node& node, const KeyRow& row, Entry& entry) {
    switch (row.kind) {
    case KeyKind::quantity:
        return read_in_range(node, row, entry.quantity);
    case KeyKind::count:
        return read_count(node, row, entry);
    case KeyKind::choice:
        return read_choice(node, row, entry);
    case KeyKind::texts:
        return read_texts(node, entry);
    case KeyKind::quantities:
        return read_quantities(node, row, entry);
    case KeyKind::truth:
        if (const auto truth = node.value_exact<bool>()) return entry.truth = *truth, std::string{};
        return as_written(node) + " is neither true nor false";
    case KeyKind::text:
        if (const auto text = node.value_exact<std::string>()) return entry.text = *text, std::string{};
        return as_written(node) + " is not text";
    }
    return {};
}

std::string allowed_text(const KeyRow& row) {
    const std::string_view example = row.usual.substr(0, row.usual.find(','));
    switch (row.kind) {
    case KeyKind::quantity:
    case KeyKind::quantities: {
        if (row.unit == "1") return fmt::format("allowed: {}", row.allowed);
        const char* form =
            row.kind == KeyKind::quantity ? "as text with its unit" : "as a list of texts with units";
        return fmt::format("allowed: {}, {}{}", row.allowed, form,
                           example.empty() ? "" : fmt::format(" such as \"{}\"", example));
    }
    case KeyKind::count:
        return fmt::format("allowed: a whole number, {}", row.allowed);
    case KeyKind::truth:
        return "allowed: true, false";
    case KeyKind::text:
        return "allowed: text in quotes";
    case KeyKind::texts:
        return "allowed: a list of texts such as [\"LF\", \"RF\"]";
    case KeyKind::choice:
        break;
    }
    std::string out = "allowed: ";
    for (const std::string_view choice : choices_of(row)) out += fmt::format("\"{}\", ", choice);
    return out.substr(0, out.size() - 2);
}

} // namespace clearstroke
