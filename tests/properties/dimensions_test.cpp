// Equal physics in other units: laws under a change of length, mass and time, files under a change of unit.
#include <iomanip>

#include "models/annular_gap.hpp"
#include "models/bleed_screw.hpp"
#include "models/cavity.hpp"
#include "models/hose.hpp"
#include "models/long_bubble.hpp"
#include "models/restriction.hpp"
#include "models/tube_flow.hpp"
#include "scenarios/scenario.hpp"
#include "tests/properties/property.hpp"

namespace clearstroke {
namespace {

/// A factor between 1/1000 and 1000.
double factor() { return std::pow(10.0, 1e-3 * *rc::gen::inRange(-3000, 3000)); }
double between(int low, int high, double unit) { return unit * *rc::gen::inRange(low, high); }
bool same(double a, double b) { return std::abs(a - b) <= 1e-12 * std::abs(a) + 1e-300; }

PROPERTY(Dimensions, OfARestriction, 200, ()) {
    const double l = factor(), m = factor(), t = factor(), p = m / (l * t * t);
    const Restriction a{between(1, 100, 1e-4), between(0, 100, 1e-3), 0.7},
        b{a.radius * l, a.length * l, 0.7};
    const double dp = between(1, 1000, 1e4), rho = between(1, 2000, 1.0), mu = between(1, 1000, 1e-4);
    const double q = volume_flow(drop_law(a, rho, mu), dp);
    RC_ASSERT(same(q * l * l * l / t, volume_flow(drop_law(b, rho * m / (l * l * l), mu * p * t), dp * p)));
}

PROPERTY(Dimensions, OfATubeAndAnAnnulus, 200, ()) {
    const double l = factor(), m = factor(), t = factor(), p = m / (l * t * t);
    const double mu = between(1, 1000, 1e-4), length = between(1, 500, 1e-2), bore = between(1, 100, 1e-4);
    RC_ASSERT(same(laminar_resistance(mu, length, bore) * p * t / (l * l * l),
                   laminar_resistance(mu * p * t, length * l, bore * l)));
    RC_ASSERT(same(inertance(1e3, length, bore) * m / (l * l * l * l),
                   inertance(1e3 * m / (l * l * l), length * l, bore * l)));
    const AnnularGap a{between(1, 20, 1e-3), between(1, 100, 1e-6), between(1, 20, 1e-3),
                       between(0, 10, 0.1)};
    const AnnularGap b{a.diameter * l, a.clearance * l, a.length * l, a.eccentricity};
    RC_ASSERT(
        same(annular_gap_conductance(a, mu) * l * l * l / (p * t), annular_gap_conductance(b, mu * p * t)));
    RC_ASSERT(
        same(wave_speed(1e3, 2e9, 1e-11) * l / t, wave_speed(1e3 * m / (l * l * l), 2e9 * p, 1e-11 / p)));
    RC_ASSERT(same(bretherton_pressure_drop(1e-3, 0.03, bore) * p,
                   bretherton_pressure_drop(1e-3, 0.03 * p * l, bore * l)));
}

PROPERTY(Dimensions, OfShapes, 200, ()) {
    const double l = factor();
    BleedScrew a = known_bleed_screws()[*rc::gen::inRange<std::size_t>(0, known_bleed_screws().size())].screw,
               b = a;
    for (double BleedScrew::*size :
         {&BleedScrew::pitch, &BleedScrew::seat_bore, &BleedScrew::cross_hole, &BleedScrew::axial_bore})
        b.*size *= l;
    const double turns = between(1, 200, 1e-2);
    RC_ASSERT(same(bleed_screw_area(a, turns) * l * l, bleed_screw_area(b, turns)));
    const Cavity small{between(5, 40, 1e-3), between(5, 40, 1e-3), between(-15, 15, 0.1)};
    const Cavity large{small.bore_radius * l, small.depth * l, small.axis_tilt};
    const double z = between(-10, 10, 1e-3);
    const double v = gas_volume_above(small, z) * l * l * l, w = gas_volume_above(large, z * l);
    const double whole = pi * large.bore_radius * large.bore_radius * large.depth;
    RC_ASSERT(std::abs(v - w) <= 1e-9 * whole); // differences of cubes in a closed form
    RC_ASSERT(gas_volume_above(small, z - 1e-3) >= gas_volume_above(small, z) - 1e-18);
}

// Numbers and units of the same sizes must give the same circuit, to rounding of the conversion.
std::string file_in(bool metric, int bore_mm, int feed_cm, int left_cm, int right_cm) {
    std::ostringstream out;
    out << std::setprecision(17);
    const auto size = [&](double si, const char* unit, double per_unit) {
        out << '"' << (metric ? si * 1e3 : si / per_unit) << (metric ? " mm" : unit) << '"';
    };
    out << "title = \"units\"\n[work]\nrenewed = [\"LF caliper\"]\n[master_cylinder]\nbore = ";
    size(1e-3 * bore_mm, " in", 0.0254);
    for (const char* axle : {"front", "rear"}) {
        out << (axle[0] == 'f' ? "\n[lines]\n" : "\n") << axle << " = { to_tee = ";
        size(1e-2 * feed_cm, " ft", 0.3048);
        out << (axle[0] == 'f' ? ", LF = " : ", LR = ");
        size(1e-2 * left_cm, " in", 0.0254);
        out << (axle[0] == 'f' ? ", RF = " : ", RR = ");
        size(1e-2 * right_cm, " yard", 0.9144);
        out << " }";
    }
    out << "\n[calipers]\nfront = { bore = ";
    size(54e-3, " in", 0.0254);
    out << " }\nrear = { bore = ";
    size(38e-3, " in", 0.0254);
    out << " }\n";
    return out.str();
}

Case case_of(const std::string& text) {
    const Scenario s = parse_scenario(text, "units");
    return s.factory.make(usual_values(s.factory));
}

PROPERTY(Dimensions, OfAScenarioFile, 15, ()) {
    const int bore = *rc::gen::inRange(16, 28), feed = *rc::gen::inRange(30, 300),
              left = *rc::gen::inRange(30, 150), right = *rc::gen::inRange(30, 200);
    const Case a = case_of(file_in(true, bore, feed, left, right)),
               b = case_of(file_in(false, bore, feed, left, right));
    RC_ASSERT(a.network.lines.size() == b.network.lines.size());
    for (std::size_t i = 0; i < a.network.lines.size(); ++i)
        RC_ASSERT(same(a.network.lines[i].length, b.network.lines[i].length));
    for (std::size_t i = 0; i < a.network.volumes.size(); ++i)
        RC_ASSERT(same(a.network.volumes[i].content, b.network.volumes[i].content));
    for (std::size_t j = 0; j < a.network.actuators[0].pistons.size(); ++j)
        RC_ASSERT(same(a.network.actuators[0].pistons[j].area, b.network.actuators[0].pistons[j].area));
    for (std::size_t i = 0; i < a.contents.volume_gas.size(); ++i)
        RC_ASSERT(same(a.contents.volume_gas[i], b.contents.volume_gas[i]));
}

} // namespace
} // namespace clearstroke
