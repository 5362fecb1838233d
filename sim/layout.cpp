#include "sim/layout.hpp"

#include <algorithm>
#include <cmath>

#include "models/constants.hpp"
#include "models/gas.hpp"
#include "models/long_bubble.hpp"
#include "models/tube_flow.hpp"

namespace clearstroke {
namespace {

ElasticLaw share_of(const ElasticLaw& law, double share) {
    ElasticLaw out = law;
    out.compliance *= share;
    out.settling_volume *= share;
    out.take_up_volume *= share;
    return out;
}

/// Heights at the breaks of a line: (fraction, height) from 0 to 1.
std::vector<HeightPoint> profile_of(const Line& line, double from_height, double to_height) {
    std::vector<HeightPoint> points{{0.0, from_height}};
    for (const HeightPoint& p : line.heights) {
        const double lift =
            (1.0 - p.fraction) * (from_height - line.from_height) + p.fraction * (to_height - line.to_height);
        points.push_back({p.fraction, p.height + lift});
    }
    points.push_back({1.0, to_height});
    return points;
}

/// Divides the line in lumps that end at every break of its profile.
std::vector<Lump> lumps_of(const Line& line, const std::vector<HeightPoint>& points, double volume,
                           int lumps) {
    std::vector<Lump> out;
    for (std::size_t k = 0; k + 1 < points.size(); ++k) {
        const double share = points[k + 1].fraction - points[k].fraction;
        const int n = std::max(1, static_cast<int>(std::lround(share * lumps)));
        for (int i = 0; i < n; ++i) {
            const auto height = [&](int j) {
                return std::lerp(points[k].height, points[k + 1].height, double(j) / n);
            };
            out.push_back({volume * share / n, volume * (points[k].fraction + share * i / n),
                           line.length * share / n, height(i), height(i + 1),
                           share_of(line.walls, share / n)});
        }
    }
    return out;
}

/// Lumps before the end nearest to `along` that has lumps on both sides.
int valve_lump(const LineLayout& line, double along) {
    int best = 1;
    double end = 0.0, nearest = 1e300;
    for (std::size_t b = 0; b + 1 < line.lumps.size(); ++b) {
        end += line.lumps[b].length;
        if (std::abs(end - along) < nearest) {
            nearest = std::abs(end - along);
            best = static_cast<int>(b) + 1;
        }
    }
    return best;
}

LineLayout line_layout(const Line& line, double from_height, double to_height, const Layout& common,
                       int lump_factor) {
    LineLayout out;
    out.bore = line.bore;
    out.area = circle_area(line.bore);
    out.volume = out.area * line.length;
    out.per_liquid = laminar_resistance(common.liquid.dynamic_viscosity, 1.0, line.bore) / out.area;
    out.per_gas = laminar_resistance(common.gas_viscosity, 1.0, line.bore) / out.area;
    out.rise_speed = bubble_rise_speed(line.bore, common.liquid, common.gas_density);
    out.elastic = line.elastic_hose;
    out.lumps = lumps_of(line, profile_of(line, from_height, to_height), out.volume,
                         std::max(line.lumps, line.valve ? 2 : 1) * lump_factor);
    if (line.valve) out.valve_lump = valve_lump(out, line.valve_at * line.length);
    return out;
}

VolumeLayout volume_layout(const Volume& v, const Attitude& a, double part_roll, double part_lift) {
    Cavity cavity = v.cavity;
    cavity.axis_tilt += a.pitch * std::sin(v.axis_heading) -
                        a.roll * std::cos(v.axis_heading) * (v.outboard < 0.0 ? -1.0 : 1.0);
    const double turn = part_roll + a.pitch * std::cos(v.axis_heading) * (v.outboard < 0.0 ? -1.0 : 1.0);
    VolumeLayout out{v.height + part_lift + attitude_lift(v.ahead, v.outboard, a.pitch, a.roll),
                     CavityProfile(cavity),
                     {},
                     mean_height(cavity)};
    for (const Port& p : v.ports) {
        const double centre = opening_height(cavity, p.place, turn);
        out.ports.push_back({out.height + centre, std::min(centre + 0.5 * p.diameter, out.profile.top())});
    }
    return out;
}

Line clear_hose(const Network& net, double from_height) {
    Line hose;
    hose.length = net.catch_hose.length;
    hose.bore = net.catch_hose.bore;
    hose.from_height = from_height;
    hose.to_height = from_height + net.catch_hose.bottle_level;
    hose.elastic_hose = true;
    return hose;
}

} // namespace

double attitude_lift(double ahead, double outboard, double pitch, double roll) {
    return ahead * std::sin(pitch) - outboard * std::sin(roll);
}

Layout make_layout(const Network& net, const Attitude& attitude, int lump_factor) {
    const Conditions& c = net.conditions;
    Layout out;
    out.attitude = attitude;
    out.liquid = liquid_at(c.fluid, c.temperature);
    out.medium = medium_of(out.liquid, c.ambient_pressure);
    out.gas_viscosity = air_viscosity(c.temperature);
    out.gas_density = air_density(c.ambient_pressure, c.temperature);
    const auto lift = [&](const auto& part) {
        return attitude_lift(part.ahead, part.outboard, attitude.pitch, attitude.roll);
    };
    for (std::size_t i = 0; i < net.volumes.size(); ++i)
        out.volumes.push_back(
            volume_layout(net.volumes[i], attitude, attitude.volume_roll[i], attitude.volume_lift[i]));
    for (const Junction& j : net.junctions) out.junction_heights.push_back(j.height + lift(j));
    for (const Reservoir& r : net.reservoirs) out.reservoir_heights.push_back(r.floor_height + lift(r));
    const auto end_height = [&](const End& end, double stated) {
        if (const auto* port = std::get_if<PortRef>(&end))
            return out.volumes[port->volume.index].ports[port->port].height;
        if (const auto* junction = std::get_if<JunctionId>(&end))
            return out.junction_heights[junction->index];
        return stated;
    };
    for (const Line& line : net.lines)
        out.lines.push_back(line_layout(line, end_height(line.from, line.from_height),
                                        end_height(line.to, line.to_height), out, lump_factor));
    for (const Screw& s : net.screws) {
        const double height = std::visit([&](const auto& at) { return end_height(at, s.height); }, s.at);
        out.screw_heights.push_back(height);
        const Line hose = clear_hose(net, height);
        out.hoses.push_back(line_layout(hose, hose.from_height, hose.to_height, out, lump_factor));
    }
    return out;
}

double air_above(const Volume& volume, const VolumeLayout& place, double height, double pressure) {
    return volume.content / place.profile.volume() * place.profile.trapped_volume(height) * pressure /
           standard_atmosphere;
}

} // namespace clearstroke
