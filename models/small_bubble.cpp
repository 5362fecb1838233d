#include "models/small_bubble.hpp"

#include <cmath>

#include "models/constants.hpp"

namespace clearstroke {

double terminal_velocity(double diameter, const Liquid& liquid, double gas_density) {
    const double mu = liquid.dynamic_viscosity;
    const double n = 4.0 * liquid.density * (liquid.density - gas_density) * standard_gravity * diameter *
                     diameter * diameter / (3.0 * mu * mu);
    double re;
    if (n <= 73.0) {
        re = n * (1.0 / 24.0 + n * (-1.7569e-4 + n * (6.9252e-7 - n * 2.3027e-10)));
    } else {
        const double w = std::log10(n);
        re = std::pow(10.0, n <= 580.0 ? -1.7095 + w * (1.33438 - w * 0.11591)
                                       : -1.81391 + w * (1.34671 + w * (-0.12427 + w * 0.006344)));
    }
    return re * liquid.kinematic_viscosity / diameter;
}

double diameter_at(double p, double diameter, double p_known) { return diameter * std::cbrt(p_known / p); }

double share_risen(double rise_speed, double mean_height, double time) {
    return -std::expm1(-rise_speed * time / mean_height);
}

} // namespace clearstroke
