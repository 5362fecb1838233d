#pragma once
/// The equations of a circuit in one configuration: nodes with inventories, edges with flows.
///
/// Node i (a volume or a cell of line) holds L_i and N_i and has the pressure of closure.hpp. Edge e
/// carries liquid l_e [m^3/s] and gas g_e [m^3/s free air], positive from `up` to `down`:
///     dL_i/dt = sum(in l_e) - sum(out l_e),   dN_i/dt = sum(in g_e) - sum(out g_e)                (N-1)
///     q_e from  dp - cracking = a q + b q |q|,  a = columns at both ends + restriction   (N-2)
///     l_e = (1 - alpha) q - X,  g_e = (alpha q + X) p / p_0                                       (N-3)
/// alpha: gas share of what stands at the donor's end; X: gas that outruns liquid in a line,
///     X = (C0(q) - 1) q + A U_rise                                                                (N-4)
/// A junction holds nothing: its pressure makes the flows of its edges add up to zero, with their
/// conductances taken as secants of the last step.
/// What is integrated is what has passed each edge since the step began, so one number leaves one
/// node and enters the other and nothing is lost.
/// Source: conservation; laws as in the headers named.
#include <Eigen/Core>
#include <span>
#include <tuple>
#include <vector>

#include "sim/actuator.hpp"
#include "sim/columns.hpp"
#include "sim/graph.hpp"
#include "sim/layout.hpp"
#include "sim/linear_network.hpp"
#include "sim/run.hpp"

namespace clearstroke {

/// How an actuator's rod is driven.
struct Drive {
    enum class Mode { free, push, back, held } mode{Mode::free};
    double speed{};       ///< of the rod, > 0 [m/s]
    double force_limit{}; ///< at the rod [N]; within its last tenth the push slows in proportion
};

class Assembly {
public:
    Assembly(const Network& net, const Settings& settings)
        : net_(net), settings_(settings), drives_(net.actuators.size()) {}

    /// New structure: which nodes and edges there are.
    void build(const State&, const Layout&);
    /// Same structure, values of the state.
    void refresh(const State&);
    void drive(std::size_t actuator, const Drive& d) { drives_[actuator] = d; }

    // LinearlyImplicitSystem; z: liquid per edge, gas per edge, rod travel per actuator, potential temperature
    // ratio per warm pocket, flow per column with momentum, all since refresh.
    void rate(const Eigen::VectorXd& z, Eigen::VectorXd& f);
    void linearise(const Eigen::VectorXd& z, Eigen::VectorXd& f);
    void prepare(double gamma_h);
    void solve(double gamma_h, const Eigen::VectorXd& r, Eigen::VectorXd& k);
    [[nodiscard]] double error(const Eigen::VectorXd& e, const Eigen::VectorXd& z) const;

    /// Nodes, then junctions and surroundings.
    [[nodiscard]] std::size_t spots() const { return spot_pressure_.size(); }
    [[nodiscard]] std::size_t size() const { return first_column() + moving_.size(); }
    [[nodiscard]] const std::vector<Edge>& edges() const { return edges_; }
    [[nodiscard]] std::vector<Edge>& edges() { return edges_; }
    [[nodiscard]] const std::vector<Node>& nodes() const { return nodes_; }
    [[nodiscard]] const ActuatorPoint& actuator(std::size_t k) const { return points_[k]; }
    /// As it was where the step began.
    [[nodiscard]] const ActuatorPoint& actuator_before(std::size_t k) const { return base_points_[k]; }
    [[nodiscard]] double rod(std::size_t k) const { return rod_start_[k]; }
    [[nodiscard]] double rod_speed(std::size_t k) const { return rod_speed_[k]; }
    /// Line or clear hose of a cell's node.
    [[nodiscard]] const LineLayout& line_of(const Node&) const;
    /// Volume that passed an edge towards `down`, at the pressure of what gives [m^3].
    [[nodiscard]] double passed(const Eigen::VectorXd& z, std::size_t edge) const;
    /// What stands this near to an end of a cell leaves mixed: of foam a share of the cell, else Settings::end_window [m^3].
    [[nodiscard]] double end_window(const Node&, const Train&) const;
    /// Time at which the first flow whose ends differ in composition turns within a step of `dt`; dt when
    /// none does, 0 when all that do have turned before anything has passed.
    [[nodiscard]] double turning(const Eigen::VectorXd& z, double dt);
    /// From now until refresh the end gives from which it flowed in a step of `dt`, instead of where it began.
    void give_as_passed(const Eigen::VectorXd& z, double dt);
    void choose_again() { given_ = false; }
    /// Leaves the flows at the ends of lines after a step of `dt` in the State; for Conditions::unsteady_lines.
    void keep_line_flows(const Eigen::VectorXd& z, double dt, State&) const;
    /// Pressures and actuator statics at z, without flows; of cells full of liquid the slopes only if asked for.
    void find_pressures(const Eigen::VectorXd& z, bool slopes = true);
    /// Edges that something else than liquid can come to in this step, or to what they join, and some more.
    [[nodiscard]] const std::vector<std::size_t>& other_edges() const { return other_edges_; }
    /// Edges at the border of the circuit, or inside parts: all but those of lines and valves.
    [[nodiscard]] const std::vector<std::size_t>& border_edges() const { return border_edges_; }
    /// Ends at cells that something else than liquid can come to in this step, or stands in, by edges.
    [[nodiscard]] const std::vector<EndOfEdge>& ends_at_gas() const { return ends_at_gas_; }
    [[nodiscard]] const EdgeEnd& end(const EndOfEdge& e) const {
        return e.down ? edges_[e.edge].down : edges_[e.edge].up;
    }
    /// Nodes of cells that hold gas where the step begins.
    [[nodiscard]] const std::vector<std::size_t>& cells_with_gas() const { return cells_with_gas_; }
    [[nodiscard]] const std::vector<std::vector<std::size_t>>& junction_edges() const {
        return junction_edges_;
    }
    /// Drawdown reach of a volume's opening at this flow [m].
    [[nodiscard]] double reach_of(const EdgeEnd& opening, double flow) const;
    [[nodiscard]] long evaluations() const { return evaluations_; }

private:
    static constexpr double end_loss = 1.0;         // K of a line's end: kinetic energy that is not recovered
    static constexpr double least_lip_band = 200.0; // over which a lip lifts, at least [Pa]

    const Network& net_;
    const Settings& settings_;
    const Layout* layout_{};
    std::vector<Node> nodes_;
    std::vector<Edge> edges_;
    std::vector<std::vector<std::size_t>> junction_edges_;
    std::vector<std::size_t> border_edges_;
    std::vector<std::array<std::size_t, 2>> slots_; // of each edge's two ends
    std::vector<double> spot_pressure_;             // of nodes, then junctions, then surroundings [Pa]
    std::vector<double> gained_;                    // liquid through each slot since the step began [m^3]
    std::vector<double> gas_gained_;                // free air into each node, and the surroundings
    std::vector<double> mean_gained_;               // by spot: mean of a cell's two slots; 0 elsewhere [m^3]
    std::vector<Drive> drives_;
    std::vector<Linkage> linkages_;
    std::vector<double> rod_start_, u_start_, rod_speed_, rod_speed_per_force_;
    std::vector<ActuatorPoint> points_, base_points_;
    std::vector<std::array<std::size_t, 2>> chamber_node_;
    LinearNetwork matrix_;
    std::vector<char> slid_;
    /// Entries of the linear form, row first.
    struct Entries {
        std::size_t up_up{}, up_down{}, down_up{}, down_down{};
    };
    std::vector<Entries> entries_;          // of each edge
    std::vector<Entries> actuator_entries_; // up: the first chamber, down: the second
    std::vector<double> unknown_;           // by spot
    Eigen::VectorXd first_rates_;           // where the step began
    /// Gas whose temperature differs from the walls': d theta/dt = (theta_wall(p) - theta) / tau        (N-7)
    struct Warm {
        std::size_t node{};
        double time_constant{};            // tau where the step began [s]
        double wall{}, wall_by_pressure{}; // theta_wall and its slope, last evaluation
        double per_theta{};                // dp/dtheta where slopes were taken [Pa]
    };
    std::vector<Warm> warm_;
    /// A column of liquid between the end of a line and the middle of its first cell, with momentum:
    ///     I dw/dt = dp - (a f(Re) w + b w |w|),   I = rho V / A^2                                      (N-9)
    struct MovingColumn {
        std::size_t edge{};
        double inertance{};          // I where the step began [Pa s^2/m^3]
        double start{}, gained{};    // w where the step began, and since [m^3/s]
        double rate{}, first_rate{}; // dw/dt, last evaluation and where the step began [m^3/s^2]
        double drop{};               // last evaluation [Pa]
    };
    std::vector<MovingColumn> moving_;
    std::vector<std::size_t> cells_with_gas_; // where the step began
    std::vector<EndOfEdge> ends_at_gas_;
    bool plugs_marked_{};                // some cell held gas where the step before began
    std::vector<char> junction_has_gas_; // some can come to it in this step
    bool gas_moved_{}; // gas, or a column with momentum, is elsewhere than when part_liquid went by it last
    bool may_rise_{};  // a line is wide enough for its gas to rise
    bool at_start_{true}; // no slopes taken since refresh
    bool given_{};        // donors are those of give_as_passed
    long evaluations_{};

    /// Linear form of an actuator's statics.
    struct Coupled {
        std::size_t n{};
        std::array<std::array<double, 2>, 2> inverse{
            {{1.0, 0.0}, {0.0, 1.0}}};    // of dp / d(dp of the inventories alone)
        std::array<double, 2> per_rod{};  // inverse times dp/dx
        std::array<double, 2> rod_gain{}; // dv/dF e_i A_i
        double rod_self{};                // dv/dF sum e_i^2 r_i
    };
    /// Derivatives of an edge's flows at the point of linearisation.
    struct Slopes {
        double liquid{}, gas{}, flow{};    // by the pressure difference
        double gas_by_up{}, gas_by_down{}; // by the donor's pressure alone
        double by_up{}, by_down{};         // shares of `flow` and its likes by the two pressures
        double thinned{}; // |q| d alpha/dN of a volume that gives gas [1/s]: liquid that takes its place
        double gas_per_volume{};  // free air per volume of gas that passes
        std::size_t up{}, down{}; // spots
        bool liquid_only{};
    };
    // What only liquid can come to in this step: edges (but those of junctions) and junctions that follow alone,
    // cells with linear walls; and all others. Chambers of actuators are in neither.
    std::vector<std::size_t> liquid_edges_, liquid_junctions_, liquid_cells_;
    std::vector<std::size_t> other_edges_, other_junctions_, other_nodes_;
    std::vector<Slopes> slopes_;
    std::vector<Slopes>
        of_stage_; // slopes_, but of columns with momentum what a stage's pressures make of their flow
    Eigen::VectorXd forced_; // right-hand side with what columns with momentum pass by their own change
    /// What a spot's row of the linear form weighs flows with: a node's pressure by them, a junction's sum.
    struct Row {
        double per_liquid{}, per_gas{}, per_flow{};
    };
    std::vector<Row> rows_;
    /// An edge's rates in the rows of its two ends, and what a rate of gas becomes, for one gamma h.
    struct Weights {
        double up_liquid{}, up_gas{}, down_liquid{}, down_gas{}, gas{};
    };
    std::vector<Weights> weights_;
    /// An edge at a junction: +1 when it leads there, and its share of what outflows must give more.
    struct Meeting {
        std::size_t edge{};
        double into{}, share{};
    };
    std::vector<std::vector<Meeting>> meetings_; // of each junction
    /// Nodes, edges and what follows from them alone: what a structure is made of, but for its matrix.
    auto made() {
        return std::tie(nodes_, edges_, junction_edges_, slots_, border_edges_, entries_, actuator_entries_,
                        meetings_);
    }
    /// A structure before it has met any values, and what of a state it follows from.
    struct Structure {
        std::vector<double> follows_from;
        std::tuple<std::vector<Node>, std::vector<Edge>, std::vector<std::vector<std::size_t>>,
                   std::vector<std::array<std::size_t, 2>>, std::vector<std::size_t>, std::vector<Entries>,
                   std::vector<Entries>, std::vector<std::vector<Meeting>>>
            made;
        LinearNetwork matrix; // while another one is present
    };
    std::vector<Structure> structures_; // that were present last
    std::size_t present_structure_{}, next_structure_{};
    std::vector<double> wanted_structure_; // what it follows from
    void note_structure(const State&);
    [[nodiscard]] bool bring_back_structure();
    void make_room();
    void use_matrix_of(std::size_t structure);
    [[nodiscard]] double thinning(const Edge&) const;
    void share_outflows();
    std::vector<Coupled> coupled_;
    mutable std::vector<double> liquid_error_, gas_error_, pressure_error_; // by spot
    [[nodiscard]] Coupled coupled(std::size_t actuator) const;
    void balance_junctions(Eigen::VectorXd& k) const;

    void add_line_edges(const State&);
    void add_screw_edges(const State&);
    void add_actuator_edges(const State&);
    void add_fault_edges();
    void add_thread_edges(const Screw&, std::size_t screw_edge);
    void add_nodes(const State&);
    void plan_matrix();
    [[nodiscard]] EdgeEnd end_at(const End&) const;
    [[nodiscard]] EdgeEnd volume_end(const PortRef&) const;
    [[nodiscard]] std::size_t node_of(Site, std::size_t line, std::size_t cell) const;
    static void set_restriction(Edge&, const DropLaw& unit);
    static void set_valve(Edge&, const Valve&, bool held_open);

    [[nodiscard]] std::size_t first_warm() const { return 2 * edges_.size() + net_.actuators.size(); }
    [[nodiscard]] std::size_t first_column() const { return first_warm() + warm_.size(); }
    void find_warm();
    void find_moving_columns(const State&);
    void settle_junction(std::size_t j);
    [[nodiscard]] double inertance_of(const Edge&) const;
    void see_moving_column(Edge&);
    void press_column(Edge&);
    [[nodiscard]] const std::vector<Slopes>& stage_slopes() const {
        return moving_.empty() ? slopes_ : of_stage_;
    }
    void find_stage_slopes(double gamma_h);
    const double* force_columns(const Eigen::VectorXd& r);
    [[nodiscard]] static double lag_of(const Warm& w, double gamma_h) {
        return gamma_h / (1.0 + gamma_h / w.time_constant);
    }
    [[nodiscard]] double guess_of(const Node&) const;
    void push(std::size_t actuator, double x);
    void find_pressure(Node&) const;
    void fill_nodes(const Eigen::VectorXd& z);
    void evaluate(const Eigen::VectorXd& z, Eigen::VectorXd& f, bool choose, bool slopes);
    void see_ends(Edge&);
    void find_flows(bool choose);
    void part_liquid();
    void part_liquid_nodes();
    void find_ends_at_gas();
    void part_liquid_junctions();
    void find_liquid_pressures(bool slopes);
    void find_liquid_flows();
    void find_liquid_junction(std::size_t j);
    [[nodiscard]] bool is_of_liquid(const EdgeEnd&) const;
    [[nodiscard]] bool is_of_liquid(const Edge&) const;
    [[nodiscard]] double liquid_pressure_at(const EdgeEnd& end) const {
        return spot_pressure_[end.spot] - end.rise;
    }
    [[nodiscard]] double liquid_resistance_at(const EdgeEnd& end) const {
        return liquid_resistance(end.per_liquid, end.column + mean_gained_[end.spot]);
    }
    void choose_donors();
    [[nodiscard]] bool ends_alike(const Edge&) const;
    void displace_chambers(std::vector<double>& pressure, const double* rods) const;
    void find_pressure_rates(const Eigen::VectorXd& rates);
    [[nodiscard]] double jolt(std::size_t edge) const;
    void find_junction(std::size_t j);
    void share_at_junction(std::size_t j);
    void flow_through(Edge&);
    [[nodiscard]] double driving(Edge&, double& opened) const;
    [[nodiscard]] DropLaw resistance_of(const Edge&, double gas_share_in_hole) const;
    void split_phases(Edge&);
    void see_column(EdgeEnd&) const;
    [[nodiscard]] double gas_share(const EdgeEnd&) const;
    [[nodiscard]] double share_drawn(const EdgeEnd&, double gas_volume, double interface) const;
    [[nodiscard]] double with_bubbles(const Node&, double share) const;
    [[nodiscard]] double interface_in(const Node&, double gas_volume) const;
    [[nodiscard]] double uncovered(const EdgeEnd&) const;
    [[nodiscard]] double site_pressure(const EdgeEnd& end) const { return spot_pressure_[end.spot]; }
    [[nodiscard]] bool is_unknown(std::size_t spot) const { return spot < unknowns(); }
    [[nodiscard]] std::size_t unknowns() const { return nodes_.size() + junction_edges_.size(); }
    void number_spots();
    void find_border();
    void make_structure(const State&);
    void clear_values();
    void note_columns(const State&);
    void keep_columns(const State&);
    void note_column(EdgeEnd&, const State&);
    void note_opening(EdgeEnd&, double flow);
    void note_outlet(EdgeEnd&, const ReservoirState&, double flow) const;
    [[nodiscard]] std::array<Chamber, 2> chambers(std::size_t actuator) const;
    void take_contents(const State&);
    void take_flows(const State&);
    void note_gas(bool& flag, bool now) {
        gas_moved_ = gas_moved_ || flag != now;
        flag = now;
    }
    void mark_plugs(const State&);
    void find_where_gas_comes();
    void mark_plug(Edge&, const State&);
    void link_noses(const State&);
    void weigh_outlets();
    void find_meetings();
};

} // namespace clearstroke
