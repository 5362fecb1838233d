#include "models/wall_bubble.hpp"

#include <algorithm>
#include <cmath>

#include "models/constants.hpp"

namespace clearstroke {
namespace {

constexpr double touching_wall = 1.7009; // drag of a sphere that touches a wall over Stokes's
constexpr double pi_4 = pi * pi * pi * pi;

} // namespace

double detaching_stress(double diameter, double grip, double surface_tension) {
    return 16.0 * surface_tension * grip / (touching_wall * pi_4 * diameter);
}

double largest_clinging(double grip, const Liquid& liquid) {
    return std::sqrt(144.0 * liquid.surface_tension * grip / (pi_4 * liquid.density * standard_gravity));
}

double wall_stress(double flow, double breadth, double depth, double dynamic_viscosity) {
    const auto [gap, width] = std::minmax(breadth, depth);
    return 6.0 * dynamic_viscosity * std::abs(flow) / (width * gap * gap);
}

} // namespace clearstroke
