// Shape of a pocket against its own definition: count of a fine grid of slices, not the closed form.
#include "models/cavity.hpp"
#include "models/constants.hpp"
#include "models/drawdown.hpp"
#include "tests/book/check.hpp"
#include "tests/published/numerical.hpp"

namespace clearstroke {
namespace {

using namespace book;

/// Width of a circle at the signed height y above its centre, integrated: area above y.
double area_above(double radius, double y) {
    if (y >= radius) return 0.0;
    const double from = std::max(y, -radius);
    // y = radius sin(a) removes the root at the rim
    return integral(std::asin(from / radius), 0.5 * pi,
                    [&](double a) { return 2.0 * radius * radius * std::cos(a) * std::cos(a); });
}

/// Gas above the height z of a tilted cylinder, section by section along its axis.
double volume_above(const Cavity& c, double z) {
    return integral(-0.5 * c.depth, 0.5 * c.depth, [&](double s) {
        return area_above(c.bore_radius, (z - s * std::sin(c.axis_tilt)) / std::cos(c.axis_tilt));
    });
}

TEST(Cavities, ExactSegment) {
    for (const double depth : {1e-3, 4e-3, 27e-3, 40e-3}) {
        const double expected = area_above(27e-3, 27e-3 - depth);
        check({"segment " + number_text(depth * 1e3) + " mm below the crown of a 54 mm bore", "",
               "width of the circle, integrated", Grade::exact, "m2", expected,
               segment_area(27e-3, 27e-3 - depth), 1e-6 * expected, "quadrature"});
    }
}

TEST(Cavities, ExactTrappedVolumeOfATiltedCylinder) {
    for (const double degrees : {0.0, 5.0, 20.0, 60.0, -20.0}) {
        const Cavity c{13e-3, 60e-3, degrees * pi / 180.0};
        const double z = 9e-3, expected = volume_above(c, z);
        check({"gas 9 mm above the middle of a 26 mm bore tilted by " + number_text(degrees) + " degrees", "",
               "sections integrated along the axis", Grade::exact, "m3", expected, gas_volume_above(c, z),
               1e-4 * expected, "quadrature over the kink where the level leaves the bore"});
        const CavityProfile profile(c);
        check({"level of that gas from its volume, tilted by " + number_text(degrees) + " degrees", "",
               "the height it was integrated from", Grade::exact, "m", z, profile.interface_height(expected),
               2e-4 * (profile.top() - profile.bottom()), "2e-4 of the height, stated with the profile"});
    }
}

// An opening draws gas from the height h at which the dip over its sink can just stand: the least of
// z + v(z)^2/(2g) over z.
TEST(Drawdown, ExactDipOverASink) {
    const Liquid thin{1000.0, 1e-12, 1e-9, 0, 0, 0.03, 0};
    const double q = 10e-6, g = standard_gravity;
    for (const auto& [angle, what] : {std::pair{4.0 * pi, "free end of a tube"},
                                      {2.0 * pi, "hole in a wall"},
                                      {pi, "hole in an edge"},
                                      {0.5 * pi, "hole in a corner"}}) {
        const double h = minimum(1e-4, 0.1, [&](double z) {
            const double v = q / (angle * z * z);
            return z + v * v / (2.0 * g);
        });
        check({std::string("reach at 10 mL/s, ") + what, "", "least standing dip, searched", Grade::exact,
               "m", h, drawdown_reach({angle, 3e-3, 0.0, 0.0}, q, thin), 1e-5 * h,
               "constant 0.16384 has five digits"});
    }
    const double w = 1e-3, th = pi, gap = minimum(1e-4, 0.5, [&](double z) {
                                        const double v = q / (w * th * z);
                                        return z + v * v / (2.0 * g);
                                    });
    check({"reach at 10 mL/s in a gap of 1 mm, inertia", "", "least standing dip over a line sink, searched",
           Grade::exact, "m", gap, drawdown_reach({2.0 * pi, 3e-3, w, th}, q, thin), 1e-5 * gap, "search"});
    const Liquid cold{1084.0, 85e-6, 0.0923, 0, 0, 0.037, 0};
    const double fall =
        integral(1.0, 4.0, [&](double r) { return 12.0 * 85e-6 * 3e-6 / (g * 8e-9 * pi * r); });
    check({"reach at 3 mL/s in a gap of 2 mm, -10 degC, viscosity", "",
           "gradient of plane flow to a line, integrated over a ratio of 4", Grade::exact, "m", fall,
           drawdown_reach({2.0 * pi, 3e-3, 2e-3, pi}, 3e-6, cold), 1e-5 * fall, "quadrature"});
}

} // namespace
} // namespace clearstroke
