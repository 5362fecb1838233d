#include "analysis/acceptance.hpp"

#include <algorithm>
#include <cmath>

#include <fmt/format.h>

namespace clearstroke {
namespace {

constexpr double mm = 1e-3;
constexpr double no_sink = 0.5 * mm; // movement that a person does not see as sinking, ours
constexpr const char* do_not_drive = "Do not drive: ";

constexpr AcceptanceRule rules[] = {
    {"570.5", "49 CFR 570.5, vehicles up to 10,000 lb", "from memory", 556.0, 10.0, 222.0, 0.80, Assist::any},
    {"570.55", "49 CFR 570.55, vehicles over 10,000 lb", "verified in the text", 556.0, 10.0, 222.0, 0.80,
     Assist::any},
    {"Quebec", "Quebec C-24.2, r. 32, s. 35, without hydraulic assistance", "verified in the text", 550.0,
     60.0, 550.0, 0.65, Assist::none},
    {"Quebec boosted", "Quebec C-24.2, r. 32, s. 35, with hydraulic assistance", "verified in the text",
     265.0, 60.0, 265.0, 0.65, Assist::boosted},
    {"Ohio", "Ohio OAC 4501:2-1-08, without booster", "verified in the text", 267.0, 60.0, 267.0, 2.0 / 3.0,
     Assist::none},
    {"Ohio boosted", "Ohio OAC 4501:2-1-08, with booster", "verified in the text", 267.0, 60.0, 89.0, 0.80,
     Assist::boosted},
};

std::string longer(const PedalFacts& facts, double force) {
    const double more = (facts.travel - facts.without_air) / mm;
    if (more < 0.5) return fmt::format("at {:.0f} N as short as this layout without air", force);
    return fmt::format("at {:.0f} N {:.0f} mm longer than this layout without air", force, more);
}

} // namespace

std::span<const AcceptanceRule> acceptance_rules() { return rules; }

const AcceptanceRule* find_acceptance_rule(std::string_view name) {
    const auto* found = std::ranges::find(rules, name, &AcceptanceRule::name);
    return found == std::end(rules) ? nullptr : found;
}

std::string_view name_of(Verdict verdict) {
    switch (verdict) {
    case Verdict::met:
        return "in-service minimum met";
    case Verdict::not_met:
        return "in-service minimum not met";
    case Verdict::cannot_be_judged:
        return "cannot be judged";
    case Verdict::no_rule:
        break;
    }
    return "no public rule held for this kind of circuit";
}

Acceptance accept(const AcceptanceRule* rule, const PedalFacts& facts) {
    if (!rule)
        return {Verdict::no_rule,
                fmt::format("No public rule is held for this kind of circuit: {:.0f} mm longer "
                            "than this layout without air.",
                            std::max(0.0, (facts.travel - facts.without_air) / mm))};
    const std::string source = fmt::format("{} ({})", rule->scope, rule->standing);
    const bool sinks = facts.sink && *facts.sink > no_sink;
    if (sinks && !facts.available)
        return {Verdict::not_met, fmt::format("{}the pedal sinks {:.1f} mm in {:.0f} s at {:.0f} N; {}.",
                                              do_not_drive, *facts.sink / mm, rule->hold_seconds,
                                              rule->hold_force, longer(facts, rule->travel_force))};
    if (!facts.available)
        return {Verdict::cannot_be_judged, fmt::format("Cannot be judged: the travel from rest to the floor "
                                                       "is not stated (pedal.travel, of a listed "
                                                       "actuator its pad_travel); {}.",
                                                       longer(facts, rule->travel_force))};
    const double share = facts.travel / *facts.available;
    const bool met = share <= rule->travel_share && !sinks;
    std::string text =
        fmt::format("{} by {}: {:.0f} % of the travel to the floor, at most {:.0f} %; {}",
                    met ? "In-service minimum met" : std::string(do_not_drive) + "in-service minimum not met",
                    source, 100.0 * share, 100.0 * rule->travel_share, longer(facts, rule->travel_force));
    if (facts.sink)
        text += sinks
                    ? fmt::format("; sinks {:.1f} mm in {:.0f} s at {:.0f} N", *facts.sink / mm,
                                  rule->hold_seconds, rule->hold_force)
                    : fmt::format("; no sink in {:.0f} s at {:.0f} N", rule->hold_seconds, rule->hold_force);
    if (rule->assist != Assist::any && (rule->assist == Assist::boosted) != facts.boosted)
        text += facts.boosted ? "; that rule is for brakes without a booster, this one has one"
                              : "; that rule is for boosted brakes, this one has no booster";
    return {met ? Verdict::met : Verdict::not_met, text + ". A minimum is no proof that the air is out."};
}

} // namespace clearstroke
