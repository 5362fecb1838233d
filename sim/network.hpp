#pragma once
/// The circuit as it is built: volumes joined by lines at junctions, worked by actuators, fed by
/// reservoirs, opened at screws. A Network is constant during a run; what changes is in State.
///
/// Topology in one sentence: every line has two ends, an end sits in the port of a volume, in a
/// junction that holds nothing, or nowhere (a blank stub); actuators own the volumes they stroke
/// and the reservoirs that feed them; a screw opens a port, or a junction, to its catch hose.
/// Heights are above ground with the vehicle level [m]; pressures absolute [Pa].
#include <array>
#include <optional>
#include <string>
#include <variant>
#include <vector>

#include "models/bleed_screw.hpp"
#include "models/cavity.hpp"
#include "models/elastic.hpp"
#include "models/fluid.hpp"
#include "models/restriction.hpp"
#include "models/valve.hpp"
#include "sim/ids.hpp"

namespace clearstroke {

/// Opening in the wall of a volume.
struct Port {
    std::string name;
    OpeningPlace place;                    ///< where it sits in the cavity
    double diameter{};                     ///< of the hole [m] > 0
    double solid_angle{6.283185307179586}; ///< of the liquid it draws from [sr]; 2 pi in a flat wall
};

/// What holds fluid and a gas pocket: caliper half, wheel cylinder, slave, cylinder chamber.
struct Volume {
    std::string name;  ///< "LF caliper"
    std::string place; ///< where reports count its air; several volumes may share one
    double content{};  ///< liquid it holds when full at rest [m^3] > 0
    double height{};   ///< of the bore centre above ground [m]
    double ahead{},
        outboard{}; ///< of the bore centre from the vehicle's middle, forward and right [m]; also says which side outboard is
    Cavity cavity;         ///< geometry of the bore that holds the pocket
    double axis_heading{}; ///< where the bore's open end points in plan: 0 outboard, pi/2 forward [rad]
    ElasticLaw walls;
    double gap_width{}; ///< thin gap behind a piston that is home [m]; 0: none
    std::vector<Port> ports;
    // Faults; knocked_back is felt by the pedal model (sim/pedal_model.hpp) only.
    double knocked_back{}; ///< volume by which pistons stand too far back; one stroke takes it up [m^3]
    double leak{};         ///< weep to the outside per gauge pressure [m^3/(s Pa)]
    double air_entry{};    ///< free air drawn in per suction [m^3/(s Pa)]
    bool hand_brake_on{};  ///< `walls` have their free play taken up (E-4); the work says so
};

struct PortRef {
    VolumeId volume;
    std::size_t port{};
};
struct Blank {}; ///< a closed end: stub, plugged outlet
using End = std::variant<PortRef, JunctionId, Blank>;

struct HeightPoint {
    double fraction{}; ///< of the length from `from` to `to`, strictly between 0 and 1
    double height{};   ///< above ground [m]
};

/// Pipe or hose. Flow is positive from `from` to `to`.
struct Line {
    std::string name, place;
    double length{};  ///< [m] > 0
    double bore{};    ///< inside diameter [m] > 0
    ElasticLaw walls; ///< of the whole line; volumes are per line, not per metre
    End from, to;
    double from_height{}, to_height{}; ///< of its two ends above ground [m]
    std::vector<HeightPoint> heights;  ///< of points in between, by rising fraction
    int lumps{4};                      ///< cells it is divided in where gas stands [-] >= 1
    std::optional<Valve> valve{};      ///< stands between two of its lumps
    double valve_at{};   ///< share of the length from `from` where it stands, to the nearest lump [0, 1]
    bool elastic_hose{}; ///< never contracted with its neighbours
};

/// Tee, splitter or union: holds nothing. Every outflow takes gas in proportion to its flow times
///     s^(sin of its slope where it leaves)                                                      (J-1)
/// with s the separation of Conditions: 1 divides evenly, above 1 an outlet that rises gets more.
struct Junction {
    std::string name;
    double height{};            ///< [m]
    double ahead{}, outboard{}; ///< from the vehicle's middle, forward and right [m]
};

struct Reservoir {
    std::string name;
    double capacity{}, initial{}; ///< whole reservoir, full and at the start [m^3]
    double area{};                ///< of the free surface [m^2]
    double floor_height{};        ///< above ground [m]
    double ahead{}, outboard{};   ///< from the vehicle's middle, forward and right [m]
    double outlet_height{};       ///< of the outlets above the floor [m]
    double outlet_diameter{5e-3}; ///< [m]
    int chambers{1};              ///< equal chambers
    double divider_height{};      ///< below this level above the floor the chambers are apart [m]
};

/// Caged coil spring: force rises from the preload once compression starts.
struct Spring {
    double preload{}; ///< [N] >= 0
    double rate{};    ///< [N/m] >= 0
};

/// One-way lip of a cup: passes from the reservoir into the chamber only,
///     r(dp - cracking) = a q + b q |q|,  r(y) = 0 for y < 0, y^2/(2w) up to w, then y - w/2      (M-3)
/// the lip lifts over the band w, a fifth of the cracking pressure and at least 200 Pa [ours].
struct Cup {
    double cracking{};   ///< [Pa] >= 0
    Restriction passage; ///< what the lip leaves open
};

/// A piston and the chamber that it strokes.
struct Piston {
    VolumeId chamber;
    double area{};              ///< [m^2]
    double stroke{};            ///< compression of its chamber from rest to the stop [m]
    Spring spring;              ///< that returns it
    double cut_off{};           ///< compression at which the compensating port is shut [m]
    Restriction port;           ///< compensating port
    std::size_t port_opening{}; ///< index of the chamber's port where compensating port and cup enter
    Cup cup;
    ReservoirId reservoir;
    int reservoir_chamber{};
    std::optional<PortRef> inlet{}; ///< fed from this opening instead of a reservoir: a cylinder in a line
    bool blind{};                   ///< neither port nor cup: a brake's own piston pushed by hand, a syringe
    // Faults, as those of Volume.
    double bypass{};     ///< past the cup to where it is fed from, per pressure [m^3/(s Pa)]
    bool port_blocked{}; ///< compensating port shut at rest: what the cup let in stays
};

/// Vacuum booster: adds to the rod what the pedal gives, up to what its vacuum can,
///     F_out = F_in + min((g - 1) max(F_in - F_0, 0), F_run-out v)                                 (M-5)
/// v: share of the full vacuum. Each application without the engine leaves v (1 - s).
struct Booster {
    double gain{1.0}; ///< g [-]; 1: none fitted
    double from{};    ///< F_0, rod force at which it starts to help [N]
    double run_out{}; ///< most help at full vacuum [N]
    double spent{};   ///< s, share of the vacuum that one application uses [-]
};

/// How rod and pistons move together. With rod travel x and one inner freedom u the compressions are
///     d_j = e_j x + f_j u,                                                                      (M-1)
/// single: e = {1}, f = {0}; tandem: d_1 = x - u, d_2 = u; balance bar with share s of the force on
/// the first: d_1 = x + (1 - s) u, d_2 = x - s u.
enum class Coupling { single, tandem, balance_bar };

/// Foot, hand or machine on one rod.
struct Actuator {
    std::string name;
    Coupling coupling{Coupling::single};
    double bar_share{0.5};       ///< s, balance bar only (0, 1)
    double bar_travel{5e-3};     ///< |u| limit of the bar [m]
    std::vector<Piston> pistons; ///< one, or two
    double friction{};           ///< seal friction of the floating piston or bar [N] >= 0
    double rod_friction{};       ///< seal friction felt at the rod [N] >= 0
    double ratio{1.0};           ///< pad or grip travel / rod travel [-] >= 1
    double pad_travel{};         ///< available at pad or grip, rest to floor [m]; 0: not known
    double free_play{};          ///< at the rod, before the piston moves [m]
    bool hand{};                 ///< worked by hand (lever) rather than by foot
    Booster booster;
};

struct Screw {
    std::string name;  ///< "LF", "LF inner"
    std::string wheel; ///< place it bleeds: "LF caliper"
    std::variant<PortRef, JunctionId> at;
    BleedScrew geometry;
    double
        thread_clearance{}; ///< c, radial: when open, air passes beyond 2 sigma/c of suction [m]; 0: sealed
    double height{};        ///< above ground [m]
};

/// Clear hose and bottle that go from screw to screw.
struct Catch {
    double length{0.4}, bore{5e-3}; ///< of the clear hose [m]
    double
        fit_clearance{}; ///< radial, of the hose on the screw; air passes beyond 2 sigma/c of suction [m]; 0: tight
    bool submerged{true};        ///< end under fluid in the bottle, or in air
    double bottle_level{};       ///< height of the bottle's fluid above the open screw [m]
    double visible_bubble{1e-8}; ///< smallest gas parcel that a person sees [m^3]
};

/// Gas that is no pocket (page dispersed of the model book). Zero: that part of the model is off.
struct SmallBubbles {
    double diameter{}; ///< at ambient pressure [m]; 0: what arrives with liquid joins the pocket at once
    double poured{};   ///< share of gas in fluid poured into a reservoir [-] [0, densest_swarm)
    double grip{};     ///< of bubbles at walls, (W-2) [-]; 0: only a tap frees them; needs a diameter
    double out_of_solution{}; ///< time constant t_s of (A-2) [s]; 0: what is in solution stays there
};

/// What is the same everywhere in the circuit.
struct Conditions {
    Fluid fluid;
    double temperature{293.15};        ///< of parts, fluid and air [K]
    double ambient_pressure{101325.0}; ///< [Pa]
    double run_ahead_scale{1.0};       ///< on C0 - 1 of the film law (band 0.5 to 1.2) [-]
    double drawdown_scale{1.0};        ///< on the drawdown reach [-]
    double separation{
        1.0}; ///< favour of gas for a tee's outlet that leaves straight up; inverse straight down [-]
    double stirred{0.5};               ///< share of a cavity's liquid that mixes, the rest is displaced [-]
    bool unsteady_lines{};             ///< columns of liquid in lines keep their momentum, (N-9)
    double gas_temperature_from{3e-7}; ///< pockets above this free volume carry a temperature [m^3]
    SmallBubbles bubbles;
    double pitch{}, roll{}; ///< of the vehicle, nose up and right side down positive [rad]
};

/// The circuit. Names are unique within each list.
struct Network {
    std::vector<Volume> volumes;
    std::vector<Line> lines;
    std::vector<Junction> junctions;
    std::vector<Reservoir> reservoirs;
    std::vector<Actuator> actuators;
    std::vector<Screw> screws;
    Catch catch_hose;
    Conditions conditions;
};

/// A stretch of gas in a line at the start, as fractions of its volume from `from`.
struct GasStretch {
    double begin{}, end{};
};

/// What stands where before work begins.
struct Contents {
    std::vector<double> volume_gas;                ///< per volume, gas at ambient [m^3]
    std::vector<std::vector<GasStretch>> line_gas; ///< per line
    double fresh_fraction{1.0};                    ///< of the liquid in the circuit [-]
    double reservoir_fresh_fraction{1.0};          ///< of the liquid in the reservoirs [-]
    std::vector<double>
        volume_held{}; ///< per volume, part of its gas that is held at the walls until tapped [m^3]; empty: none
    double
        dispersed{}; ///< share of small bubbles in the liquid of all volumes and lines, at ambient [-] [0, densest_swarm)
};

/// Least length at which a line can climb as its heights say, stretch by stretch between them [m].
[[nodiscard]] double shortest_length(const Line&);

/// Volume inside a line [m^3].
[[nodiscard]] double content_of(const Line&);

/// Volume of the gas that stands in a line at the start [m^3].
[[nodiscard]] double gas_in_line(const Network&, const Contents&, LineId);

/// Circuit number of every volume, line and screw: parts that liquid can reach from one another.
/// Circuits are numbered by the first piston (then volume) that belongs to them.
struct Circuits {
    int count{};
    std::vector<int> of_volume, of_line, of_screw, of_junction;
};
[[nodiscard]] Circuits find_circuits(const Network&);

/// Lines from the nearest cylinder chamber of the circuit to a screw, from the chamber on; empty where there are none.
[[nodiscard]] std::vector<LineId> shortest_path(const Network&, ScrewId);

/// Length of pipe from the nearest cylinder chamber of the circuit to a screw [m].
[[nodiscard]] double path_length(const Network&, ScrewId);

/// Throws std::invalid_argument naming the first part that breaks a rule stated above.
void check(const Network&, const Contents&);

} // namespace clearstroke
