#include "models/drawdown.hpp"

#include <algorithm>
#include <cmath>
#include <numbers>

#include "models/constants.hpp"

namespace clearstroke {

double drawdown_reach(const Opening& opening, double flow, const Liquid& liquid, double scale) {
    if (flow == 0.0) return 0.0;
    constexpr double g = standard_gravity;
    const double q = std::abs(flow), nu = liquid.kinematic_viscosity;
    const double inertial = std::pow(q * q / (g * 0.16384 * opening.solid_angle * opening.solid_angle), 0.2);
    const double viscous = std::sqrt(std::sqrt(nu * q / g));
    double reach = std::max(inertial, viscous);
    if (opening.gap_angle > 0.0) {
        const double w = opening.gap_width, spread = w * opening.gap_angle;
        const double gap_inertial = std::cbrt(27.0 * q * q / (8.0 * g * spread * spread));
        const double gap_viscous = 24.0 * std::numbers::ln2 * nu * q / (g * w * w * spread);
        reach = std::max({reach, gap_inertial, gap_viscous});
    }
    return std::min(scale * reach, largest_reach);
}

} // namespace clearstroke
