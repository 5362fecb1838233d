#pragma once
/// The pedal test, computed: travel against force before and after bleeding and without air, three quick
/// strokes, sink under a hold.
#include <vector>

#include "analysis/acceptance.hpp"
#include "analysis/plan_run.hpp"

namespace clearstroke {

/// States that a pedal is tested in.
struct PedalCases {
    State before, after;
    RunStatus status;
};
/// As the work left it (after the preparation), and bled by the case's own visits.
[[nodiscard]] PedalCases bled_state(const Case&, const Settings& = {});

/// Forces [N], lengths at pad or grip [m].
struct PedalTest {
    ActuatorId actuator;
    std::vector<double> forces, before, after, without_air;
    std::vector<char> at_stop; ///< per force, after bleeding
    double test_force{};       ///< of the quick strokes
    std::vector<double> strokes_before, strokes_after;
    double hold_force{}, hold_seconds{}, sink{};
    double travel_at_rule{}, without_air_at_rule{}; ///< at the rule's force; without a rule at the test force
};

/// Without a rule (hand levers, clutches) the quick strokes and the hold use the first reference force.
[[nodiscard]] PedalTest test_pedal(const Case&, const PedalCases&, ActuatorId, std::vector<double> forces,
                                   const AcceptanceRule*, const Settings& = {});

/// Is a public rule held for this actuator? For foot-worked ones that feed several wheels.
[[nodiscard]] bool rule_held_for(const Network&, ActuatorId);

} // namespace clearstroke
