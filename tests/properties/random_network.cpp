// Circuits drawn from all parts: cylinders, then a tree or ring of lines for every outlet, then wheel ends,
// then faults.
#include <gtest/gtest.h>

#include "tests/properties/random_layout.hpp"
#include "tests/sim/small_circuits.hpp"

namespace clearstroke::testing {
namespace {

constexpr double bar = 1e5;

class Drawn {
public:
    explicit Drawn(Draw& draw) : d_(draw) {}
    Network network();

private:
    PortRef port(VolumeId v, const std::string& name, double clock, double axial, double diameter = 3e-3) {
        auto& ports = n_.volumes[v.index].ports;
        ports.push_back({name, {clock, axial, d_.between(0.8, 1.0)}, diameter});
        return {v, ports.size() - 1};
    }
    VolumeId volume(const std::string& name, const std::string& place, double bore, double depth,
                    double height);
    double height_of(const End& end) const;
    LineId line(const std::string& name, const End& from, const End& to);
    JunctionId tee();
    void valve(Line& line);

    PortRef chamber_of(Actuator& a, const std::string& name, double bore, double stroke, double height);
    void cylinders();
    void lever_or_pedal(const std::string& name, Coupling coupling);
    PortRef in_line(const End& fed, double height);

    void wheel(const End& at, const std::optional<End>& other);
    void sliding(const std::string& name, const End& at, const std::optional<End>& other);
    void fixed(const std::string& name, const End& at, const std::optional<End>& other);
    void drum(const std::string& name, const End& at);
    void slave(const std::string& name, const End& at);
    void caliper_walls(Volume& v, double area);
    void screw_on(const std::string& name, VolumeId v);

    void grow(const End& outlet, int wheels);
    void faults();
    void conditions();

    Draw& d_;
    Network n_;
    std::vector<End> outlets_;
    std::vector<JunctionId> all_tees_;
    int wheels_{};
};

VolumeId Drawn::volume(const std::string& name, const std::string& place, double bore, double depth,
                       double height) {
    Volume v = caliper(name, bore, depth, height);
    v.place = place;
    v.content *= d_.between(1.05, 1.3);
    v.ports.clear();
    v.cavity.axis_tilt = d_.chance(0.7) ? 0.0 : d_.between(-1.5, 1.5);
    v.axis_heading = d_.chance(0.5) ? 0.0 : 0.5 * pi;
    v.ahead = d_.between(-1.3, 1.3);
    v.outboard = d_.between(-0.7, 0.7);
    n_.volumes.push_back(v);
    return {n_.volumes.size() - 1};
}

double Drawn::height_of(const End& end) const {
    if (const auto* p = std::get_if<PortRef>(&end)) return n_.volumes[p->volume.index].height;
    if (const auto* j = std::get_if<JunctionId>(&end)) return n_.junctions[j->index].height;
    return 0.5;
}

void Drawn::valve(Line& line) {
    Valve& v = line.valve.emplace();
    v.kind = d_.one_of(std::vector{ValveKind::one_way, ValveKind::residual, ValveKind::metering,
                                   ValveKind::proportioning, ValveKind::restriction, ValveKind::restriction,
                                   ValveKind::shut});
    v.passage.radius = d_.spread(0.2e-3, 2e-3);
    v.cracking = d_.between(0.0, 0.5) * bar;
    v.residual = d_.between(0.1, 1.0) * bar;
    v.hold_off = d_.between(3.0, 7.0) * bar;
    v.bypass = d_.chance(0.5) ? 0.0 : d_.between(0.1, 1.0) * bar;
    v.knee = d_.between(0.0, 40.0) * bar;
    v.slope = d_.between(0.2, 1.0);
    line.valve_at = d_.unit();
}

LineId Drawn::line(const std::string& name, const End& from, const End& to) {
    Line l = pipe(name, d_.spread(0.1, 4.0),
                  d_.one_of(std::vector{2.5e-3, 3.3e-3, 3.3e-3, 3.3e-3, 4.9e-3, 6.0e-3}), from, to,
                  d_.count(2, 6));
    l.elastic_hose = d_.chance(0.3);
    l.from_height = height_of(from);
    l.to_height = std::holds_alternative<Blank>(to) ? l.from_height + d_.between(-0.3, 0.3) : height_of(to);
    for (double at = d_.between(0.1, 0.9); d_.chance(0.3) && at < 0.95; at += d_.between(0.1, 0.4))
        l.heights.push_back({at, d_.between(0.15, 1.1)});
    constexpr double slack = 1.1; // pipes bend, and a pitched vehicle lifts one end
    l.length = std::max(l.length, slack * shortest_length(l));
    l.walls.compliance = (l.elastic_hose ? 1e-13 : 1e-15) * l.length;
    if (l.elastic_hose) {
        l.walls.settling_volume = 0.2e-6 * l.length;
        l.walls.settling_pressure = 5.0 * bar;
    }
    if (d_.chance(0.1)) valve(l);
    n_.lines.push_back(l);
    return {n_.lines.size() - 1};
}

JunctionId Drawn::tee() {
    n_.junctions.push_back({"tee " + std::to_string(n_.junctions.size() + 1), d_.between(0.2, 0.8),
                            d_.between(-1.3, 1.3), d_.between(-0.5, 0.5)});
    all_tees_.push_back({n_.junctions.size() - 1});
    return all_tees_.back();
}

/// A piston with its chamber; returns the chamber's outlet. The piston is fed from the last reservoir.
PortRef Drawn::chamber_of(Actuator& a, const std::string& name, double bore, double stroke, double height) {
    const VolumeId v = volume(name, "cylinder", bore, stroke * d_.between(1.05, 1.5), height);
    n_.volumes[v.index].walls.compliance = 1e-10 * n_.volumes[v.index].content;
    Piston p = piston(v, bore, stroke, d_.between(40.0, 120.0));
    p.cut_off = d_.between(0.6e-3, 2e-3);
    p.port.radius = d_.spread(0.25e-3, 1e-3);
    p.cup.cracking = d_.between(3e3, 30e3);
    p.port_opening = port(v, "feed", d_.chance(0.8) ? 0.0 : d_.between(-1.0, 1.0), 1.0).port;
    p.reservoir = {n_.reservoirs.size() - 1};
    a.pistons.push_back(p);
    return port(v, "outlet", d_.between(0.0, 2.0), 0.0);
}

void Drawn::lever_or_pedal(const std::string& name, Coupling coupling) {
    Actuator a;
    a.name = name;
    a.coupling = coupling;
    a.hand = coupling == Coupling::single && d_.chance(0.5);
    a.ratio = d_.between(3.0, 7.0);
    a.rod_friction = d_.between(5.0, 40.0);
    a.free_play = d_.between(0.0, 1e-3);
    const double height = d_.between(0.2, 1.1),
                 bore = a.hand ? d_.between(9e-3, 17e-3) : d_.between(15e-3, 26e-3);
    const int pistons = coupling == Coupling::single ? 1 : 2;
    if (pistons == 2) a.friction = d_.between(10.0, 80.0);
    if (coupling == Coupling::balance_bar) a.bar_share = d_.between(0.35, 0.65);
    for (int i = 0; i < pistons; ++i) {
        if (i == 0 || coupling == Coupling::balance_bar) {
            Reservoir r = reservoir(height + d_.between(-0.1, 0.4));
            r.name = name + " reservoir " + std::to_string(i + 1);
            r.capacity = d_.spread(15e-6, 400e-6);
            r.initial = d_.between(0.5, 0.95) * r.capacity;
            r.area = r.capacity / d_.between(0.03, 0.08);
            n_.reservoirs.push_back(r);
        }
        outlets_.emplace_back(chamber_of(a, name + " chamber " + std::to_string(i + 1),
                                         coupling == Coupling::tandem ? bore : bore * d_.between(0.9, 1.1),
                                         d_.between(10e-3, 32e-3), height));
        if (coupling == Coupling::tandem && i == 1) {
            n_.reservoirs.back().chambers = 2;
            n_.reservoirs.back().divider_height = 0.02;
            a.pistons[1].reservoir_chamber = 1;
            a.pistons[1].spring.preload = 0.7 * a.pistons[0].spring.preload;
        }
    }
    n_.actuators.push_back(a);
}

void Drawn::cylinders() {
    lever_or_pedal("first", d_.one_of(std::vector{Coupling::single, Coupling::tandem, Coupling::tandem,
                                                  Coupling::balance_bar}));
    if (d_.chance(0.15)) lever_or_pedal("second", Coupling::single);
}

/// A hand-brake cylinder between an outlet and what hangs on it; returns its own outlet.
PortRef Drawn::in_line(const End& fed, double height) {
    const std::string name = "in line " + std::to_string(n_.actuators.size());
    const VolumeId inlet = volume(name + " inlet", "in-line cylinder", 8e-3, 10e-3, height);
    const PortRef entry = port(inlet, "in", 0.0, 0.5), through = port(inlet, "through", 0.0, 0.5);
    line(name + " feed", fed, entry);
    Actuator a;
    a.name = name;
    a.hand = true;
    a.ratio = 6.0;
    a.rod_friction = 10.0;
    const PortRef out = chamber_of(a, name + " chamber", d_.between(15e-3, 20e-3), 20e-3, height);
    a.pistons[0].inlet = through;
    n_.actuators.push_back(a);
    return out;
}

void Drawn::screw_on(const std::string& name, VolumeId v) {
    Screw s = screw(name, v);
    s.wheel = n_.volumes[v.index].place;
    s.at = port(v, "screw", d_.chance(0.8) ? d_.between(-0.2, 0.2) : d_.between(-pi, pi), d_.unit());
    s.geometry = d_.one_of(std::vector(known_bleed_screws().begin(), known_bleed_screws().end())).screw;
    s.thread_clearance = d_.chance(0.5) ? 0.0 : d_.between(0.0, 0.02e-3);
    n_.screws.push_back(s);
}

void Drawn::caliper_walls(Volume& v, double area) {
    v.gap_width = v.cavity.depth;
    v.walls.compliance = d_.between(2e-11, 1e-10) * area;
    v.walls.settling_volume = d_.between(0.0, 0.3e-3) * area;
    v.walls.settling_pressure = d_.between(2.0, 10.0) * bar;
    v.walls.play = d_.between(0.0, 1.5) * bar;
}

void Drawn::sliding(const std::string& name, const End& at, const std::optional<End>& other) {
    const double bore = d_.between(22e-3, 60e-3);
    const VolumeId v = volume(name, name, bore, d_.spread(1e-3, 15e-3), d_.between(0.2, 0.6));
    caliper_walls(n_.volumes[v.index], pi * 0.25 * bore * bore * d_.count(1, 3));
    line(name + " hose", at, port(v, "inlet", d_.between(0.0, pi), 0.5));
    if (other) line(name + " second hose", *other, port(v, "second inlet", d_.between(0.0, pi), 0.5));
    screw_on(name, v);
    if (d_.chance(0.1)) {
        Actuator push;
        push.name = name + " pistons";
        push.pistons = {piston(v, bore, 0.5 * n_.volumes[v.index].cavity.depth, 0.0)};
        push.pistons[0].blind = true;
        push.rod_friction = 5.0;
        push.ratio = 1.0;
        n_.actuators.push_back(push);
    }
}

/// Two halves joined by a crossover, or fed each by its own line.
void Drawn::fixed(const std::string& name, const End& at, const std::optional<End>& other) {
    const double bore = d_.between(22e-3, 48e-3), height = d_.between(0.2, 0.6),
                 depth = d_.spread(1e-3, 15e-3);
    const VolumeId inner = volume(name + " inner", name, bore, depth, height),
                   outer = volume(name + " outer", name, bore, depth, height);
    for (const VolumeId half : {inner, outer})
        caliper_walls(n_.volumes[half.index], pi * 0.25 * bore * bore * d_.count(1, 3));
    line(name + " hose", at, port(d_.chance(0.7) ? inner : outer, "inlet", d_.between(0.0, pi), 0.0));
    if (other && d_.chance(0.5)) {
        line(name + " second hose", *other, port(outer, "second inlet", d_.between(0.0, pi), 0.0));
    }
    const double clock = d_.chance(0.5) ? pi : d_.between(-0.5, 0.5);
    line(name + " crossover", port(inner, "crossover", clock, 0.0), port(outer, "crossover", clock, 0.0));
    n_.lines.back().length = d_.between(0.1, 0.3);
    n_.lines.back().heights.clear();
    if (d_.chance(0.6)) screw_on(name + " inner", inner);
    screw_on(name + " outer", outer);
}

void Drawn::drum(const std::string& name, const End& at) {
    const double bore = d_.between(14e-3, 26e-3), height = d_.between(0.2, 0.5),
                 apart = d_.chance(0.3) ? d_.between(0.1, 0.25) : 0.0;
    std::vector<VolumeId> cylinders;
    for (int i = 0; i < (apart > 0.0 ? 2 : 1); ++i) {
        cylinders.push_back(volume(name + " cylinder " + std::to_string(i + 1), name, bore,
                                   d_.between(6e-3, 20e-3), height + i * apart));
        ElasticLaw& walls = n_.volumes[cylinders.back().index].walls;
        const double area = pi * 0.25 * bore * bore;
        walls.compliance = 1.6e-10 * area;
        walls.take_up_volume = d_.between(0.2e-3, 3e-3) * area;
        walls.take_up_from = d_.between(2.0, 5.0) * bar;
        walls.take_up_to = walls.take_up_from + d_.between(0.5, 4.0) * bar;
    }
    line(name + " pipe", at, port(cylinders[0], "inlet", 0.5 * pi, 0.5));
    if (cylinders.size() == 2)
        line(name + " link", port(cylinders[0], "link", d_.between(-pi, pi), 0.5),
             port(cylinders[1], "link", pi, 0.5));
    screw_on(name, d_.one_of(cylinders));
}

void Drawn::slave(const std::string& name, const End& at) {
    const double bore = d_.between(16e-3, 26e-3), area = pi * 0.25 * bore * bore;
    const VolumeId v = volume(name, name, bore, d_.between(8e-3, 25e-3), d_.between(0.2, 0.6));
    ElasticLaw& walls = n_.volumes[v.index].walls;
    walls.take_up_volume = d_.between(5e-3, 14e-3) * area;
    walls.take_up_from = 3.0 * bar;
    walls.take_up_to = d_.between(14.0, 35.0) * bar;
    line(name + " pipe", at, port(v, "inlet", d_.between(0.0, pi), 0.5));
    screw_on(name, v);
}

void Drawn::wheel(const End& at, const std::optional<End>& other) {
    const std::string name = "wheel " + std::to_string(++wheels_);
    const double kind = d_.unit();
    if (kind < 0.4)
        sliding(name, at, other);
    else if (kind < 0.6)
        fixed(name, at, other);
    else if (kind < 0.9)
        drum(name, at);
    else
        slave(name, at);
}

/// A tree below one outlet, with stubs, and now and then a ring.
void Drawn::grow(const End& outlet, int wheels) {
    End top = outlet;
    const std::string number = std::to_string(n_.lines.size() + 1);
    if (d_.chance(0.08)) top = in_line(outlet, d_.between(0.3, 0.9));
    if (wheels == 1 && d_.chance(0.5)) return wheel(top, {});
    std::vector<JunctionId> tees{tee()};
    line("feed " + number, top, tees[0]);
    for (int w = 0; w < wheels; ++w) {
        if (d_.chance(0.35)) {
            const JunctionId from = d_.one_of(tees);
            tees.push_back(tee());
            line("branch " + std::to_string(n_.lines.size() + 1), from, tees.back());
        }
        const JunctionId at = d_.one_of(tees);
        const bool twice = d_.chance(0.15);
        wheel(at, twice ? std::optional<End>(d_.one_of(d_.chance(0.5) ? tees : all_tees_)) : std::nullopt);
    }
    if (tees.size() > 1 && d_.chance(0.4)) line("ring " + number, tees.front(), tees.back());
    if (d_.chance(0.2)) line("stub " + number, d_.one_of(tees), Blank{});
    if (d_.chance(0.1)) {
        Screw s = screw("union " + number, {});
        s.at = d_.one_of(tees);
        n_.screws.push_back(s);
    }
}

void Drawn::faults() {
    for (Volume& v : n_.volumes) {
        if (d_.chance(0.03)) v.leak = d_.spread(1e-16, 1e-13);
        if (d_.chance(0.03)) v.air_entry = d_.spread(1e-13, 1e-10);
        if (d_.chance(0.03)) v.knocked_back = d_.between(0.0, 1e-6);
    }
    for (Actuator& a : n_.actuators)
        for (Piston& p : a.pistons) {
            if (p.blind) continue;
            if (d_.chance(0.05)) p.bypass = d_.spread(1e-15, 1e-12);
            if (d_.chance(0.03)) p.port_blocked = true;
        }
    for (Line& l : n_.lines)
        if (l.elastic_hose && d_.chance(0.05)) l.walls.compliance *= 5.0;
}

void Drawn::conditions() {
    Conditions& c = n_.conditions;
    c.fluid = d_.one_of(std::vector(known_fluids().begin(), known_fluids().end()));
    c.temperature = d_.between(263.0, 323.0);
    c.ambient_pressure = d_.between(70e3, 102e3);
    c.separation = d_.spread(0.5, 2.0);
    c.pitch = d_.chance(0.8) ? 0.0 : d_.between(-0.2, 0.2);
    c.roll = d_.chance(0.8) ? 0.0 : d_.between(-0.2, 0.2);
    Catch& hose = n_.catch_hose;
    hose.length = d_.between(0.2, 1.0);
    hose.bore = d_.between(3e-3, 8e-3);
    hose.bottle_level = d_.between(-0.3, 0.3);
    hose.submerged = d_.chance(0.9);
    hose.fit_clearance = d_.chance(0.9) ? 0.0 : d_.between(0.0, 0.02e-3);
}

Network Drawn::network() {
    conditions();
    cylinders();
    std::vector<int> wheels(outlets_.size(), 1);
    for (int more = d_.chance(0.7) ? d_.count(0, 4) : d_.count(5, 12);
         more > static_cast<int>(outlets_.size()); --more)
        ++wheels[d_.below(outlets_.size())];
    for (std::size_t i = 0; i < wheels.size(); ++i) grow(outlets_[i], wheels[i]);
    faults();
    return n_;
}

} // namespace

Network random_network(Draw& draw) { return Drawn(draw).network(); }

} // namespace clearstroke::testing
