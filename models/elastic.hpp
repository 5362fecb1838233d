#pragma once
/// Elastic volume of a part: how much more it holds at pressure p than at ambient.
///
/// With e = p - p_ambient (of either sign):
///     V(e) = c e + V_s e / (p_s + |e|) + V_t ramp((e - e_0) / (e_1 - e_0))                     (E-1)
/// c: linear compliance (hose after it has stiffened, pads, housing); V_s, p_s: a saturating part
/// (pads settling, seal roll, hose at first contact) with the finite slope V_s/p_s at zero;
/// V_t: take-up of free play against a spring between e_0 and e_1 (drum shoe slack, spring-loaded
/// slave); ramp(x) = 3x^2 - 2x^3 on [0, 1], so V is once continuously differentiable.
/// Hysteresis is a play operator of half-width `play` acting on e before the saturating part:
///     e' = max(e - play, min(e + play, e'_old))                                                 (E-2)
/// with e'_old the value at the last accepted instant: seal roll-back keeps volume until the
/// pressure has fallen by twice the half-width.
/// A share s of the pistons that is stuck gives nothing, what moves gives its own:
///     V_stuck(e) = (1 - s) V(e)                                                                 (E-3)
/// and a hand brake that is on has taken the free play up: V_t = 0.                              (E-4)
/// Sign: V grows with e. Valid: quasi-static, isothermal walls. Source: ours (form); liette2012
/// and tao2003 for the parts it lumps (abstracts read).
#include <algorithm>
#include <cmath>

namespace clearstroke {

struct ElasticLaw {
    double compliance{};           ///< c    linear compliance            [m^3/Pa] >= 0
    double settling_volume{};      ///< V_s  saturating volume            [m^3]    >= 0
    double settling_pressure{1e6}; ///< p_s  pressure of half V_s     [Pa]     > 0
    double play{};                 ///<      half-width of the play       [Pa]     >= 0
    double take_up_volume{};       ///< V_t  volume of the free play      [m^3]    >= 0
    double take_up_from{};         ///< e_0  gauge pressure where it starts [Pa]
    double take_up_to{1.0};        ///< e_1  gauge pressure where it ends   [Pa]   > e_0
};

/// (E-3): the law of a part when a share of its piston area [-], 0 to 1, does not move.
[[nodiscard]] inline ElasticLaw partly_stuck(ElasticLaw law, double share) {
    law.compliance *= 1.0 - share;
    law.settling_volume *= 1.0 - share;
    law.take_up_volume *= 1.0 - share;
    return law;
}

/// (E-4): the law of a part whose free play a hand brake has taken up.
[[nodiscard]] inline ElasticLaw taken_up(ElasticLaw law) {
    law.take_up_volume = 0.0;
    return law;
}

/// Whether the walls give in proportion to pressure.
[[nodiscard]] inline bool is_linear(const ElasticLaw& law) {
    return law.settling_volume <= 0.0 && law.take_up_volume <= 0.0;
}

/// A volume and its slope in pressure.
struct VolumeSlope {
    double volume{}; ///< [m^3]
    double slope{};  ///< [m^3/Pa]
};

/// The play operator (E-2): gauge pressure felt behind a play of half-width `play` [Pa].
[[nodiscard]] inline double play_operator(double gauge, double play, double old) {
    return std::max(gauge - play, std::min(gauge + play, old));
}

/// Share of the play within which the operator counts as moving when slopes are asked for [-].
inline constexpr double brink = 1e-4;

/// V(e) and dV/de of (E-1) at gauge pressure `gauge` [Pa]; `play_memory` [Pa] is e'_old.
[[nodiscard]] inline VolumeSlope elastic_volume(const ElasticLaw& law, double gauge, double play_memory) {
    VolumeSlope out{law.compliance * gauge, law.compliance};
    if (law.settling_volume > 0.0) {
        const double felt = law.play > 0.0 ? play_operator(gauge, law.play, play_memory) : gauge;
        const double denominator = law.settling_pressure + std::abs(felt);
        out.volume += law.settling_volume * felt / denominator;
        // On the brink of moving the slope is that of moving, so that a step that goes on sees it.
        const bool moves = law.play - std::abs(gauge - play_memory) <= brink * law.play;
        if (moves) out.slope += law.settling_volume * law.settling_pressure / (denominator * denominator);
    }
    if (law.take_up_volume > 0.0) {
        const double width = law.take_up_to - law.take_up_from;
        const double x = std::clamp((gauge - law.take_up_from) / width, 0.0, 1.0);
        out.volume += law.take_up_volume * x * x * (3.0 - 2.0 * x);
        out.slope += law.take_up_volume * 6.0 * x * (1.0 - x) / width;
    }
    return out;
}

} // namespace clearstroke
