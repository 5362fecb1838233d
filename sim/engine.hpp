#pragma once
/// Moves a State through time: steps, events, contents and ledger. Internal to sim.
///
/// One accepted step: find structure (build or refresh) -> slopes -> choose dt that lands on the next
/// known instant (end of the act, rod at its target, a parcel used up at an end) -> try; a compensating
/// port crossed inside a step is located and stepped to -> hand what passed each edge to the contents,
/// ledger and old-and-fresh transport.
#include <functional>
#include <utility>

#include "sim/assembly.hpp"
#include "sim/grouping.hpp"
#include "sim/plug_motion.hpp"
#include "sim/rosenbrock.hpp"
#include "sim/small_bubbles.hpp"
#include "sim/state.hpp"

namespace clearstroke {

/// What is noted while time passes, for a stroke record.
struct Meter {
    std::optional<ScrewId> screw; ///< watched
    double liquid_out{}, gas_out{}, gas_in_hose{}, gas_in_reservoir{}, fresh_out{}, hose_through{};
    double drawn{};
    double lowest_pressure{1e300}, peak_flow{}, peak_rod_force{}, furthest_rod{};
};

class Engine {
public:
    Engine(const Network&, const Settings&, const Circuits&);

    /// Layout for the attitude of this state, worked out again when that has changed.
    const Layout& layout(const State&);
    /// Lets time pass until `duration` is over or rod `actuator` has reached `target` (or, if asked for,
    /// its force limit); `stopped_early` tells which.
    struct Until {
        double duration{};
        std::optional<std::size_t> actuator{};
        Drive drive{};
        double target{};
        bool stop_at_force{};
    };
    RunStatus advance(State&, const Until&, Meter* = nullptr, bool* stopped_early = nullptr);

    /// Called after every accepted step.
    void observe(std::function<void(const State&)> observer) { observer_ = std::move(observer); }

    [[nodiscard]] Work work() const;

private:
    const Network& net_;
    const Settings& settings_;
    const Circuits& circuits_;
    std::function<void(const State&)> observer_;
    std::optional<Layout> layout_;
    Assembly assembly_;
    ControlledRodas3 stepper_;
    SmallBubblesBetweenSteps bubbles_;
    bool structure_known_{}; // nodes and edges are those of the State since the last step
    Eigen::VectorXd z_;
    Eigen::VectorXd last_flow_; // means over the step before; empty where the structure is new [m^3/s]
    std::vector<double> line_flow_, line_gas_; // liquid and gas through each line since its streams moved
    std::vector<double> line_moved_;           // contents through each line in this step [m^3]
    mutable std::vector<std::array<Parcel, 2>> leaving_; // rates out of each cell at its two ends [m^3/s]
    std::vector<double> holds_, has_, gives_;            // per spot, while contents are moved
    std::vector<double> inner_speed_;                    // du/dt of each actuator in the last step [m/s]
    Work work_;

    void match_structure(State&);
    /// Longest step that uses up no parcel at an end.
    [[nodiscard]] double time_to_next_parcel(const State&) const;
    void find_leaving() const;
    [[nodiscard]] double time_to_use_up(const State&, const Node&, Side, const Parcel& here,
                                        const Parcel& there) const;
    [[nodiscard]] PlugMotion plug_in(const Node&, const Cell&) const;
    /// Time until a piston is just before its port's cut-off or the end of its travel, by present speeds.
    [[nodiscard]] double time_to_next_mark() const;
    [[nodiscard]] double time_to_lower_reservoirs(const State&) const;
    /// Share of the step at which an amount was overdrawn; 1 when none was.
    [[nodiscard]] double overdrawn(const State&) const;
    [[nodiscard]] double share_had(const State&, const EdgeEnd&, const Parcel& given) const;
    /// Negative, zero or positive distance of every open or shut port from its cut-off.
    struct PortCrossing {
        std::size_t actuator, piston;
        double before, after;
    };
    [[nodiscard]] std::optional<PortCrossing> port_crossed(const State&) const;
    /// How far a driven rod is from its target, negative on its way back [m], and the force that ends its push [N].
    struct Rod {
        std::size_t actuator;
        double distance;
        std::optional<double> ending_force;
    };
    [[nodiscard]] double share_to_target(const Rod&) const;
    [[nodiscard]] double share_to_force(const Rod&, double dt) const;
    [[nodiscard]] bool has_reached_force(const Rod&, double dt) const;
    RunStatus step(State&, double longest, const std::optional<Rod>&, double& taken);
    void apply(State&, double dt, Meter*);
    [[nodiscard]] bool may_run_short() const;
    /// True when an outflow was cut.
    bool limit_outflows();
    bool limit_outflows(std::size_t first_of_phase, double Filling::*phase);
    void balance_junctions_after_limits(std::size_t first_of_phase);
    void move_contents(State&, double dt);
    void move_liquid(State&);
    void move_gas_of_volumes(State&);
    void enter(State&, const EdgeEnd&, const Parcel& in);
    void leave(State&, const EdgeEnd&, const Parcel& out);
    void let_gas_advance(State&, double dt);
    [[nodiscard]] double mean_through(std::size_t node) const;
    bool take_last_trace(State&, std::size_t edge, double passed, bool down);
    void take_last_traces(State&);
    void settle_cells(State&);
    void receive(State&, const EdgeEnd&, std::size_t through_edge, const Parcel&);
    [[nodiscard]] double kept_by(const Edge& screw, double flow) const;
    static void draw(State&, const Edge&, const Parcel&, Meter*);
    static void leak_in(State&, const Edge&, double gas, Meter*);
    void watch_screw(State&, std::size_t edge, const Parcel&, double dt, Meter*) const;
    void level_reservoirs(State&) const;
    void keep_ledger(State&, double dt, Meter*);
    void relax(State&, double dt);
    void relax_gas(VolumeState&, const Node&) const;
    void transport(State&, bool flush);
    void freshen(State&, const Edge&, const EdgeEnd& end, const EdgeEnd& giver, double liquid) const;
    [[nodiscard]] double fresh_into(const State&, const End&) const;
    [[nodiscard]] double fresh_leaving(const State&, std::size_t volume) const;
};

} // namespace clearstroke
