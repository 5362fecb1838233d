#pragma once
/// A circuit while it is being put together: parts are added under names and found by them.
#include <optional>
#include <set>
#include <string>
#include <string_view>
#include <vector>

#include "scenarios/build/inputs.hpp"
#include "sim/parameter.hpp"

namespace clearstroke {

struct Parts {
    Network net;
    Contents contents;

    VolumeId add(Volume);
    LineId add(Line);
    JunctionId add(Junction);
    ReservoirId add(Reservoir);
    ScrewId add(Screw);

    [[nodiscard]] std::optional<VolumeId> volume(std::string_view name) const;
    [[nodiscard]] std::optional<LineId> line(std::string_view name) const;
    [[nodiscard]] std::optional<JunctionId> junction(std::string_view name) const;
    [[nodiscard]] std::optional<ReservoirId> reservoir(std::string_view name) const;
    [[nodiscard]] std::optional<ActuatorId> actuator(std::string_view name) const;
    [[nodiscard]] std::optional<ScrewId> screw(std::string_view name) const;

    /// "part:port" of a volume, or the name of a tee.
    [[nodiscard]] std::optional<std::variant<PortRef, JunctionId>> opening(std::string_view text) const;
    [[nodiscard]] std::string name_of(const std::variant<PortRef, JunctionId>&) const;
    /// Height above ground of a port or tee [m].
    [[nodiscard]] double height_of(const std::variant<PortRef, JunctionId>&) const;
    [[nodiscard]] std::vector<std::string> names() const; ///< of all volumes, lines and their places
};

/// Name and centre of a cavity. Metres, cubic metres.
struct CavitySpec {
    std::string name, place;
    double content{}, bore{}, height{}, ahead{}, outboard{}, tilt{};
};

/// Volumes that a rod's pistons stroke: all but those of blind pistons.
[[nodiscard]] std::set<std::size_t> stroked_chambers(const Network&);

/// A volume whose depth follows from content and bore; no ports, stiff walls.
[[nodiscard]] Volume round_volume(const CavitySpec&);

/// Walls of a cylinder's thick body: ten times a pipe's, nothing beside its fluid (ours). `content` [m^3].
[[nodiscard]] ElasticLaw cylinder_body(double content);

/// Port whose hole of `diameter` begins `below` the wall of the bore at `clock`.
[[nodiscard]] Port drilled_port(std::string name, const Cavity&, double clock, double below, double diameter);

/// Screw at a port of `volume`, dimensions by the thread in the keys `thread` (if stated) or [bleed_screw].
[[nodiscard]] Screw screw_at(Inputs&, const Parts&, std::string name, std::string wheel, PortRef,
                             std::optional<std::string> thread);

/// Walls of pipe and of hose.
[[nodiscard]] ElasticLaw pipe_walls(Inputs&, double bore, double length);
[[nodiscard]] ElasticLaw hose_walls(Inputs&, double bore, double length);
[[nodiscard]] int lumps_of(Inputs&, double length);

/// A line between two openings, heights taken from them.
[[nodiscard]] Line pipe_between(Inputs&, const Parts&, std::string name, std::string place, double length,
                                End from, End to);
[[nodiscard]] Line hose_between(Inputs&, const Parts&, std::string name, std::string place, double length,
                                End from, End to);

// Shorthand of each family, the parts listed one by one, the state at the start, and the work to do.
void build_car(Inputs&, Parts&);
void build_motorcycle(Inputs&, Parts&);
void build_clutch(Inputs&, Parts&);
void build_listed_parts(Inputs&, Parts&);
void build_faults(Inputs&, Parts&);
void build_hand_brake(Inputs&, Parts&); ///< after the faults
void build_conditions(Inputs&, Parts&);
void build_contents(Inputs&, Parts&);
[[nodiscard]] Procedure build_procedure(Inputs&, const Parts&);
/// Loops, small reservoirs, valves that block the method, gas that it cannot move.
void warn_of_work(Inputs&, const Case&);

/// What a master cylinder is made from, whatever its section is called.
struct CylinderSpec {
    std::string actuator, reservoir;
    std::vector<std::string> chambers;             ///< one or two
    std::vector<std::vector<std::string>> outlets; ///< port names of each chamber
    Coupling coupling{Coupling::single};
    std::vector<double> bores, strokes; ///< per chamber [m]
    double height{}, tilt{}, ratio{}, reservoir_above{};
    double ahead{}, outboard{};
    std::optional<double> pad_travel;
    bool hand{};
};
void build_cylinder(Inputs&, Parts&, const CylinderSpec&);

/// A wheel's place and the axle whose keys it falls back to.
struct WheelSpec {
    std::string wheel, axle;
    double height{}, ahead{}, outboard{};
};
/// Adds the brake of a wheel and its screws; the port that its hose enters.
[[nodiscard]] PortRef build_brake(Inputs&, Parts&, const WheelSpec&, bool drum);

} // namespace clearstroke
