#pragma once
/// Gas of volumes that is no pocket: what happens to it between two steps. Internal to sim.
///
/// Small bubbles are part of a volume's gas, give under pressure like a pocket, and go with the liquid: an opening that
/// draws the share a of its pocket draws, with L liquid and the volume V_d of small bubbles,
///     alpha = a + (1 - a) V_d / (L + V_d)                                                        
/// After a step of dt: what left with the liquid is taken off; gas that came in along with liquid as less than
/// densest_swarm of the stream stays dispersed, any other is pocket; the share (S-3) joins the pocket; gas held at the
/// walls is freed where the stress (W-5) of the liquid that flowed in exceeds (W-3); adds what comes out of solution. In
/// reservoirs what has risen is gone.
/// All of it is first order in dt (docs/convergence.md); amounts are handed from one account to another, so gas stays conserved.
/// Source: conservation (ours); laws as in small_bubble.hpp, wall_bubble.hpp, solution.hpp.
#include <Eigen/Core>
#include <vector>

#include "sim/assembly.hpp"

namespace clearstroke {

class SmallBubblesBetweenSteps {
public:
    SmallBubblesBetweenSteps(const Network&, const Settings&);

    /// Whether any of it is asked for.
    [[nodiscard]] bool on() const { return on_; }
    /// Longest step [s] over which contents may be taken as they are at its start.
    [[nodiscard]] double longest_step(const State&, const Assembly&) const;
    /// `passed`: liquid [m^3], then gas [m^3 free air], through each edge in the step of `dt` [s] that ends at this state.
    void after_step(State&, const Layout&, const Assembly&, const Eigen::VectorXd& passed, double dt);

private:
    const Network& net_;
    const Settings& settings_;
    const SmallBubbles& law_;
    bool on_;
    std::vector<double> liquid_in_, liquid_out_; // per volume, in this step [m^3]
    std::vector<double> dispersed_in_;           // per volume, net [m^3 free air]

    void weigh(const State&, const Assembly&, const Eigen::VectorXd& passed);
    void weigh(const State&, const EdgeEnd&, const Node&, double liquid_in, double gas_in);
    void draw_from_reservoirs(State&, const Assembly&, const Eigen::VectorXd& passed) const;
    void wash_walls(VolumeState&, const Volume&, const Layout&, double flow) const;
    void come_out(State&, std::size_t volume, const Layout&, const Node&, double dt) const;
    [[nodiscard]] double excess_in(const VolumeState&) const;
    [[nodiscard]] double risen(double pressure, double height, const Layout&, double dt) const;
};

} // namespace clearstroke
