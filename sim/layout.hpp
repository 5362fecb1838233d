#pragma once
/// What follows from the Network and the attitude alone, worked out once: lumps of every line with
/// their heights, heights of ports, profiles of cavities, resistances per volume.
#include <vector>

#include "models/closure.hpp"
#include "sim/network.hpp"

namespace clearstroke {

/// A base lump of a line.
struct Lump {
    double volume{};
    double before{}; ///< volume of the line between its `from` end and this lump [m^3]
    double length{};
    double from_height{}, to_height{}; ///< [m]
    ElasticLaw walls;
};

struct LineLayout {
    double area{}, bore{};
    double volume{};
    double per_liquid{}, per_gas{}; ///< resistance per volume of liquid and of gas [Pa s/m^6]
    double rise_speed{};            ///< of a long bubble, vertical [m/s]
    bool elastic{};
    int valve_lump{}; ///< lumps between `from` and the valve; 0: no valve
    std::vector<Lump> lumps;
};

/// Port of a volume in the present attitude.
struct PortLayout {
    double height{};        ///< of the hole's centre above ground [m]
    double top_in_cavity{}; ///< of the top of the hole, relative to the bore centre [m]
};

struct VolumeLayout {
    double height{}; ///< of the bore centre in the present attitude [m]
    CavityProfile profile;
    std::vector<PortLayout> ports;
    double mean_height{}; ///< (K-4) [m]
};

/// Attitude that a layout was worked out for.
struct Attitude {
    double pitch{}, roll{};
    std::vector<double> volume_roll, volume_lift;
    friend bool operator==(const Attitude&, const Attitude&) = default;
};

struct Layout {
    Liquid liquid;
    Medium medium;
    double gas_viscosity{}, gas_density{}; ///< at ambient pressure [Pa s], [kg/m^3]
    std::vector<LineLayout> lines;
    std::vector<LineLayout> hoses; ///< clear hose fitted to each screw
    std::vector<VolumeLayout> volumes;
    std::vector<double> junction_heights, reservoir_heights, screw_heights;
    Attitude attitude;
};

[[nodiscard]] Layout make_layout(const Network&, const Attitude&, int lump_factor);

/// Free air [m^3] above `height` [m, from the bore centre up] in a volume at `pressure` [Pa].
[[nodiscard]] double air_above(const Volume&, const VolumeLayout&, double height, double pressure);

/// Height gained by a point `ahead`, `outboard` of the middle when the vehicle pitches nose up and
/// rolls right side down [m].
[[nodiscard]] double attitude_lift(double ahead, double outboard, double pitch, double roll);

} // namespace clearstroke
