#include "models/tube_flow.hpp"

namespace clearstroke {

namespace {

// Inside of the logarithm of (T-4).
double haaland_argument(double re, double roughness) { return std::pow(roughness / 3.7, 1.11) + 6.9 / re; }

// f Re^2 of (T-4) at the turbulent limit, and its slope in Re.
struct PressureNumber {
    double value, slope;
};
PressureNumber at_turbulent_limit(double roughness) {
    constexpr double re = turbulent_limit;
    const double u = haaland_argument(re, roughness);
    const double x = -1.8 * std::log10(u), dx = 1.8 / std::numbers::ln10 * 6.9 / (re * re * u);
    const double f = 1.0 / (x * x), df = -2.0 * f * dx / x;
    return {f * re * re, 2.0 * f * re + df * re * re};
}

} // namespace

double friction_factor_colebrook(double re, double relative_roughness) {
    const double rough = relative_roughness / 3.7;
    double x = -1.8 * std::log10(haaland_argument(re, relative_roughness)); // 1/sqrt f, Newton from (T-4)
    for (int i = 0; i < 6; ++i) {
        const double inside = rough + 2.51 * x / re;
        x -= (x + 2.0 * std::log10(inside)) / (1.0 + 2.0 / std::numbers::ln10 * 2.51 / (re * inside));
    }
    return 1.0 / (x * x);
}

double friction_factor_haaland(double re, double relative_roughness) {
    const double x = -1.8 * std::log10(haaland_argument(re, relative_roughness));
    return 1.0 / (x * x);
}

double friction_factor_blasius(double re) { return 0.3164 / std::sqrt(std::sqrt(re)); }

double friction_factor(double re, double relative_roughness) {
    return turbulence_factor(re, relative_roughness) * friction_factor_laminar(re);
}

double turbulence_factor(double re, double relative_roughness) {
    if (re <= laminar_limit) return 1.0;
    if (re >= turbulent_limit) return friction_factor_haaland(re, relative_roughness) * re / 64.0;
    // (T-6): Hermite cubic of f Re^2, which is 64 Re below
    constexpr double width = turbulent_limit - laminar_limit;
    const PressureNumber end = at_turbulent_limit(relative_roughness);
    const double t = (re - laminar_limit) / width, s = 1.0 - t;
    const double number = s * s * (1.0 + 2.0 * t) * 64.0 * laminar_limit +
                          t * t * (3.0 - 2.0 * t) * end.value + width * t * s * (s * 64.0 - t * end.slope);
    return number / (64.0 * re);
}

} // namespace clearstroke
