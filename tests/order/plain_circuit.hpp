#pragma once
/// A circuit as plain differential equations, written down a second time for integrators from elsewhere.
///
/// From the description alone: of sim/ only Network, State (to start from) and the list of acts are used.
/// Balances, heads, the closure's root, statics of the pistons, balance of junctions and the switching of
/// ports are this file's own. The laws of models/ (what a restriction passes at a pressure, how far an
/// opening draws, how a wall gives, the shape of a cavity) are the same functions that the program uses; the
/// book checks them elsewhere. Covered: one single or tandem cylinder, reservoirs, ports and cups, straight
/// or broken lines whose ends hold liquid, gas in cavities and inside lumps, tees, screws open to the air,
/// friction and play. A plug is a compliance between two columns of liquid, whose lengths are integrated; it
/// runs ahead of them. Isothermal. What is not covered throws: gas at the end of a line or at a cylinder's
/// port, vapour.
#include <array>
#include <optional>
#include <vector>

#include "models/closure.hpp"
#include "models/drawdown.hpp"
#include "models/restriction.hpp"
#include "sim/state.hpp"

namespace clearstroke::testing {

/// What is compared.
struct Reading {
    double t{};                              ///< [s]
    double liquid_out{}, gas_out{}, drawn{}; ///< [m^3], gas as free air
    std::vector<double> pockets; ///< volume of the gas in every volume and lump that holds some [m^3]
    std::vector<double> pistons; ///< compressions and rod travel [m]
};

/// How the rod is moved: speed towards the floor below a force limit, or back; 0: let be.
struct Motion {
    double speed{};                 ///< [m/s], negative: back
    double force_limit{};           ///< [N]
    std::optional<double> target{}; ///< rod travel at which it ends [m]
    bool ends_at_force{};           ///< ends at 0.98 of the limit too
};

class PlainCircuit {
public:
    PlainCircuit(const Network&, const State& start);

    [[nodiscard]] std::size_t size() const { return size_; }
    [[nodiscard]] std::vector<double> start() const; ///< amounts [mL], rod travel [mm]
    void move(const Motion& m) { motion_ = m; }
    void turn(ScrewId s, double turns) { turns_[s.index] = turns; }

    void rate(const double* y, double* dydt) const; ///< per second
    /// Signed distances: one per port, then rod from its target, force from its end.
    [[nodiscard]] std::vector<double> roots(const double* y) const;
    void turn_port_over(std::size_t piston) { port_open_[piston] = !port_open_[piston]; }
    /// An instant that is final: friction, play and flows at openings go on from here.
    void remember(const double* y);
    [[nodiscard]] Reading reading(const double* y, double t) const;
    [[nodiscard]] std::size_t pistons() const { return actuator_.pistons.size(); }

private:
    struct Part { // a volume or a lump
        double content{}, liquid{}, gas{}, play_memory{};
        ElasticLaw walls;
        std::ptrdiff_t gas_at{-1};              // index in y
        double per_liquid{}, per_gas{}, rise{}; // of a lump; rise: head from `from` to `to`
        std::ptrdiff_t before_at{-1};           // index in y of the liquid between `from` and its gas
        double before{}, section{};             // that liquid at the start, section of the line
    };
    struct Tube {
        std::size_t first{}, lumps{};
        double kinetic{}; // of either end, per density
    };
    struct Statics {
        double u{}, force{};
        std::array<double, 2> d{};
    };
    struct Point {             // everything at one y
        std::vector<double> p; // of every part [Pa]
        Statics pistons;
        double rod_speed{};
    };
    struct LumpEnd { // of a lump: pressure there and resistance to its middle
        double pressure{}, resistance{}, inertial{};
    };

    Network net_;
    Actuator actuator_;
    Liquid liquid_;
    Medium medium_;
    double gas_viscosity_{}, gas_density_{}, weight_{};
    std::vector<Part> parts_;
    std::vector<Tube> tubes_;
    std::vector<CavityProfile> profiles_;
    std::vector<std::vector<double>> port_heights_, port_tops_;
    std::size_t size_{}, reservoirs_at_{}, rod_at_{}, out_at_{};
    Motion motion_;
    std::vector<double> turns_, reservoir_start_;
    std::vector<char> port_open_;
    double u_{}, rod_start_{}, chamber_gas_{};

    void add_volumes(const State&);
    void add_lumps(const State&);
    [[nodiscard]] double liquid_in(const double* y, std::size_t part) const { return 1e-6 * y[part]; }
    [[nodiscard]] double gas_in(const double* y, std::size_t part) const;
    [[nodiscard]] double pressure_in(const double* y, std::size_t part, double taken = 0.0) const;
    [[nodiscard]] Statics statics(const double* y) const;
    [[nodiscard]] Statics statics_at(const double* y, double u, double& g) const;
    [[nodiscard]] double drive_at(const double* y, double u) const;
    [[nodiscard]] Point point(const double* y) const;
    [[nodiscard]] double at_port(const double* y, const Point&, const PortRef&) const;
    [[nodiscard]] double interface_height(const double* y, const Point&, std::size_t volume) const;
    [[nodiscard]] LumpEnd lump_end(const double* y, const Point&, std::size_t part, Side) const;
    [[nodiscard]] double gas_share(const double* y, const Point&, const PortRef&, double flow) const;
    void pass(const double* y, const Point&, double* f, const PortRef&, std::size_t lump, Side,
              double flow_in) const;
    void enter(double* f, std::size_t lump, Side, double flow) const;
    void run_ahead_of_plugs(double* f) const;
    void lines(const double* y, const Point&, double* f) const;
    void junctions(const double* y, const Point&, double* f) const;
    void cylinders(const double* y, const Point&, double* f) const;
    double screw_flow(const double* y, const Point&, std::size_t screw) const;
    void screws(const double* y, const Point&, double* f) const;
    [[nodiscard]] double reservoir_height(const double* y, std::size_t r) const;
};

} // namespace clearstroke::testing
