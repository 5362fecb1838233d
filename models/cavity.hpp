/// A round cavity in any attitude: where its openings are, and how much gas stands above a height.
///
/// A cylinder of radius R and depth d; its axis rises from the closed to the open end by the tilt t.
/// Heights z are measured from the middle of the axis, upwards [m]. A point at axial fraction x, clock
/// angle c, radial share k:
///     z = (x - 1/2) d sin t + k R cos(c + roll) cos t                                                 (K-1)
/// Gas above the level z, with the section at s = (x - 1/2) d cut at y = (z - s sin t)/cos t:
///     V = integral of A(y) ds,   A(y) = R^2 acos(y/R) - y sqrt(R^2 - y^2)                             (K-2)
///     V = [S(y at +d/2) - S(y at -d/2)] / tan t,
///     S(y) = R^2 (sqrt(R^2 - y^2) - y acos(y/R)) - (R^2 - y^2)^(3/2) / 3                              (K-3)
/// Clock angles and roll are clockwise seen from outboard, 0 at the top. The shadow that the cavity casts on the
/// ground has the area 2 R d cos t + pi R^2 |sin t|, so what stands in it is on average
///     H = pi R^2 d / (2 R d cos t + pi R^2 |sin t|)                                                   (K-4)
/// high.
/// Valid: level interface (cavities wider than about 6 mm, at rest or slow).
/// Source: geometry, derived (ours).
#pragma once

#include <array>

namespace clearstroke {

/// The cavity and its attitude.
struct Cavity {
    double bore_radius{}; ///< R  [m]    > 0
    double depth{};       ///< d  [m]    > 0
    double axis_tilt{};   ///< t  positive: open end up  [rad]  -pi/2 to pi/2
};

/// Where an opening is.
struct OpeningPlace {
    double clock{};     ///< c  angle from the top, clockwise seen from outboard  [rad]
    double axial{};     ///< x  share of the depth from the closed end            [-]  0 to 1
    double radial{1.0}; ///< k  share of the bore radius                          [-]  0 to 1
};

/// Height [m] of an opening's centre above the middle of the cavity after turning the part by `roll` [rad],
/// (K-1).
[[nodiscard]] double opening_height(const Cavity&, const OpeningPlace&, double roll = 0.0);

/// Area [m^2] of a circle of `radius` [m] that lies above the chord at signed distance `y` [m] from the
/// centre.
[[nodiscard]] double segment_area(double radius, double y);

/// Volume [m^3] of the cavity above `height` [m], (K-2), (K-3).
[[nodiscard]] double gas_volume_above(const Cavity&, double height);

/// Turn [rad] in (-pi, pi] about the axis, clockwise seen from outboard, that brings the opening to the top.
[[nodiscard]] double roll_to_top(const OpeningPlace&);

/// Mean height [m] of the liquid column in a full cavity, (K-4).
[[nodiscard]] double mean_height(const Cavity&);

/// Height of the interface against gas volume for one attitude, tabulated once, cheap to ask. The inverse
/// of (K-2) by a monotone cubic through 65 heights that crowd at top and bottom; within 2e-4 of the height
/// of the cavity.
class CavityProfile {
public:
    explicit CavityProfile(const Cavity&);

    /// Height [m] of the interface when `gas_volume` [m^3] of gas is in the cavity; clamped to top and
    /// bottom.
    [[nodiscard]] double interface_height(double gas_volume) const;
    /// Gas [m^3] that stays above an opening whose top is at `opening_top_height` [m].
    [[nodiscard]] double trapped_volume(double opening_top_height) const;
    [[nodiscard]] double top() const { return height_.front(); }   ///< highest point [m]
    [[nodiscard]] double bottom() const { return height_.back(); } ///< lowest point [m]
    [[nodiscard]] double volume() const { return volume_.back(); } ///< whole volume [m^3]

private:
    static constexpr int points = 65;
    Cavity cavity_;
    std::array<double, points> volume_{}, height_{}, slope_{}; // gas above, height, d height / d volume
};

} // namespace clearstroke
