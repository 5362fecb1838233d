/// Bleed screw: flow area against turns, and the leak past its thread.
///
/// Opened n turns of pitch p, the cone of half angle a has the lift h = n p over a seat of bore ds:
///     A_cone = pi h sin a (ds - h sin a cos a), at most A_seat = pi/4 ds^2                            (Z-1)
///     1/A^2 = 1/A_cone^2 + 1/A_cross^2 + 1/A_axial^2,  A_cross = n_x pi/4 dx^2,  A_axial = pi/4 da^2  (Z-2)
/// The leak past the thread of an opened screw is the annulus of annular_gap.hpp.
/// Valid: 0 to 2 turns.
/// Source: geometry, derived (ours); dimensions and clearance common practice, not published.
#pragma once

#include <span>
#include <string_view>

#include "models/annular_gap.hpp"

namespace clearstroke {

/// Dimensions of a bleed screw.
struct BleedScrew {
    double pitch{};                    ///< p   thread pitch                          [m]    > 0
    double seat_bore{};                ///< ds  bore of the seat                      [m]    > 0
    double cross_hole{};               ///< dx  diameter of a cross hole              [m]    > 0
    double axial_bore{};               ///< da  diameter of the axial drilling        [m]    > 0
    int cross_holes{1};                ///< n_x number of cross holes                 [-]    >= 1
    double cone_half_angle{0.25 * pi}; ///< a   half angle of the cone                [rad]  0 to pi/2
    double drilling_length{10e-3};     ///< length of the axial drilling              [m]    >= 0
    AnnularGap thread{};               ///< leak path past the thread
};

/// A screw of the trade.
struct KnownBleedScrew {
    std::string_view thread; ///< "M8", "3/8-24" and so on
    BleedScrew screw;
    double torque_max{}; ///< highest usual tightening torque [N m]
};

/// Discharge coefficient of the sharp edges of seat and cross hole [-].
inline constexpr double bleed_screw_discharge = 0.62;

/// Flow area [m^2] of a screw opened by `turns` >= 0, (Z-2); 0 when shut.
[[nodiscard]] double bleed_screw_area(const BleedScrew&, double turns);

/// M6, M7, M8, M10, 1/4-28, 5/16-24, 3/8-24, 7/16-20.
[[nodiscard]] std::span<const KnownBleedScrew> known_bleed_screws();

/// The screw with that thread, or null.
[[nodiscard]] const BleedScrew* known_bleed_screw(std::string_view thread);

} // namespace clearstroke
