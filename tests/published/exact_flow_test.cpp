// Laws of flow against mathematics done another way: integrals, roots and extrema found numerically.
#include "models/annular_gap.hpp"
#include "models/bleed_screw.hpp"
#include "models/constants.hpp"
#include "models/gas.hpp"
#include "models/restriction.hpp"
#include "models/small_bubble.hpp"
#include "models/tube_flow.hpp"
#include "tests/book/check.hpp"
#include "tests/published/numerical.hpp"

namespace clearstroke {

using namespace book;

const std::string quadrature = "quadrature to better than 1e-9";

// (T-6): f Re^2 between Re 2300 and 4000 is the cubic that has both ends' values and slopes. In the basis of
// powers of t: y0 + s0 t + (3 d - 2 s0 - s1) t^2 + (s0 + s1 - 2 d) t^3, d the rise, s the slopes over the
// width.
TEST(FlowOfLiquid, ExactTransition) {
    const double low = 2300.0, high = 4000.0, width = high - low, rough = 0.001, h = 1.0;
    const auto above = [&](double re) { return re * re * friction_factor_haaland(re, rough); };
    const double d = above(high) - 64.0 * low, s0 = 64.0 * width,
                 s1 = width * (above(high + h) - above(high - h)) / (2.0 * h);
    for (const double re : {2310.0, 2600.0, 3150.0, 3990.0}) {
        const double t = (re - low) / width,
                     y = 64.0 * low + t * (s0 + t * (3.0 * d - 2.0 * s0 - s1 + t * (s0 + s1 - 2.0 * d)));
        check({"friction factor in transition at Re " + number_text(re) + ", roughness 0.001", "",
               "cubic through both branches", Grade::exact, "-", y / (re * re), friction_factor(re, rough),
               1e-7, "slope by differences"});
    }
}

TEST(FlowOfLiquid, ExactVelocityProfile) {
    const double mu = 0.0193, length = 2.0, radius = 1.65e-3, dp = 1e5;
    const double flow = integral(0.0, radius, [&](double r) {
        return 2.0 * pi * r * dp * (radius * radius - r * r) / (4.0 * mu * length);
    });
    check({"pressure that drives the integral of the parabolic profile, 2 m of 3.3 mm", "",
           "integral of the velocity over the section", Grade::exact, "Pa", dp,
           laminar_resistance(mu, length, 2.0 * radius) * flow, 1e-6 * dp, quadrature});
    const double re = reynolds_number(flow, 2.0 * radius, mu / 1060.0), u = flow / circle_area(2.0 * radius);
    check({"the same pressure by the Darcy factor of the laminar branch", "", "dp = f (L/D) rho U^2/2",
           Grade::exact, "Pa", dp, friction_factor(re, 0.0) * length / (2.0 * radius) * 530.0 * u * u,
           1e-6 * dp, quadrature});
}

TEST(FlowOfLiquid, ExactEccentricAnnulus) {
    const AnnularGap gap{8e-3, 25e-6, 8e-3, 0.6};
    const double mu = 1.8e-5, sum = integral(0.0, 2.0 * pi, [&](double angle) {
                                  const double h = gap.clearance * (1.0 + gap.eccentricity * std::cos(angle));
                                  return 0.5 * gap.diameter * h * h * h / (12.0 * mu * gap.length);
                              });
    check({"leak of an annulus of eccentricity 0.6", "", "plane gaps of varying width, integrated around",
           Grade::exact, "m3/(s Pa)", sum, annular_gap_conductance(gap, mu), 1e-6 * sum, quadrature});
}

TEST(FlowOfLiquid, ExactRootOfARestriction) {
    const DropLaw law = drop_law({0.5e-3, 3e-3, 0.62}, 1060.0, 0.0193);
    for (const double dp : {10.0, 1e3, 1e5, 1e7}) {
        const double q = root(0.0, 1e-3, [&](double x) { return law.a * x + law.b * x * x - dp; });
        check({"flow through a 1 mm hole at " + number_text(dp) + " Pa", "", "bisection of dp = a q + b q^2",
               Grade::exact, "m3/s", q, volume_flow(law, dp), 1e-6 * q, "bisection to better than 1e-9"});
    }
}

// Cone: the passage is the strip swept by the shortest line from the edge of the seat to the cone.
TEST(FlowOfLiquid, ExactPassageOfABleedScrew) {
    const BleedScrew screw = *known_bleed_screw("M10");
    const double h = 0.1 * screw.pitch, a = screw.cone_half_angle, slant = h * std::sin(a);
    const double strip =
        integral(0.0, slant, [&](double s) { return 2.0 * pi * (0.5 * screw.seat_bore - s * std::cos(a)); });
    BleedScrew wide = screw;
    wide.cross_hole = wide.axial_bore = 1.0;
    check({"passage at the cone of an M10 screw, a tenth of a turn", "", "area of the strip by integration",
           Grade::exact, "m2", strip, bleed_screw_area(wide, 0.1), 1e-5 * strip,
           "the other passages are opened to 1 m for this"});
    // Three equal-coefficient orifices in series pass the flow at which their three drops add up.
    const double turns = 0.5, cone = bleed_screw_area(wide, turns), cross = circle_area(screw.cross_hole),
                 axial = circle_area(screw.axial_bore), dp = 1e5;
    const double q = root(0.0, 1e-3, [&](double x) {
        return 530.0 * x * x * (1.0 / (cone * cone) + 1.0 / (cross * cross) + 1.0 / (axial * axial)) - dp;
    });
    check({"area of cone, cross hole and drilling in series", "", "bisection of the sum of three drops",
           Grade::exact, "m2", q / std::sqrt(2.0 * dp / 1060.0), bleed_screw_area(screw, turns), 1e-6 * cone,
           "bisection to better than 1e-9"});
}

TEST(Air, ExactChokedFlow) {
    const double t = 293.15, p0 = 1e5, rho0 = air_density(p0, t), g = air_heat_ratio;
    // Isentropic mass flux at the pressure ratio x; its maximum chokes.
    const double flux = -minimum(0.3, 0.9, [&](double x) {
        return -rho0 * std::pow(x, 1.0 / g) *
               std::sqrt(2.0 * g / (g - 1.0) * p0 / rho0 * (1.0 - std::pow(x, (g - 1.0) / g)));
    });
    check({"choked flow of air at 20 degC through 1 mm2, Cd 1", "", "largest isentropic flux, searched",
           Grade::exact, "m3/s", 1e-6 * flux / rho0, choked_gas_flow_limit(1e-6, 1.0, t),
           1e-6 * flux / rho0 * 1e-6, "search to better than 1e-9"});
}

TEST(SmallBubbles, ExactCreepingSphere) {
    const double d = 20e-6, rho = 1060.0, mu = 0.0193;
    const Liquid liquid{rho, mu / rho, mu, 0, 0, 0.034, 0};
    const double stokes = rho * standard_gravity * d * d / (18.0 * mu);
    check({"rise of a rigid 20 um bubble", "", "creeping flow round a sphere, drag 3 pi mu d U", Grade::exact,
           "m/s", stokes, terminal_velocity(d, liquid, 0.0), 1e-4 * stokes, "next term of the law: 4e-6"});
}

} // namespace clearstroke
