#include "scenarios/io/quantity.hpp"

#include <udunits2.h>

#include <cerrno>
#include <charconv>
#include <cmath>
#include <map>
#include <memory>
#include <mutex>
#include <numbers>
#include <stdexcept>
#include <utility>

#include <fmt/format.h>

#include "scenarios/units.hpp"

namespace clearstroke {
namespace {

struct FreeUnit {
    void operator()(ut_unit* u) const { ut_free(u); }
};
struct FreeSystem {
    void operator()(ut_system* s) const { ut_free_system(s); }
};
struct FreeConverter {
    void operator()(cv_converter* c) const { cv_free(c); }
};
using Unit = std::unique_ptr<ut_unit, FreeUnit>;
using Converter = std::unique_ptr<cv_converter, FreeConverter>;

/// The parser of UDUNITS keeps its place in globals: one thread at a time.
std::mutex parser_mutex;

/// Read once, never changed afterwards.
ut_system* unit_system() {
    static const std::unique_ptr<ut_system, FreeSystem> system = [] {
        ut_set_error_message_handler(ut_ignore);
        return std::unique_ptr<ut_system, FreeSystem>(ut_read_xml(nullptr));
    }();
    if (!system) throw std::runtime_error("the unit tables of UDUNITS-2 were not found");
    return system.get();
}

constexpr std::string_view clock_unit = "o'clock";
constexpr double radians_per_hour = std::numbers::pi / 6.0;

std::string_view trimmed(std::string_view text) {
    const auto first = text.find_first_not_of(" \t");
    if (first == std::string_view::npos) return {};
    return text.substr(first, text.find_last_not_of(" \t") - first + 1);
}

Unit parse_unit(std::string_view text) {
    if (text == "deg") text = "degree";
    if (text == clock_unit) text = "rad";
    const std::scoped_lock one_at_a_time(parser_mutex);
    return Unit(ut_parse(unit_system(), std::string(text).c_str(), UT_UTF8));
}

struct Number {
    double value{};
    std::string_view rest;
};

/// Digits with an optional exponent; moves `text` past them.
std::optional<double> take_digits(std::string_view& text) {
    double value{};
    const auto [end, error] = std::from_chars(text.data(), text.data() + text.size(), value);
    if (error != std::errc{} || !std::isfinite(value)) return std::nullopt;
    text.remove_prefix(std::size_t(end - text.data()));
    return value;
}

/// "54", "-3.2e-3", "7/8", "1-1/16", "1 1/16", "1:30" (hours of a clock).
std::optional<Number> take_number(std::string_view text) {
    if (text.starts_with('+')) text.remove_prefix(1);
    const auto first = take_digits(text);
    if (!first) return std::nullopt;
    double value = *first;
    if (text.starts_with(':')) {
        text.remove_prefix(1);
        const auto minutes = take_digits(text);
        if (!minutes) return std::nullopt;
        return Number{value + *minutes / 60.0, trimmed(text)};
    }
    if (text.starts_with('/')) {
        text.remove_prefix(1);
        const auto below = take_digits(text);
        if (!below || *below == 0.0) return std::nullopt;
        return Number{value / *below, trimmed(text)};
    }
    if (text.size() > 1 && (text[0] == '-' || text[0] == ' ') && text[1] >= '0' && text[1] <= '9') {
        std::string_view fraction = text.substr(1);
        const auto above = take_digits(fraction);
        if (above && fraction.starts_with('/')) {
            fraction.remove_prefix(1);
            const auto below = take_digits(fraction); // else a unit: "0.032 1/GPa"
            if (below && *below != 0.0)
                return Number{value + std::copysign(*above / *below, value), trimmed(fraction)};
        }
    }
    return Number{value, trimmed(text)};
}

/// Can the one be converted to the other? UDUNITS would also take a reciprocal, which maps zero to infinity.
Converter converter(const ut_unit* from, const ut_unit* to) {
    if (!ut_are_convertible(from, to)) return nullptr;
    Converter convert(ut_get_converter(const_cast<ut_unit*>(from), const_cast<ut_unit*>(to)));
    return convert && std::isfinite(cv_convert_double(convert.get(), 0.0)) ? std::move(convert) : nullptr;
}

struct Conversion {
    Converter convert;
    QuantityFault fault{QuantityFault::none};
};

Conversion find_conversion(std::string_view from_text, std::string_view to_text) {
    const Unit from = parse_unit(from_text), to = parse_unit(to_text);
    if (!from) return {nullptr, QuantityFault::unknown_unit};
    Converter convert = converter(from.get(), to.get());
    const QuantityFault fault = convert ? QuantityFault::none : QuantityFault::wrong_dimension;
    return {std::move(convert), fault};
}

/// What `find` makes of a key; found once in each thread, since a study reads the same units in every case and the
/// parser is slow.
template <class Value, class Key, class Find> const Value& remembered(const Key& key, Find find) {
    thread_local std::map<Key, Value> known;
    const auto at = known.find(key);
    return at != known.end() ? at->second : known.emplace(key, find()).first->second;
}

const Conversion& conversion(std::string_view from, std::string_view to) {
    return remembered<Conversion>(std::pair(std::string(from), std::string(to)),
                                  [&] { return find_conversion(from, to); });
}

struct OneValue {
    double si{};
    QuantityFault fault{QuantityFault::none};
};

OneValue one_value(std::string_view text, std::string_view unit, std::string_view unit_if_bare) {
    const auto number = take_number(trimmed(text));
    if (!number) return {0.0, QuantityFault::no_number};
    std::string_view written = number->rest.empty() ? unit_if_bare : number->rest;
    if (written.empty()) {
        if (unit != "1") return {0.0, QuantityFault::no_unit};
        written = "1";
    }
    if (written == clock_unit) {
        if (unit != clock_unit) return {0.0, QuantityFault::wrong_dimension};
        return {std::fmod(number->value, 12.0) * radians_per_hour};
    }
    const std::string si = si_unit(unit);
    if (written == si) return {number->value};
    const Conversion& to_si = conversion(written, si);
    if (to_si.fault != QuantityFault::none) return {0.0, to_si.fault};
    return {cv_convert_double(to_si.convert.get(), number->value)};
}

std::string_view unit_of(std::string_view text) {
    const auto number = take_number(trimmed(text));
    return number ? number->rest : std::string_view{};
}

} // namespace

ReadQuantity read_quantity(std::string_view text, std::string_view unit) {
    const auto comma = text.find(',');
    const OneValue usual = one_value(text.substr(0, comma), unit, {});
    if (usual.fault != QuantityFault::none) return {{}, usual.fault};
    ReadQuantity out{{usual.si, usual.si, usual.si, false}};
    if (comma == std::string_view::npos) return out;
    const std::string_view band = text.substr(comma + 1);
    const auto to = band.find(" to ");
    if (to == std::string_view::npos) return {{}, QuantityFault::bad_band};
    const std::string_view high_text = band.substr(to + 4);
    const OneValue high = one_value(high_text, unit, {});
    const OneValue low = one_value(band.substr(0, to), unit, unit_of(high_text));
    if (low.fault != QuantityFault::none) return {{}, low.fault};
    if (high.fault != QuantityFault::none) return {{}, high.fault};
    out.value = {usual.si, low.si, high.si, true};
    if (!(low.si <= usual.si && usual.si <= high.si)) out.fault = QuantityFault::bad_band;
    return out;
}

namespace {

std::string find_si_unit(std::string_view unit) {
    struct Pair {
        std::string_view dimension, name;
    };
    static constexpr Pair known[] = {{"1", "1"},
                                     {"m", "m"},
                                     {"m2", "m2"},
                                     {"m3", "m3"},
                                     {"Pa", "Pa"},
                                     {"K", "K"},
                                     {"s", "s"},
                                     {"m/s", "m/s"},
                                     {"N", "N"},
                                     {"N/m", "N/m"},
                                     {"rad", "rad"},
                                     {"m3/Pa", "m3/Pa"},
                                     {"m/Pa", "m/Pa"},
                                     {"1/Pa", "1/Pa"},
                                     {"kg/m3", "kg/m3"},
                                     {"m2/s", "m2/s"},
                                     {"1/K", "1/K"},
                                     {"kg/m3/K", "kg/m3/K"},
                                     {"m3/s/Pa", "m3/s/Pa"}};
    const Unit wanted = parse_unit(unit);
    if (!wanted) throw std::invalid_argument(fmt::format("\"{}\" is not a unit", unit));
    const bool angle = unit == clock_unit || unit == "rad" || unit == "deg" || unit == "degree";
    if (angle) return "rad";
    for (const Pair& p : known) {
        const Unit si = parse_unit(p.dimension);
        if (converter(wanted.get(), si.get())) return std::string(p.name);
    }
    throw std::invalid_argument(fmt::format("no SI unit is held for \"{}\"", unit));
}

} // namespace

std::string si_unit(std::string_view unit) {
    return remembered<std::string>(std::string(unit), [&] { return find_si_unit(unit); });
}

double in_unit(double si, std::string_view unit) {
    if (unit == clock_unit) {
        const double hours = std::fmod(si / radians_per_hour, 12.0),
                     positive = hours < 0.0 ? hours + 12.0 : hours;
        return positive < 1.0 ? positive + 12.0 : positive; // 12:30, not 0:30
    }
    return cv_convert_double(conversion(si_unit(unit), unit).convert.get(), si);
}

namespace {

/// "54", or "12:30" of a clock.
std::string shown_number(double si, std::string_view unit) {
    const double x = in_unit(si, unit);
    if (unit != clock_unit) return fmt::format("{:.4g}", x);
    const int minutes = int(std::lround(60.0 * x)), hour = minutes / 60 > 12 ? 1 : minutes / 60;
    return minutes % 60 == 0 ? fmt::format("{}", hour) : fmt::format("{}:{:02}", hour, minutes % 60);
}

} // namespace

std::string shown(double si, std::string_view unit) {
    const std::string number = shown_number(si, unit);
    return unit == "1" ? number : fmt::format("{} {}", number, unit);
}

std::string shown_band(double low, double high, std::string_view unit) {
    return shown_number(low, unit) + " to " + shown(high, unit);
}

std::string exact(double si, std::string_view si_unit_name) { return fmt::format("{} {}", si, si_unit_name); }

} // namespace clearstroke
