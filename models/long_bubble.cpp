#include "models/long_bubble.hpp"

#include <algorithm>

namespace clearstroke {

double run_ahead(double ca, double scale, double cap) {
    // (B-2) has the capillary number of the bubble, ca x, on its right: Newton from x = 1, to rounding in
    // five
    double x = 1.0;
    for (int i = 0; i < 5; ++i) {
        const double c = std::cbrt(ca * x), y = c * c, fraction = 1.0 + 3.35 * y;
        const double film = 1.34 * y / fraction, core = 1.0 - film;
        const double law = 1.0 / (core * core);
        const double slope = 4.0 / 3.0 * law * film / (core * fraction * x);
        x -= (x - law) / (1.0 - slope);
    }
    return std::min(1.0 + scale * (x - 1.0), cap);
}

double creep_capillary_number(double bo) {
    const double excess = bo - no_rise_bond_number;
    if (excess <= 0.0) return 0.0;
    // 1.25 s^2 + 2.24 s^3 = excess, s = Ca^(1/9): convex, so Newton from above is monotone
    double s = std::min(std::sqrt(excess / 1.25), std::cbrt(excess / 2.24));
    for (int i = 0; i < 8; ++i) s -= (s * s * (1.25 + 2.24 * s) - excess) / (s * (2.5 + 6.72 * s));
    const double cube = s * s * s;
    return cube * cube * cube;
}

double viana_froude(double eo, double nf) {
    const auto level = [eo](double a, double b, double c, double d) {
        return a / std::pow(1.0 + std::pow(eo / b, c), d);
    };
    const double a = level(0.34, 14.793, -3.06, 0.58);
    const double b = level(31.08, 29.868, -1.96, -0.49);
    const double c = level(-1.45, 24.867, -9.93, -0.094);
    const double g = -1.0295 / c;
    return a / std::pow(1.0 + std::pow(nf / b, c), g);
}

double bubble_rise_speed(double bore, const Liquid& liquid, double gas_density) {
    const double weight = (liquid.density - gas_density) * standard_gravity;
    const double eo = weight * bore * bore / liquid.surface_tension, bo = 0.25 * eo;
    if (bo <= no_rise_bond_number) return 0.0;

    const double creep = creep_capillary_number(std::min(bo, bretherton_bond_limit)) *
                         liquid.surface_tension / liquid.dynamic_viscosity;
    if (bo <= bretherton_bond_limit) return creep;

    const double nf = std::sqrt(standard_gravity * bore * bore * bore) / liquid.kinematic_viscosity;
    const double rise = viana_froude(eo, nf) * std::sqrt(standard_gravity * bore);
    if (eo >= viana_eotvos_limit) return rise;

    constexpr double from = 4.0 * bretherton_bond_limit;
    const double t = (eo - from) / (viana_eotvos_limit - from);
    return creep * std::pow(rise / creep, t * t * (3.0 - 2.0 * t)); // (B-6)
}

} // namespace clearstroke
