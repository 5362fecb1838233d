#pragma once
/// Nodes and edges of an Assembly (assembly.hpp): what each keeps of the structure, of where a step began, and of the last
/// evaluation. Flows are positive from `up` to `down`. Internal to sim. Source: ours.
#include <cstddef>

#include "models/closure.hpp"
#include "models/contents.hpp"
#include "models/restriction.hpp"
#include "models/valve.hpp"
#include "sim/columns.hpp"

namespace clearstroke {

enum class Site { volume, cell, hose_cell, junction, reservoir, bottle, ambient };

/// One end of an edge.
struct EdgeEnd {
    Site site{};
    std::size_t index{}; ///< node, junction or reservoir
    Side side{};         ///< of a cell
    std::size_t port{};  ///< of a volume
    int chamber{};       ///< of a reservoir
    double lift{};       ///< pressure of a column of liquid from the site's centre to the end [Pa]
    Parcel end;          ///< what stands at the end of a cell
    double reach{};      ///< drawdown reach in a volume or reservoir [m]
    double flow{};       ///< with which it was found [m^3/s]
    std::size_t spot{};  ///< of its site among nodes, junctions and surroundings
    std::size_t slot{};  ///< of its side among those of all nodes; one for all surroundings
    // Where the step began, by the site's pressure and the liquid that the end's column has gained since.
    double rise{};                  ///< from the site's pressure down to the end's [Pa]
    double rise_per_liquid{};       ///< [Pa/m^3]
    double column{}, by_gas{};      ///< liquid between the middle of a cell and the end; see Columns
    double per_liquid{}, per_gas{}; ///< resistance per volume of what stands in between [Pa s/m^6]
    double least_resistance{};      ///< [Pa s/m^3]
    bool mixed{};                   ///< gives gas by what the step does
    // Last evaluation.
    double pressure{};   ///< at the end [Pa]
    double resistance{}; ///< of what stands in a cell up to the end [Pa s/m^3]
    double share{};      ///< of gas in what it gives [-]
};

struct Edge {
    EdgeEnd up, down;
    std::size_t line{}; ///< of line edges
    std::size_t part{}; ///< screw, or actuator * 2 + piston
    enum class Kind { line, valve, screw, port, cup, thread, leak } kind{};
    double creeping{}, inertial{};   ///< restriction: a per viscosity, b per density
    double kinetic{};                ///< b per density of line ends
    DropLaw of_liquid;               ///< all of these filled with liquid
    double cracking{};               ///< [Pa]
    double opening{1.0};             ///< band over which a one-way lip lifts [Pa]
    double meniscus{};               ///< 2 sigma / r that gas must overcome [Pa]
    const Valve* valve{};            ///< of Kind::valve; null: held wide open
    double by_up{1.0}, by_down{1.0}; ///< of the slope, by each pressure; a valve's threshold may follow them
    std::ptrdiff_t carrier{
        -1};        ///< of Kind::thread: screw edge whose flow takes the air along; -1: none, always
    double choke{}; ///< Cd A of a hole that gas may choke [m^2]; 0: not limited
    bool one_way{};
    bool at_junction{}, leaves_junction{}; ///< one of its ends is at a junction; `up` is
    double secant{};                       ///< |q| of the last step, for junction edges [m^3/s]
    double gas_weight{1.0};                ///< (J-1) of an outlet of a junction
    bool quiet{true};                      ///< neither runs gas ahead here nor does it rise
    bool liquid_only{};                    ///< no gas can come to it in this step,
    bool of_liquid_alone{};                ///< nor to what it joins, and its flow is that of (R-2)
    std::ptrdiff_t moving{-1};           ///< column with momentum; -1: its flow follows the pressures at once
    bool ahead_to_down{}, ahead_to_up{}; ///< a gas plug with liquid on both sides stands at the donor's end
    std::size_t nose_down{},
        nose_up{};      ///< edge nearest to that plug's nose, whose run-ahead all its edges share
    bool from_up{true}; ///< `up` gives in this step, whichever way stages of it turn
    double weight{};    ///< |q| where the step began, divides a junction's mixture [m^3/s]
    double rise{};      ///< A U_rise towards down [m^3/s]
    // Last evaluation.
    double q{}, slope{}, alpha{}, ahead{}, liquid{}, gas{}, donor_pressure{};
};

struct Node {
    Filling start, now, at_base; ///< at_base: where slopes were taken last
    double capacity{};
    ElasticLaw walls;
    double play_memory{}, guess{};
    double held{};       ///< of the gas, no pocket: held at the walls or dispersed [m^3]
    double dispersed{};  ///< of that, in small bubbles [m^3]
    double interface {}; ///< of a volume with other gas, above the middle of its bore [m]
    Pressure pressure, base;
    std::size_t volume{};       ///< of Site::volume
    std::size_t line{}, cell{}; ///< of cells
    Site site{};
    int actuator{-1}, piston{};
    double per_liquid{}, per_gas{}; ///< resistance per volume [Pa s/m^6]
    double content{};               ///< geometric volume of a cell [m^3]
    bool whole_line{};              ///< the only cell of its line
    bool linear_walls{};            ///< see is_linear
    bool full_as_before{};          ///< a cell without gas where the step before began, and this one
    bool starts_full{};             ///< begins the step without gas, a cell with a single parcel
    bool liquid_only{};             ///< does, and no gas can come to it in this step
    Columns columns;                ///< of a cell, where the step began
};

/// Which end of which edge.
struct EndOfEdge {
    std::size_t edge{};
    bool down{};
    /// Sign of a flow towards `down` that enters here.
    [[nodiscard]] double into() const { return down ? 1.0 : -1.0; }
};

} // namespace clearstroke
