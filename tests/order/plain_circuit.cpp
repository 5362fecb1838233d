#include "tests/order/plain_circuit.hpp"

#include <algorithm>
#include <cmath>
#include <stdexcept>

#include "models/gas.hpp"
#include "models/tube_flow.hpp"
#include "tests/order/rising_root.hpp"

namespace clearstroke::testing {
namespace {

constexpr double mL = 1e-6, mm = 1e-3;

} // namespace

PlainCircuit::PlainCircuit(const Network& net, const State& start)
    : net_(net), actuator_(net.actuators.at(0)),
      liquid_(liquid_at(net.conditions.fluid, net.conditions.temperature)),
      medium_(medium_of(liquid_, net.conditions.ambient_pressure)),
      gas_viscosity_(air_viscosity(net.conditions.temperature)),
      gas_density_(air_density(net.conditions.ambient_pressure, net.conditions.temperature)),
      weight_(liquid_.density * standard_gravity), turns_(start.screw_turns),
      port_open_(start.actuators[0].port_open), u_(start.actuators[0].u), rod_start_(start.actuators[0].x) {
    if (net.actuators.size() != 1 || actuator_.coupling == Coupling::balance_bar ||
        net.conditions.pitch != 0.0 || net.conditions.roll != 0.0)
        throw std::invalid_argument("one single or tandem cylinder, vehicle level");
    add_volumes(start);
    add_lumps(start);
    size_ = parts_.size();
    for (Part& p : parts_)
        if (p.gas > 0.0) {
            p.gas_at = std::ptrdiff_t(size_++);
            if (p.section > 0.0) p.before_at = std::ptrdiff_t(size_++);
        }
    reservoirs_at_ = size_;
    for (const ReservoirState& r : start.reservoirs) {
        double held = 0.0;
        for (const double c : r.liquid) held += c;
        reservoir_start_.push_back(held);
    }
    rod_at_ = reservoirs_at_ + reservoir_start_.size();
    out_at_ = rod_at_ + 1;
    size_ = out_at_ + 2;
}

void PlainCircuit::add_volumes(const State& start) {
    for (std::size_t v = 0; v < net_.volumes.size(); ++v) {
        const Volume& part = net_.volumes[v];
        parts_.push_back({part.content, start.volumes[v].liquid, start.volumes[v].gas,
                          start.volumes[v].play_memory, part.walls});
        profiles_.emplace_back(part.cavity);
        port_heights_.emplace_back();
        port_tops_.emplace_back();
        for (const Port& p : part.ports) {
            const double sine = std::sin(part.cavity.axis_tilt), cosine = std::cos(part.cavity.axis_tilt);
            const double centre = (p.place.axial - 0.5) * part.cavity.depth * sine +
                                  p.place.radial * part.cavity.bore_radius * std::cos(p.place.clock) * cosine;
            port_heights_.back().push_back(part.height + centre);
            port_tops_.back().push_back(std::min(centre + 0.5 * p.diameter, profiles_.back().top()));
        }
    }
}

void PlainCircuit::add_lumps(const State& start) {
    for (std::size_t l = 0; l < net_.lines.size(); ++l) {
        const Line& line = net_.lines[l];
        const auto height_of = [&](const End& end, double stated) {
            if (const auto* port = std::get_if<PortRef>(&end))
                return port_heights_[port->volume.index][port->port];
            if (const auto* tee = std::get_if<JunctionId>(&end)) return net_.junctions[tee->index].height;
            return stated;
        };
        const double from = height_of(line.from, line.from_height), to = height_of(line.to, line.to_height),
                     area = circle_area(line.bore);
        std::vector<HeightPoint> breaks{{0.0, from}};
        for (const HeightPoint& h : line.heights)
            breaks.push_back({h.fraction, h.height + (1.0 - h.fraction) * (from - line.from_height) +
                                              h.fraction * (to - line.to_height)});
        breaks.push_back({1.0, to});
        tubes_.push_back({parts_.size(), 0, 1.0 / (2.0 * area * area)});
        for (std::size_t k = 0; k + 1 < breaks.size(); ++k) {
            const double share = breaks[k + 1].fraction - breaks[k].fraction;
            const long n = std::max(1L, std::lround(share * line.lumps));
            for (long i = 0; i < n; ++i, ++tubes_.back().lumps) {
                const double part = share / double(n),
                             rise = weight_ * (breaks[k + 1].height - breaks[k].height) / double(n);
                Part lump{area * line.length * part, 0.0, 0.0, 0.0, line.walls};
                lump.walls.compliance *= part;
                lump.walls.settling_volume *= part;
                lump.walls.take_up_volume *= part;
                lump.per_liquid = laminar_resistance(liquid_.dynamic_viscosity, 1.0, line.bore) / area;
                lump.per_gas = laminar_resistance(gas_viscosity_, 1.0, line.bore) / area;
                lump.rise = rise;
                lump.section = area;
                const Cell& cell = start.lines[l].at(tubes_.back().lumps);
                lump.liquid = cell.liquid;
                lump.gas = cell.gas;
                if (cell.gas > 0.0) lump.before = cell.train.end(Side::from).liquid;
                lump.play_memory = cell.play_memory;
                parts_.push_back(lump);
            }
        }
        if (tubes_.back().lumps != start.lines[l].size())
            throw std::invalid_argument("a line of the state is contracted");
    }
}

std::vector<double> PlainCircuit::start() const {
    std::vector<double> y(size_, 0.0);
    for (std::size_t i = 0; i < parts_.size(); ++i) {
        y[i] = parts_[i].liquid / mL;
        if (parts_[i].gas_at >= 0) y[std::size_t(parts_[i].gas_at)] = parts_[i].gas / mL;
        if (parts_[i].before_at >= 0) y[std::size_t(parts_[i].before_at)] = parts_[i].before / mL;
    }
    for (std::size_t r = 0; r < reservoir_start_.size(); ++r)
        y[reservoirs_at_ + r] = reservoir_start_[r] / mL;
    y[rod_at_] = rod_start_ / mm;
    return y;
}

double PlainCircuit::gas_in(const double* y, std::size_t part) const {
    return parts_[part].gas_at < 0 ? 0.0 : mL * y[parts_[part].gas_at];
}

/// (C-1) of a part whose piston has taken some of its room.
double PlainCircuit::pressure_in(const double* y, std::size_t part, double taken) const {
    const Part& c = parts_[part];
    const double liquid = liquid_in(y, part), gas = gas_in(y, part) * standard_atmosphere;
    const double p = rising_root(medium_.vapour_pressure, 1e8, medium_.ambient, 1e-15, [&](double x) {
        const double e = x - medium_.ambient, k = medium_.bulk_modulus + medium_.stiffening * e;
        const VolumeSlope w = elastic_volume(c.walls, e, c.play_memory);
        return Value{c.content - taken + w.volume - liquid * (1.0 - e / k) - gas / x,
                     w.slope + liquid * medium_.bulk_modulus / (k * k) + gas / (x * x)};
    });
    return p;
}

/// (M-1), (M-2) at u; g: force that drives the floating piston away from the rod.
PlainCircuit::Statics PlainCircuit::statics_at(const double* y, double u, double& g) const {
    const double x = mm * y[rod_at_];
    Statics out{u, 0.0, {x, 0.0}};
    std::array<double, 2> force{};
    if (pistons() == 2) out.d = {x - u, u};
    for (std::size_t j = 0; j < pistons(); ++j) {
        const Piston& piston = actuator_.pistons[j];
        const double p = pressure_in(y, piston.chamber.index, piston.area * out.d[j]);
        force[j] =
            piston.area * (p - medium_.ambient) + piston.spring.preload + piston.spring.rate * out.d[j];
    }
    g = pistons() == 2 ? force[0] - force[1] : 0.0;
    out.force = force[0];
    return out;
}

double PlainCircuit::drive_at(const double* y, double u) const {
    double g = 0.0;
    static_cast<void>(statics_at(y, u, g));
    return g;
}

/// The floating piston stays where it was while friction holds it, else goes as far as friction or a stop
/// lets it.
PlainCircuit::Statics PlainCircuit::statics(const double* y) const {
    double g = 0.0;
    if (pistons() == 1) return statics_at(y, 0.0, g);
    const double x = mm * y[rod_at_], friction = actuator_.friction;
    const double low = std::max(0.0, x - actuator_.pistons[0].stroke),
                 high = std::max(low, std::min(x, actuator_.pistons[1].stroke));
    const double stays = std::clamp(u_, low, high);
    Statics out = statics_at(y, stays, g);
    if (std::abs(g) > friction) {
        const double towards = g > 0.0 ? friction : -friction;
        out = statics_at(y, g > 0.0 ? high : low, g);
        if ((towards > 0.0) == (g < towards)) { // it comes to rest before that stop
            const double u = rising_root(low, high, stays, 1e-15, [&](double at) {
                const double h = 1e-8, here = drive_at(y, at);
                return Value{towards - here, (here - drive_at(y, at + h)) / h};
            });
            return statics_at(y, u, g);
        }
    }
    // A stop that moves with the rod carries the piston along, against its friction; away from it the piston goes only where
    // it is pressed there by more than friction.
    if (out.u == low && low > 0.0)
        out.force -= g - friction;
    else if (out.u == high && high == x)
        out.force -= std::max(g - friction, 0.0);
    return out;
}

PlainCircuit::Point PlainCircuit::point(const double* y) const {
    Point out;
    out.pistons = statics(y);
    for (std::size_t i = 0; i < parts_.size(); ++i) {
        double taken = 0.0;
        for (std::size_t j = 0; j < pistons(); ++j)
            if (actuator_.pistons[j].chamber.index == i) taken = actuator_.pistons[j].area * out.pistons.d[j];
        out.p.push_back(pressure_in(y, i, taken));
    }
    out.rod_speed = motion_.speed;
    if (motion_.speed > 0.0)
        out.rod_speed *=
            std::clamp((motion_.force_limit - out.pistons.force) / (0.1 * motion_.force_limit), -1.0, 1.0);
    return out;
}

void PlainCircuit::rate(const double* y, double* dydt) const {
    std::fill(dydt, dydt + size_, 0.0);
    const Point at = point(y);
    lines(y, at, dydt);
    junctions(y, at, dydt);
    cylinders(y, at, dydt);
    screws(y, at, dydt);
    run_ahead_of_plugs(dydt);
    for (std::size_t i = 0; i < size_; ++i) dydt[i] /= mL;
    dydt[rod_at_] = at.rod_speed / mm;
}

std::vector<double> PlainCircuit::roots(const double* y) const {
    const Statics s = statics(y);
    std::vector<double> out;
    // A port that has just turned is this far from turning back.
    constexpr double overlap = 5e-8; // [m]
    for (std::size_t j = 0; j < pistons(); ++j)
        out.push_back((s.d[j] - actuator_.pistons[j].cut_off - (port_open_[j] ? overlap : -overlap)) / mm);
    out.push_back(motion_.target ? (mm * y[rod_at_] - *motion_.target) / mm : 1.0);
    out.push_back(motion_.ends_at_force ? s.force / (0.98 * motion_.force_limit) - 1.0 : 1.0);
    return out;
}

void PlainCircuit::remember(const double* y) {
    const Point at = point(y);
    if (*std::ranges::min_element(at.p) < 2.0 * medium_.vapour_pressure) throw std::domain_error("vapour");
    u_ = at.pistons.u;
    for (std::size_t i = 0; i < parts_.size(); ++i)
        if (parts_[i].walls.play > 0.0)
            parts_[i].play_memory =
                play_operator(at.p[i] - medium_.ambient, parts_[i].walls.play, parts_[i].play_memory);
}

Reading PlainCircuit::reading(const double* y, double t) const {
    const Point at = point(y);
    Reading out{t, mL * y[out_at_], mL * y[out_at_ + 1], 0.0, {}, {}};
    for (std::size_t r = 0; r < reservoir_start_.size(); ++r)
        out.drawn += reservoir_start_[r] - mL * y[reservoirs_at_ + r];
    for (std::size_t i = 0; i < parts_.size(); ++i)
        if (parts_[i].gas_at >= 0) out.pockets.push_back(gas_in(y, i) * standard_atmosphere / at.p[i]);
    for (std::size_t j = 0; j < pistons(); ++j) out.pistons.push_back(at.pistons.d[j]);
    out.pistons.push_back(mm * y[rod_at_]);
    return out;
}

} // namespace clearstroke::testing
