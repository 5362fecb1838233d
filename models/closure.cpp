#include "models/closure.hpp"

#include <algorithm>
#include <cmath>
#include <limits>

namespace clearstroke {
namespace {

constexpr double void_scale = 50e-6; // V_s [m^3]
constexpr int most_iterations = 60;
constexpr double converged = 1e-5; // relative change; the next one would be of the order of its square

struct Shrink {
    double factor{}, slope{}; // volume per unit of L, and its derivative in p
};

/// Compression of the liquid; straight beyond a tenth of K either way, so that (C-1) always has a root.
Shrink compressed(double gauge, const Medium& m) {
    const double limit = 0.1 * m.bulk_modulus, e = std::min(std::max(gauge, -limit), limit);
    const double inverse = 1.0 / (m.bulk_modulus + m.stiffening * e);
    const double slope = -m.bulk_modulus * inverse * inverse;
    return {1.0 - e * inverse + slope * (gauge - e), slope};
}

double temperature_ratio(double theta, double p) {
    return theta > 0.0 ? theta * std::pow(p / standard_atmosphere, theta_exponent) : 1.0;
}

/// Liquid minus capacity and its (negative) slope in p: everything of (C-1) but the gas.
struct Surplus {
    double value{}, slope{}, shrink{};
};
Surplus surplus(const Filling& f, double capacity, const ElasticLaw& walls, double memory, const Medium& m,
                double p) {
    const double gauge = p - m.ambient;
    const Shrink s = compressed(gauge, m);
    const VolumeSlope w = elastic_volume(walls, gauge, memory);
    return {f.liquid * s.factor - capacity - w.volume, f.liquid * s.slope - w.slope, s.factor};
}

/// Root of S p^2 - B p - G = 0 with S, G > 0 that is positive, without cancellation.
double positive_root(double s, double b, double g) {
    const double r = std::sqrt(b * b + 4.0 * s * g);
    return b > 0.0 ? (b + r) / (2.0 * s) : 2.0 * g / (r - b);
}

} // namespace

Medium medium_of(const Liquid& liquid, double ambient_pressure) {
    return {ambient_pressure, liquid.bulk_modulus, 0.5 * (liquid.bulk_modulus_pressure_slope + 1.0),
            liquid.vapour_pressure};
}

double gas_volume_at(double gas, double theta, double p) {
    return gas * standard_atmosphere / p * temperature_ratio(theta, p);
}

double liquid_to_fill(double gas, double capacity, const ElasticLaw& walls, double memory, const Medium& m,
                      double p) {
    const double gauge = p - m.ambient;
    const double room = capacity + elastic_volume(walls, gauge, memory).volume - gas_volume_at(gas, 0.0, p);
    return room / compressed(gauge, m).factor;
}

namespace {

/// (C-2): the pressure under which `void_volume` of vapour stands.
Pressure under_vapour(const Filling& f, double void_volume, double gas_at_vapour, const Medium& m) {
    const double pv = m.vapour_pressure, per_free_air = standard_atmosphere / pv;
    const double shrink = compressed(pv - m.ambient, m).factor, thinned = 1.0 + void_volume / void_scale;
    const double slope = pv / (void_scale * thinned * thinned);
    return {pv / thinned, slope * shrink, slope * (f.gas > 0.0 ? gas_at_vapour / f.gas : per_free_air),
            1.0 / slope,  gas_at_vapour,  true};
}

/// By iteration from `guess`. Newton on the nearly linear part; the gas as the hyperbola A / (p + B) that touches its
/// law at p: S y^2 - (F + S B) y - A = 0 with y = p + B.
template <bool with_gas>
Pressure iterated(const Filling& f, double capacity, const ElasticLaw& walls, double memory, const Medium& m,
                  double guess) {
    const double pv = m.vapour_pressure,
                 adiabatic_shift = with_gas && f.theta > 0.0 ? air_heat_ratio - 1.0 : 0.0;
    double p = std::max(guess, pv), slope = 0.0, shrink = 1.0, gas = 0.0;
    double low = 0.0, high = std::numeric_limits<double>::infinity(); // the root is between
    for (int i = 0; i < most_iterations; ++i) {
        const Surplus s = surplus(f, capacity, walls, memory, m, p);
        slope = std::max(-s.slope, least_softness);
        shrink = s.shrink;
        if constexpr (with_gas) gas = gas_volume_at(f.gas, f.theta, p);
        const double excess = s.value + gas;
        if (excess > 0.0)
            low = p;
        else
            high = p;
        const double surplus_at_zero = s.value + slope * p, shift = adiabatic_shift * p;
        double next = surplus_at_zero / slope;
        if constexpr (with_gas)
            next = positive_root(slope, surplus_at_zero + slope * shift, gas * (p + shift)) - shift;
        if (!(next >= pv) && low < pv) {
            if (p == pv && excess < 0.0) return under_vapour(f, -excess, gas, m);
            p = pv;
            continue;
        }
        const bool close = std::abs(next - p) <= converged * p;
        if (!close && (next < low || next > high))
            next = 0.5 * (low + high); // thrown across a ramp of the walls
        if constexpr (with_gas) gas *= (p + shift) / (next + shift);
        p = next;
        if (close) break;
    }
    const double per_free_air = with_gas ? gas / f.gas : standard_atmosphere / p;
    const double softness = with_gas ? gas / (p * (1.0 + adiabatic_shift)) + slope : slope;
    return {p, shrink / softness, per_free_air / softness, softness, gas, false};
}

} // namespace

Pressure pressure_of(const Filling& f, double capacity, const ElasticLaw& walls, double memory,
                     const Medium& m, double guess) {
    if (f.gas > 0.0) return iterated<true>(f, capacity, walls, memory, m, guess);
    if (is_linear(walls))
        if (const double gauge = gauge_of_liquid(f.liquid, capacity, walls.compliance, m); in_range(gauge, m))
            return liquid_at(gauge, f.liquid, walls.compliance, m);
    return iterated<false>(f, capacity, walls, memory, m, guess);
}

} // namespace clearstroke
