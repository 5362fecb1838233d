#pragma once
/// A plain right-hand side for comparing integrators: one pedal stroke on a tree of liquid-full lines with pockets.
///
/// A cylinder feeds a tee, that two front calipers and a rear line, that a second tee and two rear calipers.
/// Node i holds liquid L_i and a constant amount of gas n_i; its pressure is the positive root of
///     L (1 - (p - p_0) / K) + n p_0 / p = V + C (p - p_0),   V of the cylinder less A x             (B-1)
/// Links have constant resistances, the open screw q from dp = a q + b q |q|. The compensating port closes over
/// 0.3 mm of rod travel, the cup's lip lifts over 1 kPa, the push slows in the last tenth of its force.
/// State: L of every node [m^3], rod travel [m], liquid delivered at the screw and drawn from the reservoir [m^3].
/// Source: ours; sizes invented, of the usual order. No plugs move, nothing is warm, one chamber only.
#include <Eigen/Core>
#include <cstddef>
#include <vector>

#include "sim/linear_network.hpp"

namespace clearstroke::bench {

/// Part of the stroke.
enum class Phase { push, hold, back, dwell };

class TreeCircuit {
public:
    /// Lines of `lumps` lumps each; contracted: each stretch without gas and each with gas is one lump.
    explicit TreeCircuit(int lumps, bool contracted = false);

    [[nodiscard]] std::size_t nodes() const { return nodes_.size(); }
    [[nodiscard]] std::size_t size() const { return nodes_.size() + 3; }
    [[nodiscard]] Eigen::VectorXd start() const;
    void enter(Phase p) { phase_ = p; }

    void rate(const double* y, double* f);
    /// Entries of the Jacobian at the last rate, in the order of `places`; several may share a place.
    void jacobian(std::vector<double>& values);
    struct Place {
        std::size_t row, column;
    };
    [[nodiscard]] const std::vector<Place>& places() const { return places_; }
    /// Error that weighs 1 in every entry: compliance times (pressure + 1 atm), 1 cm of travel, 10 mL.
    void scales(const double* y, double* scale);

    // LinearlyImplicitSystem, solved from the leaves to the root.
    void rate(const Eigen::VectorXd& y, Eigen::VectorXd& f);
    void linearise(const Eigen::VectorXd& y, Eigen::VectorXd& f);
    void prepare(double gamma_h);
    void solve(double gamma_h, const Eigen::VectorXd& r, Eigen::VectorXd& k);
    [[nodiscard]] double error(const Eigen::VectorXd& e, const Eigen::VectorXd& y) const;

    [[nodiscard]] double delivered(const Eigen::VectorXd& y) const {
        return y[static_cast<Eigen::Index>(nodes() + 1)];
    }
    /// Liquid inside plus delivered less drawn [m^3], which nothing changes.
    [[nodiscard]] double held(const Eigen::VectorXd& y) const;
    /// Volume of the gas of every pocket [m^3].
    [[nodiscard]] std::vector<double> pockets(const Eigen::VectorXd& y);

    double tolerance{1e-3};
    long rates{}, jacobians{};

private:
    struct Node {
        double content, compliance, gas;
        std::ptrdiff_t pocket;
    };
    struct Link {
        std::size_t up, down;
        double conductance;
    };
    struct Slope {
        double by_liquid, by_rod;
    }; // of a node's pressure
    std::vector<Node> nodes_;
    std::vector<Link> links_;
    std::size_t screw_{}, pockets_{};
    Phase phase_{};
    std::vector<Place> places_;
    std::vector<double> pressure_, root_; // root of the discriminant of (B-1)
    double opening_{}, opening_by_rod_{}, lift_by_pressure_{}, screw_slope_{}, speed_by_pressure_{},
        speed_by_rod_{};
    // Where it was linearised.
    std::vector<Slope> slopes_;
    std::vector<double> base_pressure_, unknown_;
    LinearNetwork matrix_;
    std::vector<std::size_t> entries_; // of each link: up-up, up-down, down-up, down-down
    double drawn_by_pressure_{}, drawn_by_rod_{}, rod_by_pressure_{}, rod_by_rod_{}, screw_conductance_{};

    /// Middle of the last lump of a line, and resistance from there to its end [Pa s/m^3].
    struct LineEnd {
        std::size_t node;
        double resistance;
    };
    std::size_t add_node(double content, double compliance, double gas, std::ptrdiff_t pocket);
    LineEnd add_line(std::size_t from, double length, double gas, int lumps, bool contracted);
    void plan();
    void see_pressures(const double* y);
    void see_slopes();
    [[nodiscard]] double rod_speed(double x);
    [[nodiscard]] double drawn(double x);
};

} // namespace clearstroke::bench
