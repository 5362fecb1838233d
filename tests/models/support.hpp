// Shared by the tests of the laws: relative comparison, a reproducible sampler, the reference fluid.
#pragma once

#include <gtest/gtest.h>

#include <cmath>
#include <random>

#include "models/constants.hpp"
#include "models/fluid.hpp"

namespace clearstroke::test {

/// Success when `value` is within the relative tolerance of `expected`.
inline testing::AssertionResult close(double value, double expected, double relative = 1e-3) {
    if (std::abs(value - expected) <= relative * std::abs(expected)) return testing::AssertionSuccess();
    return testing::AssertionFailure()
           << value << " differs from " << expected << " by " << std::abs(value / expected - 1.0)
           << " (relative), allowed " << relative;
}

/// Log-uniform numbers from a fixed seed; own map, because std distributions differ between libraries.
class Sampler {
public:
    explicit Sampler(unsigned seed) : engine_(seed) {}
    double operator()(double low, double high) { return low * std::pow(high / low, uniform()); }
    double uniform() { return double(engine_()) / double(std::mt19937::max()); }

private:
    std::mt19937 engine_;
};

/// A typical DOT 4 that belongs to the derived check values only: 1200 and 2.5 mm^2/s at -40 and 100 degC.
inline Fluid reference_fluid() {
    Fluid f;
    f.name = "reference";
    f.density_20 = 1060.0, f.density_slope = -0.795;
    f.viscosity = walther_through(zero_celsius - 40.0, 1200e-6, zero_celsius + 100.0, 2.5e-6);
    f.bulk_modulus_20 = 1.8e9, f.bulk_modulus_slope = -9e6, f.bulk_modulus_pressure_slope = 10.0;
    f.surface_tension_20 = 0.035, f.surface_tension_slope = -9e-5;
    f.vapour_pressure_20 = 100.0, f.dissolved_air = 0.05;
    f.boiling_dry = zero_celsius + 230.0, f.boiling_wet = zero_celsius + 155.0;
    return f;
}
inline Liquid reference_liquid(double celsius) {
    return liquid_at(reference_fluid(), zero_celsius + celsius);
}

/// A liquid of given density [kg/m^3], kinematic viscosity [m^2/s] and surface tension [N/m].
inline Liquid make_liquid(double density, double kinematic_viscosity, double surface_tension) {
    Liquid l;
    l.density = density;
    l.kinematic_viscosity = kinematic_viscosity;
    l.dynamic_viscosity = density * kinematic_viscosity;
    l.surface_tension = surface_tension;
    return l;
}

} // namespace clearstroke::test
