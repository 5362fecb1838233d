#include <cmath>

#include <fmt/format.h>

#include "models/boiling.hpp"
#include "models/constants.hpp"
#include "scenarios/build/parts.hpp"

namespace clearstroke {
namespace {

/// Pressure [Pa] of the standard atmosphere at a height [m] up to 11 km (ISO 2533, from memory).
double pressure_at(double altitude) {
    return standard_atmosphere * std::pow(1.0 - 2.25577e-5 * altitude, 5.25588);
}

double ambient(Inputs& in) {
    const auto altitude = in.stated("conditions.altitude");
    if (!altitude) return in.value("conditions.ambient_pressure");
    if (in.stated("conditions.ambient_pressure")) {
        const Place other = in.document().place_of("conditions.altitude");
        in.fault("conditions.ambient_pressure",
                 fmt::format("says the same as conditions.altitude at {}:{}:{}; allowed: one of the two",
                             other.file, other.line, other.column));
    }
    return pressure_at(*altitude);
}

Fluid fluid_of(Inputs& in) {
    Fluid fluid = *find_fluid(in.text("fluid"));
    fluid.surface_tension_20 = in.assumed("fluid_properties.surface_tension", fluid.surface_tension_20,
                                          0.85 * fluid.surface_tension_20, 1.15 * fluid.surface_tension_20);
    fluid.bulk_modulus_20 = in.assumed("fluid_properties.bulk_modulus", fluid.bulk_modulus_20,
                                       0.9 * fluid.bulk_modulus_20, 1.1 * fluid.bulk_modulus_20);
    const double factor = in.value("fluid_properties.viscosity_factor");
    if (factor != 1.0) {
        constexpr double cold = 253.15, warm = 333.15; // [K]
        fluid.viscosity = walther_through(cold, factor * kinematic_viscosity(fluid.viscosity, cold), warm,
                                          factor * kinematic_viscosity(fluid.viscosity, warm));
    }
    return fluid;
}

void refuse_mixture(Inputs& in, const Fluid& fluid) {
    const auto before = in.stated_text("fluid_before");
    const Fluid* old = before ? find_fluid(*before) : nullptr;
    if (!old || may_mix(*old, fluid)) return;
    const bool oil = old->family == FluidFamily::mineral || fluid.family == FluidFamily::mineral;
    in.fault("fluid_before",
             fmt::format("{} does not go in after {}: {}; allowed: a grade of the same kind, or all seals "
                         "and hoses renewed and the "
                         "rest flushed and dried, and then no fluid_before",
                         fluid.name, old->name,
                         oil ? "each ruins the seals that are made for the other"
                             : "they do not mix, and what is left of one lies in the other in slugs"));
}

/// How far the hottest fluid is from boiling, (F-5).
void warn_of_boiling(Inputs& in, const Conditions& c) {
    const auto hottest = in.stated("conditions.hottest"), water = in.stated("conditions.water");
    if (!hottest && !water) return;
    const double holds = water.value_or(wet_test_water);
    const auto boils = boiling_at_least(c.fluid, holds);
    const std::string with = fmt::format("{} with {:.1f} % of water by mass{}", c.fluid.name, 100.0 * holds,
                                         water ? "" : " (assumed)");
    const char* source = find_fluid_limits(c.fluid.name)
                             ? "limit of its grade, 49 CFR 571.116 S5.1 or ISO 4925"
                             : "from memory";
    if (!boils)
        in.warn(with + " holds more than the wet test's 3.7 %: no boiling point is vouched for, renew it");
    else if (!hottest)
        in.warn(fmt::format("{} boils from {:.0f} degC on ({})", with, *boils - zero_celsius, source));
    else
        in.warn(fmt::format("{} boils from {:.0f} degC on ({}): {:.0f} degC {} the hottest stated", with,
                            *boils - zero_celsius, source, std::abs(*boils - *hottest),
                            *boils > *hottest ? "above" : "BELOW"));
}

/// What of dispersed gas, gas at walls and gas in solution is asked for.
void build_bubbles(Inputs& in, Parts& parts) {
    Conditions& c = parts.net.conditions;
    const auto stated = [&](const char* key) { return in.stated(fmt::format("bubbles.{}", key)); };
    const auto diameter = stated("diameter");
    const auto with_diameter = [&](const char* key) {
        const auto given = stated(key);
        if (given && !diameter)
            in.fault(fmt::format("bubbles.{}", key),
                     "says nothing without a size; allowed: bubbles.diameter beside it");
        return given.value_or(0.0);
    };
    c.bubbles.diameter = diameter.value_or(0.0);
    c.bubbles.poured = with_diameter("poured");
    c.bubbles.grip = with_diameter("grip");
    parts.contents.dispersed = with_diameter("in_fluid");
    const auto time_constant = stated("out_of_solution");
    if (!time_constant) return;
    c.bubbles.out_of_solution = *time_constant;
    double& air = c.fluid.dissolved_air;
    const double spread = c.fluid.family == FluidFamily::silicone ? 0.03 : 0.02;
    air = in.assumed("fluid_properties.dissolved_air", air, air - spread, air + spread);
}

} // namespace

void build_conditions(Inputs& in, Parts& parts) {
    for (const char* general : {"model", "operator"}) in.use(general); // valid in every layout and method
    Conditions& c = parts.net.conditions;
    c.fluid = fluid_of(in);
    refuse_mixture(in, c.fluid);
    warn_of_boiling(in, c);
    c.temperature = in.value("conditions.temperature");
    c.ambient_pressure = ambient(in);
    build_bubbles(in, parts);
    c.pitch = in.value("conditions.pitch");
    c.roll = in.value("conditions.roll");
    c.run_ahead_scale = in.value("model.run_ahead");
    c.drawdown_scale = in.value("model.drawdown");
    c.separation = in.value("model.separation");
    c.stirred = in.value("model.stirred");
    c.unsteady_lines = in.text("model.line_flow") == "unsteady";
    c.gas_temperature_from = in.value("model.gas_temperature_from");
    Catch& hose = parts.net.catch_hose;
    hose.length = in.value("clear_hose.length");
    hose.bore = in.value("clear_hose.bore");
    hose.fit_clearance = in.value("clear_hose.fit_clearance");
    hose.submerged = in.text("clear_hose.end") == "submerged";
    hose.bottle_level = in.value("clear_hose.bottle_level");
    hose.visible_bubble = in.value("clear_hose.visible_bubble");
}

} // namespace clearstroke
