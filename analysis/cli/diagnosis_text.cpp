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
constexpr std::size_t most_tests = 3, named_places = 2;

/// Causes of a set that have a chance, the likeliest first.
std::vector<Cause> causes_of(const Weighed& w, const WeighedSet& set,
                             std::array<double, causes_in_all>& probability) {
    std::vector<Cause> out;
    for (const std::size_t h : set.suspects) {
        const Cause cause = w.bank.suspects[h].cause;
        if (std::ranges::find(out, cause) == out.end()) out.push_back(cause);
        probability[static_cast<std::size_t>(cause)] += w.diagnosis.suspect_probability[h];
    }
    const auto chance = [&](Cause c) { return probability[static_cast<std::size_t>(c)]; };
    std::ranges::stable_sort(out, std::greater{}, chance);
    std::erase_if(out, [&](Cause c) { return c != out.front() && chance(c) < least_shown; });
    return out;
}

/// Causes of a set with their places (at most so many of each), each with its probability when there are
/// several.
std::string set_text(const Weighed& w, const WeighedSet& set, std::size_t most_places) {
    std::array<double, causes_in_all> probability{};
    const std::vector<Cause> causes = causes_of(w, set, probability);
    std::vector<std::string> out;
    for (const Cause cause : causes) {
        std::vector<std::string> places;
        for (const std::size_t h : set.suspects)
            if (w.bank.suspects[h].cause == cause && !w.bank.suspects[h].place.empty())
                places.push_back(w.bank.suspects[h].place);
        std::string text(name_of(cause));
        if (places.size() > most_places)
            text += fmt::format(" ({} places)", places.size());
        else if (!places.empty())
            text += fmt::format(" ({})", fmt::join(places, ", "));
        if (causes.size() > 1)
            text += fmt::format(" {:.0f} %", 100.0 * probability[static_cast<std::size_t>(cause)]);
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
        return fmt::format("Most likely {}: {:.0f} %{}.", set_text(w, first, named_places),
                           100.0 * first.probability,
                           first.suspects.size() > 1 ? "; these readings do not tell them apart" : "");
    case Finding::no_fault:
        return fmt::format(
            "These readings are those of a sound pedal of this layout: {:.0f} %.{} What was not measured can "
            "still be there.",
            100.0 * d.in_first[static_cast<std::size_t>(Cause::none)], too_small_to_show(d));
    case Finding::cannot_tell:
        return first.probability < 0.5
                   ? fmt::format("Cannot tell: these readings fit {} best, but only with {:.0f} %.",
                                 set_text(w, first, named_places), 100.0 * first.probability)
                   : fmt::format("Cannot tell: these readings do not separate {}.",
                                 set_text(w, first, named_places));
    case Finding::none_fits:
        return "Cannot tell: no single cause explains these readings. Read them again, check the layout; it "
               "may be two faults at once.";
    }
    return {};
}

std::string reach_text(const std::vector<PlaceAir>& kept) {
    std::vector<std::string> places;
    for (const PlaceAir& at : kept) places.push_back(fmt::format("{} {} mL", at.place, ml_text(at.beyond)));
    return fmt::format("bleeding as it stands leaves above the screw: {}; more than that, and what is in the "
                       "pipes, it can move",
                       fmt::join(places, ", "));
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
            sets.row(
                {fmt::format("{:.0f}", 100.0 * set.probability), set_text(w, set, w.bank.suspects.size())});
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
    std::array<double, causes_in_all> probability{};
    for (const Cause cause : causes_of(w, d.sets.front(), probability))
        if (cause != Cause::none && probability[static_cast<std::size_t>(cause)] >= rules_out)
            append(out, labelled("cure", fmt::format("{}: {}", name_of(cause), cure_of(cause))));
    if (!w.kept.empty()) append(out, labelled("reach", reach_text(w.kept)));
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
    Json kept = Json::object();
    for (const PlaceAir& at : w.kept) kept[at.place] = in_ml(at.beyond);
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
        {"air_that_bleeding_leaves_ml", kept},
        {"readings", readings},
        {"next_tests", tests},
        {"information", rounded(w.information)}};
}

} // namespace clearstroke
