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
    double push_speed{0.06};    ///< [m/s]
    double release_speed{0.10}; ///< [m/s]
    double force_limit{250.0};  ///< [N]; within the last tenth the push slows in proportion
    double stroke_share{0.8};   ///< of the rod's full travel that a stroke uses (0, 1]
    double hold{1.0};           ///< pressed, at the end of a stroke [s]
    double dwell{2.0};          ///< released, before the next stroke [s]
    double act_time{3.0};       ///< to open or close a screw [s]
    double move_time{90.0};     ///< to go to the next screw and fit the hose [s]
    double turns{0.5};          ///< a screw is opened by [turns]
    double top_up_below{0.5};   ///< share of the reservoir's capacity at which it is topped up [-]
};

// Acts. An empty `screw` means the screw being visited; an empty `actuator` the one that feeds it; other
// empty values those of the Operator.
struct OpenScrew {
    std::optional<ScrewId> screw;
    std::optional<double> turns;
};
struct CloseScrew {
    std::optional<ScrewId> screw;
};
struct OpenAll {}; ///< every screw of the visited one's circuit, one after the other
struct CloseAll {};
/// Push to travel or force limit, then hold.
struct Press {
    std::optional<ActuatorId> actuator{};
    std::optional<double> share{}; ///< of the rod's full travel [-]
    std::optional<double> force{}; ///< limit at pad or grip [N]
    std::optional<double> hold{};  ///< [s]
};
/// Back to rest, then dwell.
struct Release {
    std::optional<ActuatorId> actuator{};
    std::optional<double> speed{}; ///< at pad or grip [m/s]
    std::optional<double> dwell{}; ///< [s]
};
struct PushHome {
    ActuatorId actuator;
}; ///< a blind piston by hand to its stop; it stays there
struct Wait {
    double seconds{};
};
struct TopUp {};   ///< reservoirs up to their initial level
struct DrawOff {}; ///< reservoirs down to their initial level
struct TurnPart {
    VolumeId volume;
    double roll{};
}; ///< to this roll, seen from outboard [rad]
struct LiftPart {
    VolumeId volume;
    double lift{};
}; ///< unbolted and held this much above its place [m]
struct PitchVehicle {
    double pitch{}, roll{};
}; ///< [rad]
struct Cap {
    LineId line;
    bool capped{true};
}; ///< part (or join) a union: a line shut at its `from` end
struct CapAround {
    bool capped{true};
}; ///< the same for every line whose `from` end is in the visited part
struct Clamp {
    LineId line;
    bool clamped{true};
}; ///< squeeze (or free) a hose at its `from` end
struct HoldValve {
    LineId line;
    bool open{true};
}; ///< hold (or let go) the valve of a line wide open
struct HoseEnd {
    bool submerged{true};
};                  ///< put the clear hose's end under fluid, or in air
struct HoseOff {};  ///< take the clear hose off: the screw opens to the air
struct FillHose {}; ///< fit the clear hose full of fresh fluid
struct OneWayHose {
    bool fitted{true};
}; ///< with a one-way valve at the clear hose's end, or without
struct HosePressure {
    double gauge{};
}; ///< at the clear hose's end: vacuum below zero, injection above [Pa]
struct ReservoirPressure {
    double gauge{};
}; ///< on all reservoirs; 0 vents them [Pa]
struct Tap {
    std::optional<VolumeId> volume;
}; ///< a part, or all: frees gas held at its walls

using Act = std::variant<OpenScrew, CloseScrew, OpenAll, CloseAll, Press, Release, PushHome, Wait, TopUp,
                         DrawOff, TurnPart, LiftPart, PitchVehicle, Cap, CapAround, Clamp, HoldValve, HoseEnd,
                         HoseOff, FillHose, OneWayHose, HosePressure, ReservoirPressure, Tap>;

/// Acts of a visit to a screw: once on arrival, once per stroke, once on leaving.
struct Method {
    std::string name;
    std::vector<Act> arrive, stroke, leave;
    bool at_reservoir{}; ///< bubbles are looked for in the reservoir, not in the clear hose
};

// Ready-made lists; docs/model/methods.md says what each is for.
[[nodiscard]] Method one_person_hose_in_bottle(); ///< screw stays open, hose end in the bottle
[[nodiscard]] Method two_people_closed_before_release();
[[nodiscard]] Method gravity(double watch = 10.0); ///< a "stroke" is `watch` seconds of looking [s]
[[nodiscard]] Method one_way_hose();               ///< as one person, with a valve at the hose's end
[[nodiscard]] Method pump_and_hold(int pumps = 3); ///< pumped shut, then opened and closed under the foot
[[nodiscard]] Method reservoir_pressure(double gauge = 1e5, double watch = 10.0); ///< [Pa], [s]
[[nodiscard]] Method vacuum_at_the_screw(double suction = 6e4, double watch = 10.0);
[[nodiscard]] Method injection_at_the_screw(double gauge = 5e4, double watch = 10.0);
[[nodiscard]] Method long_hold_and_release(double hold = 8.0 * 3600.0);
[[nodiscard]] Method small_strokes(double share = 0.1);
[[nodiscard]] Method at_a_joint();     ///< a union as a bleed point: short strokes
[[nodiscard]] Method prime_in_place(); ///< the visited cylinder by itself, its lines capped meanwhile
[[nodiscard]] Method
several_screws(); ///< every screw of the circuit open at once; only the visited one has the hose

[[nodiscard]] std::vector<std::string> method_names();
[[nodiscard]] std::optional<Method> find_method(const std::string& name);

/// When a visit ends; sees only what a person sees.
struct StopRule {
    int clear_strokes{2};     ///< in a row without a visible bubble
    double hose_volumes{1.0}; ///< that must have passed before clear strokes count [-]
    double new_colour{};  ///< share of fresh fluid seen at the hose before it counts [-]; 0: not looked at
    int most_strokes{60}; ///< then stopped at limit
};

struct Visit {
    ScrewId screw;
    std::optional<int> strokes{};   ///< fixed count instead of the stop rule
    std::vector<Act> before{};      ///< acts before arrival, such as turning a part
    std::optional<Method> method{}; ///< instead of the procedure's
};

/// What a plan is judged by.
struct Target {
    double excess{1e-7};                          ///< free air per circuit above what is beyond reach [m^3]
    std::vector<double> pad_forces{222.0, 500.0}; ///< reference forces for travel [N]
};

struct Procedure {
    Method method;
    Operator person;
    StopRule stop;
    Target target;
    std::vector<Act> prepare;  ///< before the first visit
    std::vector<Visit> visits; ///< in the file's own order
};

} // namespace clearstroke
