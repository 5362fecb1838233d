#pragma once
/// What is done to a circuit: plain acts, methods made of them, and visits to screws.
#include <optional>
#include <string>
#include <variant>
#include <vector>

#include "sim/network.hpp"

namespace clearstroke {

/// A person or machine on an actuator, as seen at pad or grip.
struct Operator {
    double push_speed{0.06};      ///< [m/s]
    double release_speed{0.10};   ///< [m/s]
    double force_limit{250.0};    ///< [N]; within the last tenth the push slows in proportion
    double stroke_share{0.8};     ///< of the rod's full travel that a stroke uses (0, 1]
    double hold{1.0};             ///< pressed, at the end of a stroke [s]
    double dwell{2.0};            ///< released, before the next stroke [s]
    double act_time{3.0};         ///< to open or close a screw [s]
    double move_time{90.0};       ///< to go to the next screw and fit the hose [s]
    double turns{0.5};            ///< a screw is opened by [turns]
    double top_up_below{0.5};     ///< share of the reservoir's capacity at which it is topped up [-]
};

// Acts. An empty `screw` means the screw being visited; an empty `actuator` the one that feeds it.
struct OpenScrew { std::optional<ScrewId> screw; std::optional<double> turns; };
struct CloseScrew { std::optional<ScrewId> screw; };
struct Press { std::optional<ActuatorId> actuator; };          ///< push to travel or force limit, then hold
struct Release { std::optional<ActuatorId> actuator; };        ///< back to rest, then dwell
struct Wait { double seconds{}; };
struct TopUp {};                                               ///< reservoirs to their initial level
struct TurnPart { VolumeId volume; double roll{}; };           ///< to this roll, seen from outboard [rad]
struct PitchVehicle { double pitch{}, roll{}; };               ///< [rad]
struct Cap { LineId line; bool capped{true}; };                ///< shut (or reopen) a line at its `from` end
struct HoseEnd { bool submerged{true}; };                      ///< put the clear hose's end under fluid, or in air

using Act = std::variant<OpenScrew, CloseScrew, Press, Release, Wait, TopUp, TurnPart, PitchVehicle, Cap, HoseEnd>;

/// Acts of a visit to a screw: once on arrival, once per stroke, once on leaving.
struct Method {
    std::string name;
    std::vector<Act> arrive, stroke, leave;
};

[[nodiscard]] Method one_person_hose_in_bottle();   ///< screw stays open, hose end in the bottle
[[nodiscard]] Method two_people_closed_before_release();
[[nodiscard]] Method gravity(double watch = 10.0);  ///< a "stroke" is `watch` seconds of looking [s]
[[nodiscard]] std::vector<std::string> method_names();
[[nodiscard]] std::optional<Method> find_method(const std::string& name);

/// When a visit ends; sees only what a person sees.
struct StopRule {
    int clear_strokes{2};         ///< in a row without a visible bubble
    double hose_volumes{1.0};     ///< that must have passed before clear strokes count [-]
    double new_colour{};          ///< share of fresh fluid seen at the hose before it counts [-]; 0: not looked at
    int most_strokes{60};         ///< then stopped at limit
};

struct Visit {
    ScrewId screw;
    std::optional<int> strokes;   ///< fixed count instead of the stop rule
    std::vector<Act> before;      ///< acts before arrival, such as turning a part
};

/// What a plan is judged by.
struct Target {
    double excess{1e-7};          ///< free air per circuit above what is beyond reach [m^3]
    std::vector<double> pad_forces{222.0, 500.0};   ///< reference forces for travel [N]
};

struct Procedure {
    Method method;
    Operator person;
    StopRule stop;
    Target target;
    std::vector<Act> prepare;             ///< before the first visit
    std::vector<Visit> visits;            ///< in the file's own order
};

}  // namespace clearstroke
