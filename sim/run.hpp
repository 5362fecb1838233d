#pragma once
/// Runs acts, strokes and visits on a State and says what a person saw and what is true.
///
///     Network + Contents -> State;  Simulation advances a State and never changes the Network.
/// A State is a value: copy it to branch a search, keep it to resume. Same State and acts give the
/// same bits. Every run checks that liquid and gas are conserved (Balance).
#include <functional>
#include <memory>
#include <string>
#include <vector>

#include "sim/parameter.hpp"
#include "sim/state.hpp"

namespace clearstroke {

/// Numerical settings; every result carries the resolution they give.
struct Settings {
    double tolerance{1e-3};   ///< relative, on volumes weighted by compliance (see docs/model/stepper.md) [-]
    double corner_step{1e-3}; ///< longest step across a corner of the laws, see CornerStep [s]
    double shortest_step{1e-9}; ///< below this a run ends as step_too_small [s]
    int lump_factor{1};         ///< multiplies every line's lumps [-]
    double end_window{
        1e-9}; ///< of what stands at a lump's end leaves mixed: smaller parcels are no events [m^3]
    int parcels_per_lump{12}; ///< cap on the contents of one lump [-]
    double bubble_step{
        0.03}; ///< share of a volume's liquid that may leave in one step while small bubbles go with it, of t_s of (A-2) [-]
    bool contract{true}; ///< condense liquid-full stretches of rigid line
    enum class GasLaw { by_size, isothermal, adiabatic } gas_law{GasLaw::by_size};
};

enum class RunEnd { done, stroke_limit, seen_clear, step_too_small, non_finite_state };
struct RunStatus {
    RunEnd why{RunEnd::done};
    double t{};         ///< time reached [s]
    std::string where;  ///< part, may be empty
    std::string detail; ///< one sentence for a person
    [[nodiscard]] bool usable() const { return why <= RunEnd::seen_clear; }
};

/// One stroke (or one look, for gravity) at an open screw.
struct StrokeRecord {
    int number{};        ///< within the visit, from 1
    double t_end{};      ///< [s]
    double liquid_out{}; ///< net through the screw into the clear hose [m^3]
    double gas_out{};    ///< net free air through the screw [m^3]
    double gas_seen{};   ///< free air that passed in the clear hose on its way out [m^3]
    bool bubble_seen{};
    double colour_seen{};               ///< share of fresh fluid in what entered the hose [-]
    double drawn{};                     ///< from all reservoirs [m^3]
    double lowest_level{};              ///< least that any one reservoir has held so far [m^3]
    double lowest_pressure{};           ///< anywhere in the circuit during the stroke [Pa]
    double peak_flow{};                 ///< at the screw [m^3/s]
    double pad_travel{};                ///< reached [m]
    double peak_pad_force{};            ///< [N]
    std::vector<double> air_by_circuit; ///< free air inside at the end [m^3]
};

struct VisitRecord {
    ScrewId screw;
    std::vector<StrokeRecord> strokes;
    int openings{};
    int top_ups{};
    double fluid_discarded{}; ///< liquid that reached the hose and bottle [m^3]
    double fluid_drawn{};     ///< [m^3]
    double duration{};        ///< hands-on: moves, opening, strokes, dwell [s]
    RunStatus status;         ///< why it ended
};

/// Defect / max(start + inflow, 1 mL).
struct Balance {
    double liquid{}, gas{}; ///< relative [-]
};

/// Free air now inside, by volume and by line [m^3], and per circuit.
struct AirInside {
    std::vector<double> of_volume, of_line, of_circuit;
    double total{};
};

/// Free air that cannot be moved from each volume through its openings [m^3].
struct BeyondReach {
    std::vector<double> geometric; ///< no flow, ambient pressure, per volume
    /// Least that the flow of any instant left above the reach of its opening, while a screw of the volume was open
    /// in the last visit and gas stood in it; infinity where that was never so.
    std::vector<double> this_procedure;
};

/// Work done since construction, counts.
struct Work {
    long steps{};       ///< accepted, corner steps among them
    long corners{};     ///< accepted corner steps
    long rejected{};    ///< tries whose error was too large
    long refused{};     ///< tries cut short by an event inside them
    long evaluations{}; ///< of the rates
};

/// When an observer looks: after an accepted step; when a stroke of a visit is over.
enum class Moment { step, stroke };
/// Looks only: what it does changes no step.
using Observer = std::function<void(const State&, Moment)>;

class Simulation {
public:
    explicit Simulation(const Network&, Settings = {});
    ~Simulation();
    Simulation(Simulation&&) noexcept;
    Simulation& operator=(Simulation&&) noexcept;

    [[nodiscard]] const Network& network() const;
    [[nodiscard]] const Circuits& circuits() const;

    /// At rest, pressures hydrostatic below the reservoirs.
    [[nodiscard]] State start(const Contents&) const;

    /// Lets `seconds` pass.
    RunStatus advance(State&, double seconds);
    /// One act. `here` is the screw being visited.
    RunStatus act(State&, const Act&, const Operator&, std::optional<ScrewId> here = {});
    /// A whole visit: `before` acts, move, arrival, strokes until the rule or the count, leaving.
    VisitRecord visit(State&, const Visit&, const Procedure&);

    /// Called from now on; an empty one for none.
    void observe(Observer);

    [[nodiscard]] AirInside air(const State&) const;
    [[nodiscard]] Balance balance(const State&) const;
    [[nodiscard]] BeyondReach beyond_reach(const State&) const;
    /// Share of fresh liquid per volume and per line [-].
    [[nodiscard]] std::vector<double> fresh_of_volume(const State&) const;
    [[nodiscard]] std::vector<double> fresh_of_line(const State&) const;
    /// Absolute pressure of every volume [Pa].
    [[nodiscard]] std::vector<double> pressures(const State&) const;

    [[nodiscard]] Work work() const;

private:
    struct Impl;
    std::unique_ptr<Impl> impl_;
};

} // namespace clearstroke
