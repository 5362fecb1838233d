#pragma once
/// The pedal test, computed: travel against force on three strokes, slow and quick, before and after
/// bleeding and without air; sink under a hold; the engine; what the travel is made of; what air costs.
#include <string>
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

/// How the pedal is worked in the test.
struct PedalPace {
    double gap{0.5};          ///< released between the strokes of a row [s]
    double slow_return{0.1};  ///< speed at the pad with which a slow stroke is let go [m/s]
    double quick_push{0.25};  ///< speed at the pad of a quick push [m/s]
    double quick_return{0.4}; ///< and of letting go after it [m/s]
};

/// Three strokes in a row: [stroke][force], travel at the pad [m].
struct StrokeCurves {
    std::vector<std::vector<double>> slow, quick;
    std::vector<double> easing; ///< first slow stroke, on the way back from the greatest force
    std::vector<char> at_stop;  ///< first slow stroke, per force
};

/// Travel of the first application with the engine running, and of three after it stopped [force].
struct EngineCurves {
    std::vector<double> running;
    std::vector<std::vector<double>> stopped;
};

/// A cause's share of the travel, with the part by name (empty: none).
struct NamedShare {
    std::string cause, place;
    double travel{}; ///< [m]
};

/// The same at each force of a test [m].
struct ShareByForce {
    std::string cause, place;
    std::vector<double> travel;
};

/// Cost of air in one place, and how much of it uses up what the rule leaves (or all, without a rule).
struct AirCost {
    std::string place;
    double travel_per_ml{};             ///< of the first millilitre [m]
    std::optional<double> to_the_limit; ///< more free air that brings the travel to the limit [m^3]
};

/// Forces [N], lengths at pad or grip [m].
struct PedalTest {
    ActuatorId actuator;
    PedalPace pace;
    std::vector<double> forces;
    StrokeCurves before, after, without_air;
    EngineCurves engine; ///< after bleeding; empty without a booster
    double test_force{}; ///< of the split and the cost of air
    double hold_force{}, hold_seconds{}, sink_before{}, sink{};
    double recovered{};                             ///< fresh stroke after that hold, less the first [m]
    double travel_at_rule{}, without_air_at_rule{}; ///< at the rule's force; without a rule at the test force
    std::vector<NamedShare> split;                  ///< of the first slow stroke after bleeding
    std::vector<ShareByForce> split_by_force;       ///< at `forces`; each column adds up to the travel
    std::vector<AirCost> air_costs;
    bool limit_known{}; ///< the travel to the floor is; else no air uses up the reserve
};

/// Without a rule (hand levers, clutches) the hold, the split and the costs use the first reference force.
[[nodiscard]] PedalTest test_pedal(const Case&, const PedalCases&, ActuatorId, std::vector<double> forces,
                                   const AcceptanceRule*, const PedalPace& = {}, const Settings& = {});

/// Is a public rule held for this actuator? For foot-worked ones that feed several wheels.
[[nodiscard]] bool rule_held_for(const Network&, ActuatorId);

} // namespace clearstroke
