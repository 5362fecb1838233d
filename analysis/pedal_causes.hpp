#pragma once
/// What can be wrong with a pedal, where, and how much of it: each suspect changes parameters of the parts of
/// a pedal model, nothing else. Ranges of amounts are ours, log-uniform: from what a careful person can just
/// notice to what nobody overlooks.
#include <array>
#include <string>
#include <vector>

#include "sim/pedal_stroke.hpp"

namespace clearstroke {

enum class Cause {
    none,
    air,
    air_entry,
    slack,
    roll_back,
    knock_back,
    hose,
    bypass,
    leak,
    blocked_port,
    booster_out
};
inline constexpr std::size_t causes_in_all = 11;

[[nodiscard]] std::string_view name_of(Cause);
[[nodiscard]] std::string_view cure_of(Cause);
/// Sinks, loses fluid, lets air in or takes the help away: not to be driven with.
[[nodiscard]] bool dangerous(Cause);

[[nodiscard]] inline bool is_air(Cause c) { return c == Cause::air || c == Cause::air_entry; }

/// Amounts of a cause, SI: free air, slack, volume rolled or knocked back [m^3], factor on a hose's swelling
/// [-], conductance [m^3/(s Pa)], share of the vacuum lost [-]; none and a blocked port have no amount.
struct AmountRange {
    double low{}, high{};
};
[[nodiscard]] AmountRange amounts_of(Cause);

/// A part of a circuit of the model.
struct PartAt {
    std::size_t circuit{}, part{};
};

struct Suspect {
    Cause cause{};
    std::string place; ///< empty: none
    std::vector<PartAt>
        parts;     ///< that share the amount; of bypass and blocked port: the circuit alone counts
    double room{}; ///< most free air that the parts hold [m^3]; air only
    [[nodiscard]] std::string name() const;
};

/// Every cause in every place where this model can have it; "none" first.
[[nodiscard]] std::vector<Suspect> suspects_of(const Network&, const PedalModel&);
/// Amounts of its cause that a suspect's parts have room for.
[[nodiscard]] AmountRange amounts_in(const Suspect&);

/// Puts `amount` of the suspect's fault into the model.
void afflict(PedalModel&, const Suspect&, double amount);

/// What a person sees at the screws while bleeding, and around the parts.
enum class Bubbles { none, declined, did_not_decline };
inline constexpr double air_entry_while_pumping =
    1e-11; ///< conductance of a joint that draws air [m^3/(s Pa)], ours

/// Chance that a person sees this under a cause [-] (ours: judgement, not data).
[[nodiscard]] double chance_of(Bubbles, Cause);
[[nodiscard]] double chance_of_wet(bool wet, Cause);

} // namespace clearstroke
