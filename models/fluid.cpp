#include "models/fluid.hpp"

#include <algorithm>
#include <array>
#include <cmath>

#include "models/constants.hpp"

namespace clearstroke {

namespace {

constexpr double reference_temperature = zero_celsius + 20.0; // [K]
constexpr double mm2_per_s = 1e-6;                            // [m^2/s]

// Z of (F-1) and (F-2) at temperature t [K].
double walther_z(const Walther& w, double t) {
    return std::pow(10.0, std::pow(10.0, w.a - w.b * std::log10(t)));
}

constexpr double celsius(double t) { return zero_celsius + t; }

// Constants through two points given in degC and mm^2/s.
Walther through(double t1, double nu1, double t2, double nu2) {
    return walther_through(celsius(t1), nu1 * mm2_per_s, celsius(t2), nu2 * mm2_per_s);
}

// Typical values, [from memory] unless marked. Viscosity through -40 and 100 degC for the glycol grades, 25
// and 100 degC for silicone, 20 and 100 degC for mineral oil (polymer-thickened: (F-1) is too thin far below
// 0 degC). Bulk modulus slope from the 20 and 100 degC values. Dissolved air: saej1705 app. A [secondary] for
// glycol (5 +- 2 %) and silicone (16 +- 3 %). Boiling points: the least the grade allows; mineral oil takes
// no water. Vapour pressure: an upper bound. Surface tension +-15 %.
std::array<Fluid, 6> make_fluids() {
    using enum FluidFamily;
    const double glycol_slope = -9e-5;
    return {{
        {"DOT 3", glycol, 1040.0, -0.8, through(-40.0, 1200.0, 100.0, 2.1), 1.8e9, -7.5e6, 10.0, 0.033,
         glycol_slope, 100.0, 0.05, celsius(205.0), celsius(140.0)},
        {"DOT 4", glycol, 1060.0, -0.8, through(-40.0, 1300.0, 100.0, 2.2), 1.9e9, -7.5e6, 10.0, 0.034,
         glycol_slope, 100.0, 0.05, celsius(230.0), celsius(155.0)},
        {"DOT 4 low viscosity", glycol, 1060.0, -0.8, through(-40.0, 700.0, 100.0, 2.0), 1.9e9, -7.5e6, 10.0,
         0.034, glycol_slope, 100.0, 0.05, celsius(250.0), celsius(165.0)},
        {"DOT 5.1", glycol, 1070.0, -0.8, through(-40.0, 850.0, 100.0, 2.2), 1.9e9, -7.5e6, 10.0, 0.034,
         glycol_slope, 100.0, 0.05, celsius(260.0), celsius(180.0)},
        {"DOT 5", silicone, 960.0, -0.9, through(25.0, 50.0, 100.0, 16.5), 1.0e9, -5.0e6, 9.0, 0.021, -6e-5,
         100.0, 0.16, celsius(260.0), celsius(180.0)},
        {"mineral oil", mineral, 850.0, -0.65, through(20.0, 30.0, 100.0, 6.0), 1.5e9, -6.25e6, 10.0, 0.028,
         -8e-5, 100.0, 0.095, celsius(260.0), celsius(260.0)},
    }};
}

constexpr std::array<FluidLimits, 5> limits{{
    {"DOT 3", celsius(205.0), celsius(140.0), 1500e-6, 1.5e-6},
    {"DOT 4", celsius(230.0), celsius(155.0), 1800e-6, 1.5e-6},
    {"DOT 4 low viscosity", celsius(250.0), celsius(165.0), 750e-6, 1.5e-6},
    {"DOT 5.1", celsius(260.0), celsius(180.0), 900e-6, 1.5e-6},
    {"DOT 5", celsius(260.0), celsius(180.0), 900e-6, 1.5e-6},
}};

// (F-4)
double vapour_pressure(const Fluid& f, double t) {
    const double steepness = std::log(standard_atmosphere / f.vapour_pressure_20) /
                             (1.0 / reference_temperature - 1.0 / f.boiling_dry);
    return f.vapour_pressure_20 * std::exp(steepness * (1.0 / reference_temperature - 1.0 / t));
}

template <class Entry> const Entry* find_named(std::span<const Entry> entries, std::string_view name) {
    const auto found = std::ranges::find(entries, name, &Entry::name);
    return found == entries.end() ? nullptr : &*found;
}

} // namespace

double kinematic_viscosity(const Walther& w, double temperature) {
    return (walther_z(w, temperature) - 0.7) * mm2_per_s;
}

double kinematic_viscosity_low(const Walther& w, double temperature) {
    // the inverse of (F-2) that the standard prints beside it
    const double y = walther_z(w, temperature) - 0.7;
    return (y - std::exp(-0.7487 - 3.295 * y + 0.6119 * y * y - 0.3193 * y * y * y)) * mm2_per_s;
}

Walther walther_through(double temperature_1, double viscosity_1, double temperature_2, double viscosity_2) {
    const auto log_log = [](double nu) { return std::log10(std::log10(nu / mm2_per_s + 0.7)); };
    const double w1 = log_log(viscosity_1), w2 = log_log(viscosity_2);
    const double x1 = std::log10(temperature_1), x2 = std::log10(temperature_2);
    const double b = (w1 - w2) / (x2 - x1);
    return {w1 + b * x1, b};
}

Liquid liquid_at(const Fluid& f, double temperature) {
    const double dt = temperature - reference_temperature;
    Liquid liquid;
    liquid.density = f.density_20 + f.density_slope * dt;
    liquid.kinematic_viscosity = kinematic_viscosity(f.viscosity, temperature);
    liquid.dynamic_viscosity = liquid.density * liquid.kinematic_viscosity;
    liquid.bulk_modulus = f.bulk_modulus_20 + f.bulk_modulus_slope * dt;
    liquid.bulk_modulus_pressure_slope = f.bulk_modulus_pressure_slope;
    liquid.surface_tension = f.surface_tension_20 + f.surface_tension_slope * dt;
    liquid.vapour_pressure = vapour_pressure(f, temperature);
    return liquid;
}

std::span<const Fluid> known_fluids() {
    static const std::array<Fluid, 6> fluids = make_fluids();
    return fluids;
}

const Fluid* find_fluid(std::string_view name) { return find_named(known_fluids(), name); }

std::span<const FluidLimits> fluid_limits() { return limits; }

const FluidLimits* find_fluid_limits(std::string_view name) { return find_named(fluid_limits(), name); }

} // namespace clearstroke
