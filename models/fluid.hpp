/// Hydraulic fluids: what a grade is, and its properties at a temperature.
///
/// Viscosity (Walther; nu in mm^2/s, T in K):
///     log10 log10 (nu + 0.7) = A - B log10 T                                                          (F-1)
/// and below 2 mm^2/s the full form of the same standard,
///     Z = nu + 0.7 + exp(-1.47 - 1.84 nu - 0.51 nu^2),  log10 log10 Z = A - B log10 T                 (F-2)
/// All other properties are straight lines in temperature through their 20 degC value,
///     x(T) = x20 + x' (T - 293.15 K),                                                                 (F-3)
/// except the vapour pressure of the dry fluid, a straight line of ln p in 1/T through its 20 degC value
/// and one
/// standard atmosphere at the dry boiling point                                                        (F-4)
/// Valid: -40 to 120 degC, low pressure; bulk modulus at pressure p is K + K' p.
/// Source: astmd341 [equations: secondary] - its scope is petroleum liquids, use for glycol ethers is an
/// extrapolation; (F-3) and (F-4) ours. Values of each grade: see fluid.cpp.
#pragma once

#include <span>
#include <string>
#include <string_view>

namespace clearstroke {

/// Chemical family; decides compatibility, dissolved air and whether a bubble rises in a 3.3 mm line.
enum class FluidFamily { glycol, silicone, mineral };

/// The two constants of (F-1).
struct Walther {
    double a{}; ///< A [-]
    double b{}; ///< B [-]
};

/// Kinematic viscosity [m^2/s] at `temperature` [K] by (F-1).
[[nodiscard]] double kinematic_viscosity(const Walther&, double temperature);

/// Kinematic viscosity [m^2/s] at `temperature` [K] by the full form (F-2); differs from (F-1) only below 2
/// mm^2/s.
[[nodiscard]] double kinematic_viscosity_low(const Walther&, double temperature);

/// Constants of (F-1) through two points (temperature [K], kinematic viscosity [m^2/s]).
[[nodiscard]] Walther walther_through(double temperature_1, double viscosity_1, double temperature_2,
                                      double viscosity_2);

/// A fluid as a library entry. Temperature slopes are per kelvin, about 20 degC.
struct Fluid {
    std::string name;                     ///< name of the grade
    FluidFamily family{};                 ///< chemical family
    double density_20{};                  ///< density at 20 degC                        [kg/m^3]   > 0
    double density_slope{};               ///< its temperature slope                     [kg/(m^3 K)] < 0
    Walther viscosity;                    ///< constants of (F-1)                        [-]
    double bulk_modulus_20{};             ///< isothermal, air free, low pressure, 20 degC [Pa]     > 0
    double bulk_modulus_slope{};          ///< its temperature slope                     [Pa/K]     < 0
    double bulk_modulus_pressure_slope{}; ///< dK/dp                                     [-]        >= 0
    double surface_tension_20{};          ///< to air at 20 degC                         [N/m]      > 0
    double surface_tension_slope{};       ///< its temperature slope                     [N/(m K)]  < 0
    double vapour_pressure_20{};          ///< of the dry fluid at 20 degC               [Pa]       > 0
    double dissolved_air{};               ///< free air in solution per volume of liquid at one atmosphere [-]
    double boiling_dry{};                 ///< dry boiling point                         [K]
    double boiling_wet{};                 ///< boiling point with 3.7 % water by mass    [K]
};

/// Properties of a fluid at one temperature: what the flow laws need.
struct Liquid {
    double density{};                     ///< [kg/m^3]
    double kinematic_viscosity{};         ///< [m^2/s]
    double dynamic_viscosity{};           ///< [Pa s]
    double bulk_modulus{};                ///< isothermal, at low pressure [Pa]
    double bulk_modulus_pressure_slope{}; ///< [-]
    double surface_tension{};             ///< to air [N/m]
    double vapour_pressure{};             ///< [Pa]
};

/// Properties at `temperature` [K], (F-1), (F-3), (F-4).
[[nodiscard]] Liquid liquid_at(const Fluid&, double temperature);

/// "DOT 3", "DOT 4", "DOT 4 low viscosity", "DOT 5.1", "DOT 5" and "mineral oil", with typical (not limit)
/// values.
[[nodiscard]] std::span<const Fluid> known_fluids();

/// The known fluid of that name, or null.
[[nodiscard]] const Fluid* find_fluid(std::string_view name);

/// Limits a grade must keep. Source: cfr571_116 S5.1.1 to S5.1.4 [secondary]; class 6: iso4925 [from memory].
struct FluidLimits {
    std::string_view name;         ///< name of the known fluid the limits belong to
    double boiling_dry_min{};      ///< dry equilibrium reflux boiling point, at least [K]
    double boiling_wet_min{};      ///< wet equilibrium reflux boiling point, at least [K]
    double viscosity_at_m40_max{}; ///< kinematic viscosity at -40 degC, at most       [m^2/s]
    double viscosity_at_100_min{}; ///< kinematic viscosity at 100 degC, at least      [m^2/s]
};

/// Limits of the regulated grades; mineral oil has none.
[[nodiscard]] std::span<const FluidLimits> fluid_limits();

/// Limits of that grade, or null.
[[nodiscard]] const FluidLimits* find_fluid_limits(std::string_view name);

} // namespace clearstroke
