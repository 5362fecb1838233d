#pragma once
/// Statics of an actuator: where the floating piston or balance bar stands and what the rod feels.
///
/// Resisting force in the coordinate of piston j, and the generalised force on the inner freedom u:
///     T_j = A_j (p_j - p_ambient) + F_j + r_j d_j,    G(u) = -sum f_j T_j                          (M-2)
/// with d_j of (M-1). G falls with u. The part has no mass; with friction R it stays where it was
/// while |G| <= R and otherwise slides to G = R or G = -R; stops (d_j between 0 and the stroke, the
/// cage of each spring at d_j = 0, the travel of a bar) bound u. A play operator in effect: the
/// result depends on the state and the last accepted u, not on speed. Rod force, with u' the way u goes:
///     F = sum e_j T_j - u_x (G - R sign u'),   u_x = du/dx where a stop carries u along, else 0    (M-4)
/// A stop only pushes: u goes with it where the rod moves the stop against u, and away with it where G alone overcomes the
/// friction. So a stop makes the rod harder to push than to hold, and between both forces it stands. Where one stop takes
/// over from another (within 0.1 um), the one ahead is felt forwards and the one behind backwards.
/// Sign: forces that oppose pressing are positive [N]. Valid: quasi-static. Source: ours (statics).
#include <array>

#include "models/closure.hpp"
#include "sim/network.hpp"

namespace clearstroke {

/// Coefficients of (M-1) and bounds that a coupling puts on u.
struct Linkage {
    std::array<double, 2> e{1.0, 0.0}, f{0.0, 0.0};
};
[[nodiscard]] Linkage linkage_of(const Actuator&);

/// What the statics need to know of a chamber.
struct Chamber {
    Filling filling;
    double content{}; ///< at rest [m^3]
    const ElasticLaw* walls{};
    double play_memory{}; ///< [Pa]
    double guess{};       ///< pressure to start from [Pa]
};

struct ActuatorPoint {
    double u{};                ///< [m]
    std::array<double, 2> d{}; ///< compressions [m]
    std::array<Pressure, 2> pressure{};
    double rod_force{};      ///< (M-4) that pushes the rod on, without rod friction [N]
    double rod_force_back{}; ///< (M-4) below which it goes back [N]
    bool slides{};           ///< u follows the pressures; otherwise it is held
    bool on_the_brink{};     ///< held, with G within a millionth of the friction
    double u_x{};            ///< du/dx of the stop at which u stands as the rod moves forward; 0 elsewhere
    double u_x_back{};       ///< as it moves back: another where two stops take turns
    bool pressed{};          ///< against that stop by more than friction: goes with it either way
    bool pushed_forward{};   ///< by that stop when the rod moves forward
    bool pushed_back{};      ///< by it when the rod moves back

    /// du/dx while the rod moves at this speed.
    [[nodiscard]] double carries(double rod_speed) const {
        if (rod_speed < 0.0) return pressed || pushed_back ? u_x_back : 0.0;
        return pressed || (pushed_forward && rod_speed > 0.0) ? u_x : 0.0;
    }
};

/// Solves (M-2) at rod travel `x` from the last accepted `u`.
[[nodiscard]] ActuatorPoint actuator_point(const Actuator&, const Linkage&, double x, double u,
                                           const std::array<Chamber, 2>&, const Medium&);

} // namespace clearstroke
