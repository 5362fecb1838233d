#pragma once
/// Runs one order of visits on a case and keeps what was recorded: the facts that judging needs.
#include <memory>
#include <optional>
#include <vector>

#include "sim/pedal.hpp"
#include "sim/run.hpp"

namespace clearstroke {

/// Travel at the reference forces with the contents at the end and with every gas replaced by liquid, both
/// settled: a slow stroke once the pedal has been pressed hard and let go. The first one is longer where
/// seals and pads still have to settle, by what the last visits happened to leave of that.
struct PedalTravel {
    ActuatorId actuator;
    std::vector<double> forces, travel, without_air; ///< [N], [m], [m]
    std::vector<char> at_stop;                       ///< per force: rod or piston at its end
};

/// A visit that was made, and what stood where after it.
struct DoneVisit {
    VisitRecord record;
    AirInside air;
    BeyondReach beyond; ///< with the pressures and flows of this visit
};
using DoneVisits = std::vector<std::shared_ptr<const DoneVisit>>; ///< shared by runs that begin alike

[[nodiscard]] std::shared_ptr<const DoneVisit> make_visit(Simulation&, State&, const Visit&,
                                                          const Procedure&);

/// What one run of a plan left behind. Amounts [m^3], times [s].
struct PlanRun {
    DoneVisits visits;
    AirInside air_start, air_end; ///< after the preparation; at the end
    std::vector<double> beyond;   ///< air that each volume's openings can't move, least over the visits
    Ledger ledger;
    Balance balance;
    std::vector<double> fresh_of_volume; ///< share of fresh liquid [-]
    std::vector<PedalTravel> pedals;
    double prepare_time{};
    RunStatus status; ///< of the first part that could not be computed, else of the last visit
};

/// State after the preparation of a procedure, and what it took.
struct Prepared {
    State state;
    AirInside air;
    double time{};
    RunStatus status;
};
[[nodiscard]] Prepared prepare(Simulation&, const Case&);

/// Facts at the end of a run whose visits were recorded one by one, all but the pedal.
[[nodiscard]] PlanRun record_run(Simulation&, const State&, const Prepared&, DoneVisits visits);

/// The same with the pedal.
[[nodiscard]] PlanRun finish_run(Simulation&, const State&, const Case&, const Prepared&, DoneVisits visits);

/// Runs the visits after the preparation of the case's procedure.
[[nodiscard]] PlanRun run_plan(const Case&, const std::vector<Visit>& visits, const Settings& = {});

/// Actuators whose chambers feed a circuit with a bleed screw.
[[nodiscard]] std::vector<ActuatorId> working_actuators(const Network&);

} // namespace clearstroke
