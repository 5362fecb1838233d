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

/// Gas of one unit of free air and its temperature ratio, as the iteration of the pressure moves on.
struct UnitGas {
    double volume{}; // at p
    double p{};      // 0: nowhere yet
};

/// (1 + x)^theta_exponent for small x, to 1e-13 of itself.
double power_near_one(double x) {
    constexpr double k = theta_exponent;
    return 1.0 + k * x *
                     (1.0 + (k - 1.0) / 2.0 * x *
                                (1.0 + (k - 2.0) / 3.0 * x *
                                           (1.0 + (k - 3.0) / 4.0 * x * (1.0 + (k - 4.0) / 5.0 * x))));
}

/// Volume of a unit of free air at p; from where it was known last when that is near.
double unit_volume(double theta, double p, UnitGas& last) {
    constexpr double near = 5e-3; // relative change of the pressure
    const double change = p - last.p;
    if (theta <= 0.0)
        last.volume = standard_atmosphere / p;
    else if (std::abs(change) < near * last.p)
        last.volume *= power_near_one(change / last.p) * last.p / p;
    else
        last.volume = standard_atmosphere / p * temperature_ratio(theta, p);
    last.p = p;
    return last.volume;
}

/// (C-1) of one volume, solved by iteration: Newton on the nearly linear part; the gas as the hyperbola A / (p + B) that
/// touches its law at p: S y^2 - (F + S B) y - A = 0 with y = p + B.
template <bool with_gas> class Closure {
public:
    Closure(const Filling& f, double capacity, const ElasticLaw& walls, double memory, const Medium& m)
        : f_(f), capacity_(capacity), walls_(walls), memory_(memory), m_(m) {}

    [[nodiscard]] Pressure from(double guess) {
        const double p = std::max(guess, m_.vapour_pressure);
        improve(p);
        return next_ >= m_.vapour_pressure && is_close(p) ? found() : iterated(p);
    }

private:
    const Filling& f_;
    const double capacity_;
    const ElasticLaw& walls_;
    const double memory_;
    const Medium& m_;
    UnitGas last_;
    double excess_{}, slope_{}, shrink_{}, unit_{}, per_pressure_{}, next_{}; // of the last iterate

    [[nodiscard]] bool is_close(double p) const { return std::abs(next_ - p) <= converged * p; }

    /// The iterate that follows p.
    void improve(double p) {
        const Surplus s = surplus(f_, capacity_, walls_, memory_, m_, p);
        slope_ = std::max(-s.slope, least_softness);
        shrink_ = s.shrink;
        const double at_zero = s.value + slope_ * p;
        if constexpr (with_gas) {
            unit_ = unit_volume(f_.theta, p, last_);
            const double shift = f_.theta > 0.0 ? (air_heat_ratio - 1.0) * p : 0.0, gas = f_.gas * unit_;
            excess_ = s.value + gas;
            const double y = positive_root(slope_, at_zero + slope_ * shift, gas * (p + shift));
            next_ = y - shift;
            per_pressure_ = 1.0 / y;
            unit_ *= (p + shift) * per_pressure_;
        } else {
            excess_ = s.value;
            next_ = at_zero / slope_;
        }
    }

    /// At the last iterate, taken for the root.
    [[nodiscard]] Pressure found() const {
        const double gas = f_.gas * unit_;
        const double softness = with_gas ? gas * per_pressure_ + slope_ : slope_, stiffness = 1.0 / softness;
        const double per_free_air = with_gas ? unit_ : standard_atmosphere / next_;
        return {next_, shrink_ * stiffness, per_free_air * stiffness, softness, gas, false};
    }

    /// Goes on from p and the iterate that follows it.
    [[nodiscard]] Pressure iterated(double p) {
        const double pv = m_.vapour_pressure;
        double low = 0.0, high = std::numeric_limits<double>::infinity(); // the root is between
        for (int i = 0; i < most_iterations; ++i) {
            (excess_ > 0.0 ? low : high) = p;
            if (!(next_ >= pv) && low < pv) {
                if (p == pv && excess_ < 0.0)
                    return under_vapour(f_, -excess_, with_gas ? f_.gas * last_.volume : 0.0, m_);
                p = pv;
            } else if (is_close(p)) {
                break;
            } else {
                p = next_ < low || next_ > high ? 0.5 * (low + high) : next_; // thrown across a ramp
            }
            improve(p);
        }
        return found();
    }
};

} // namespace

Pressure pressure_of(const Filling& f, double capacity, const ElasticLaw& walls, double memory,
                     const Medium& m, double guess) {
    if (f.gas > 0.0) return Closure<true>(f, capacity, walls, memory, m).from(guess);
    if (is_linear(walls))
        if (const double gauge = gauge_of_liquid(f.liquid, capacity, walls.compliance, m); in_range(gauge, m))
            return liquid_at(gauge, f.liquid, walls.compliance, m);
    return Closure<false>(f, capacity, walls, memory, m).from(guess);
}

} // namespace clearstroke
