#include "models/long_bubble.hpp"

#include <algorithm>

namespace clearstroke {

double run_ahead(double ca, double scale, double cap) {
    if (ca <= 0.0) return 1.0;
    // With the cube root c of the bubble's own number, (B-2) reads c^3 k^2 = ca, k = (1 + 2.01 c^2)/(1 + 3.35
    // c^2) = sqrt(U/U_b): Newton in ln c, to rounding in four steps from c = cbrt(ca).
    double c = std::cbrt(ca), k = 1.0;
    for (int i = 0; i < 5; ++i) {
        const double y = c * c, a = 1.0 + 2.01 * y, b = 1.0 + 3.35 * y;
        k = a / b;
        const double ratio = c * y * k * k / ca, order = 3.0 + 4.0 * y * (2.01 / a - 3.35 / b);
        c *= 1.0 - 2.0 * (ratio - 1.0) / ((ratio + 1.0) * order);
    }
    return std::min(1.0 + scale * (1.0 / (k * k) - 1.0), cap);
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
