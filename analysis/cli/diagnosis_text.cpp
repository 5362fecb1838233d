#include <algorithm>
#include <array>
#include <cmath>

#include <fmt/format.h>
#include <fmt/ranges.h>

#include "analysis/cli/diagnosis_view.hpp"

namespace clearstroke {
namespace {

constexpr double least_shown = 0.005;      // probability
constexpr double rules_out = 0.02;         // probability below which a cause is not named
constexpr double least_information = 0.05; // [bit]
constexpr std::size_t most_tests = 3;

/// Causes of a set with their places, each with its probability when there are several.
std::string set_text(const Weighed& w, const WeighedSet& set) {
    std::array<double, causes_in_all> probability{};
    std::array<std::vector<std::string>, causes_in_all> places;
    std::vector<std::size_t> causes;
    for (const std::size_t h : set.suspects) {
        const auto cause = static_cast<std::size_t>(w.bank.suspects[h].cause);
        if (std::ranges::find(causes, cause) == causes.end()) causes.push_back(cause);
        probability[cause] += w.diagnosis.suspect_probability[h];
        if (!w.bank.suspects[h].place.empty()) places[cause].push_back(w.bank.suspects[h].place);
    }
    std::ranges::stable_sort(causes, std::greater{}, [&](std::size_t c) { return probability[c]; });
    std::vector<std::string> out;
    for (const std::size_t c : causes) {
        std::string text(name_of(static_cast<Cause>(c)));
        if (!places[c].empty()) text += fmt::format(" ({})", fmt::join(places[c], ", "));
        if (causes.size() > 1) text += fmt::format(" {:.0f} %", 100.0 * probability[c]);
        out.push_back(std::move(text));
    }
    return fmt::format("{}", fmt::join(out, ", or "));
}

/// Other causes of the first set, that readings of a sound pedal do not rule out.
std::string too_small_to_show(const Diagnosis& d) {
    std::vector<std::string> causes;
    for (std::size_t c = 0; c < causes_in_all; ++c)
        if (static_cast<Cause>(c) != Cause::none && d.in_first[c] >= rules_out)
            causes.push_back(
                fmt::format("{} {:.0f} %", name_of(static_cast<Cause>(c)), 100.0 * d.in_first[c]));
    if (causes.empty()) return {};
    return fmt::format(" They do not tell it from a fault too small to show: {}.", fmt::join(causes, ", "));
}

std::string sentence(const Weighed& w) {
    const Diagnosis& d = w.diagnosis;
    const WeighedSet& first = d.sets.front();
    switch (d.finding) {
    case Finding::told:
        return fmt::format("Most likely {}: {:.0f} %.", set_text(w, first), 100.0 * first.probability);
    case Finding::no_fault:
        return fmt::format(
            "These readings are those of a sound pedal of this layout: {:.0f} %.{} What was not measured can "
            "still be there.",
            100.0 * d.in_first[static_cast<std::size_t>(Cause::none)], too_small_to_show(d));
    case Finding::cannot_tell:
        return first.probability < 0.5
                   ? fmt::format("Cannot tell: these readings fit {} best, but only with {:.0f} %.",
                                 set_text(w, first), 100.0 * first.probability)
                   : fmt::format("Cannot tell: these readings do not separate {}.", set_text(w, first));
    case Finding::none_fits:
        return "Cannot tell: no single cause explains these readings. Read them again, check the layout; it "
               "may be two faults at once.";
    }
    return {};
}

std::string value_text(const Reading& r, double value) {
    if (std::abs(value) < 1e-9) value = 0.0;
    return r.what == Reads::lost ? fmt::format("{:.1f} mL", 1e6 * value)
                                 : fmt::format("{:.1f} mm", 1e3 * value);
}

} // namespace

Lines text_of(const Weighed& w) {
    const Diagnosis& d = w.diagnosis;
    Lines out;
    if (!w.leads.empty())
        append(out, wrap(fmt::format("Do not drive: {}.", fmt::join(w.leads, "; ")), text_width));
    append(out, wrap(sentence(w), text_width));
    if (d.air && d.air_probability >= no_drive_from)
        append(out, wrap(fmt::format("If it is air (probability {:.0f} %): {} mL, 90 % between {} and {} mL.",
                                     100.0 * d.air_probability, ml_text((*d.air)[1]), ml_text((*d.air)[0]),
                                     ml_text((*d.air)[2])),
                         text_width));
    out.emplace_back();
    Table sets({">%", "what the readings cannot tell apart is one line"});
    for (const WeighedSet& set : d.sets)
        if (set.probability >= least_shown)
            sets.row({fmt::format("{:.0f}", 100.0 * set.probability), set_text(w, set)});
    append(out, sets.lines());
    out.emplace_back();
    Table readings({"reading", ">measured", ">predicted from the others"});
    for (std::size_t i = 0; i < w.readings.size(); ++i)
        readings.row({text_of(w.readings[i].reading, w.bank.network),
                      value_text(w.readings[i].reading, w.readings[i].value),
                      fmt::format("{} +- {}", value_text(w.readings[i].reading, d.predicted[i]),
                                  value_text(w.readings[i].reading, d.predicted_error[i]))});
    append(out, readings.lines());
    out.emplace_back();
    std::vector<Cause> done;
    for (const std::size_t h : d.sets.front().suspects) {
        const Cause cause = w.bank.suspects[h].cause;
        if (cause == Cause::none || std::ranges::find(done, cause) != done.end()) continue;
        done.push_back(cause);
        append(out, labelled("cure", fmt::format("{}: {}", name_of(cause), cure_of(cause))));
    }
    for (std::size_t i = 0; i < std::min(most_tests, w.tests.size()); ++i)
        if (w.tests[i].information >= least_information)
            append(out, labelled(i == 0 ? "next" : "or",
                                 fmt::format("{} ({:.1f} bit)", w.tests[i].name, w.tests[i].information)));
    append(out, wrap("Vehicle stationary and chocked, nobody beneath, a second person reads the scale; stop "
                     "at any wetness.",
                     text_width));
    return out;
}

Json json_of(const Weighed& w) {
    static constexpr std::array findings{"told", "no fault", "cannot tell", "none fits"};
    const Diagnosis& d = w.diagnosis;
    Json sets = Json::array(), readings = Json::array(), tests = Json::array();
    for (const WeighedSet& set : d.sets) {
        Json members = Json::array();
        for (const std::size_t h : set.suspects)
            members.push_back({{"cause", std::string(name_of(w.bank.suspects[h].cause))},
                               {"place", w.bank.suspects[h].place},
                               {"probability", rounded(d.suspect_probability[h])},
                               {"cure", std::string(cure_of(w.bank.suspects[h].cause))}});
        sets.push_back({{"probability", rounded(set.probability)}, {"suspects", members}});
    }
    for (std::size_t i = 0; i < w.readings.size(); ++i) {
        const bool volume = w.readings[i].reading.what == Reads::lost;
        const auto shown = [&](double x) { return volume ? in_ml(x) : in_mm(x); };
        readings.push_back({{"reading", text_of(w.readings[i].reading, w.bank.network)},
                            {"unit", volume ? "mL" : "mm"},
                            {"measured", shown(w.readings[i].value)},
                            {"predicted", shown(d.predicted[i])},
                            {"predicted_error", shown(d.predicted_error[i])}});
    }
    for (const FurtherTest& test : w.tests)
        tests.push_back({{"test", test.name}, {"information_bit", rounded(test.information)}});
    return {
        {"do_not_drive", w.leads},
        {"sentence", sentence(w)},
        {"finding", findings[static_cast<std::size_t>(d.finding)]},
        {"sets", sets},
        {"air_probability", rounded(d.air_probability)},
        {"air_ml", d.air ? Json{in_ml((*d.air)[0]), in_ml((*d.air)[1]), in_ml((*d.air)[2])} : Json(nullptr)},
        {"readings", readings},
        {"next_tests", tests},
        {"information", rounded(w.information)}};
}

} // namespace clearstroke
