#pragma once
/// Public rules for the pedal of a vehicle in use, and what a computed travel says under them.
///
/// A rule has a scope and is a minimum: meeting it is no proof that the air is out, so a verdict never stands
/// without the comparison with the same layout free of air. None is held for motorcycles, clutches and
/// aircraft. Sources: cfr570 570.5 [from memory], 570.55(b), (c) [verified in the text]; quebec_c24_2_r32 s.
/// 35 [verified in the text]; ohio_4501_2_1_08 [verified in the text].
#include <optional>
#include <span>
#include <string>
#include <string_view>

namespace clearstroke {

/// Brakes that a rule speaks of.
enum class Assist { any, none, boosted };

struct AcceptanceRule {
    std::string_view name, scope, standing; ///< standing: how far the text was verified
    double hold_force{}, hold_seconds{};    ///< [N], [s]
    double travel_force{};                  ///< [N]
    double travel_share{};                  ///< most of the travel from rest to the floor [-]
    Assist assist{Assist::any};             ///< the engine runs in the travel test of boosted brakes
};

/// "570.5", "570.55", "Quebec", "Quebec boosted", "Ohio", "Ohio boosted".
[[nodiscard]] std::span<const AcceptanceRule> acceptance_rules();
[[nodiscard]] const AcceptanceRule* find_acceptance_rule(std::string_view name);

enum class Verdict { met, not_met, cannot_be_judged, no_rule };
[[nodiscard]] std::string_view name_of(Verdict);

/// Pedal of one actuator, computed. Lengths [m].
struct PedalFacts {
    double travel{}, without_air{};  ///< at the rule's travel force
    std::optional<double> available; ///< rest to floor
    std::optional<double> sink;      ///< gained while the rule's hold force was held
    bool boosted{};
};

/// A sentence that must be heeded first begins with "Do not drive".
struct Acceptance {
    Verdict verdict{};
    std::string sentence;
};

/// Null rule: no public rule is held for this kind of circuit.
[[nodiscard]] Acceptance accept(const AcceptanceRule*, const PedalFacts&);

} // namespace clearstroke
