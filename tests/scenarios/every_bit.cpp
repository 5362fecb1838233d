#include "tests/scenarios/support.hpp"

namespace clearstroke::testing {
namespace {

class Dump {
public:
    std::string text;

    void put(double x) { text += fmt::format("{:a} ", x); }
    void put(int x) { text += fmt::format("{} ", x); }
    void put(bool x) { text += x ? "yes " : "no "; }
    void put(std::size_t x) { text += fmt::format("{} ", x); }
    void put(const std::string& x) { text += x + " "; }
    void put(const char* x) { text += std::string("\n") + x + " "; }
    template <class Tag> void put(Id<Tag> id) { put(id.index); }
    template <class T> void put(const std::optional<T>& x) {
        if (x)
            put(*x);
        else
            text += "- ";
    }
    template <class... Xs> void row(const Xs&... xs) { (put(xs), ...); }

    void put(const PortRef& p) { row(p.volume, p.port); }
    void put(const Blank&) { text += "blank "; }
    template <class... Ts> void put(const std::variant<Ts...>& v) {
        put(v.index());
        std::visit([&](const auto& x) { put(x); }, v);
    }
    void put(const ElasticLaw& e) {
        row(e.compliance, e.settling_volume, e.settling_pressure, e.play, e.take_up_volume, e.take_up_from,
            e.take_up_to);
    }
    void put(const Restriction& r) { row(r.radius, r.length, r.discharge_coeff); }
    void put(const OpenScrew& a) { row("open", a.screw, a.turns); }
    void put(const CloseScrew& a) { row("close", a.screw); }
    void put(const OpenAll&) { put("open all"); }
    void put(const CloseAll&) { put("close all"); }
    void put(const Press& a) { row("press", a.actuator, a.share, a.force, a.hold); }
    void put(const Release& a) { row("release", a.actuator, a.speed, a.dwell); }
    void put(const PushHome& a) { row("push home", a.actuator); }
    void put(const DrawOff&) { put("draw off"); }
    void put(const Tap& a) { row("tap", a.volume); }
    void put(const LiftPart& a) { row("lift", a.volume, a.lift); }
    void put(const CapAround& a) { row("cap around", a.capped); }
    void put(const Clamp& a) { row("clamp", a.line, a.clamped); }
    void put(const HoldValve& a) { row("hold valve", a.line, a.open); }
    void put(const HoseOff&) { put("hose off"); }
    void put(const FillHose&) { put("fill hose"); }
    void put(const OneWayHose& a) { row("one-way hose", a.fitted); }
    void put(const HosePressure& a) { row("hose pressure", a.gauge); }
    void put(const ReservoirPressure& a) { row("reservoir pressure", a.gauge); }
    void put(const Valve& v) {
        row("valve", int(v.kind), v.passage, v.cracking, v.residual, v.hold_off, v.bypass, v.knee, v.slope);
    }
    void put(const Method& m) { row("method", m.name, m.arrive, m.stroke, m.leave, m.at_reservoir); }
    void put(const Wait& a) { row("wait", a.seconds); }
    void put(const TopUp&) { put("top up"); }
    void put(const TurnPart& a) { row("turn", a.volume, a.roll); }
    void put(const PitchVehicle& a) { row("pitch", a.pitch, a.roll); }
    void put(const Cap& a) { row("cap", a.line, a.capped); }
    void put(const HoseEnd& a) { row("hose end", a.submerged); }
    void put(const std::vector<Act>& acts) {
        for (const Act& a : acts) put(a);
    }

    void put(const Volume& v) {
        row("volume", v.name, v.place, v.content, v.height, v.ahead, v.outboard, v.cavity.bore_radius,
            v.cavity.depth, v.cavity.axis_tilt, v.walls, v.gap_width, v.knocked_back, v.leak, v.air_entry,
            v.hand_brake_on);
        for (const Port& p : v.ports)
            row("port", p.name, p.place.clock, p.place.axial, p.place.radial, p.diameter, p.solid_angle);
    }
    void put(const Line& l) {
        row("line", l.name, l.place, l.length, l.bore, l.walls, l.from, l.to, l.from_height, l.to_height,
            l.lumps, l.elastic_hose, l.valve, l.valve_at);
        for (const HeightPoint& h : l.heights) row("point", h.fraction, h.height);
    }
    void put(const Reservoir& r) {
        row("reservoir", r.name, r.capacity, r.initial, r.area, r.floor_height, r.outlet_height,
            r.outlet_diameter, r.chambers, r.divider_height);
    }
    void put(const Actuator& a) {
        row("actuator", a.name, int(a.coupling), a.bar_share, a.bar_travel, a.friction, a.rod_friction,
            a.ratio, a.pad_travel, a.free_play, a.hand, a.booster.gain, a.booster.from, a.booster.run_out,
            a.booster.spent);
        for (const Piston& p : a.pistons)
            row("piston", p.chamber, p.area, p.stroke, p.spring.preload, p.spring.rate, p.cut_off, p.port,
                p.port_opening, p.cup.cracking, p.cup.passage, p.reservoir, p.reservoir_chamber, p.inlet,
                p.blind, p.bypass, p.port_blocked);
    }
    void put(const Screw& s) {
        const BleedScrew& g = s.geometry;
        row("screw", s.name, s.wheel, s.at, g.pitch, g.seat_bore, g.cross_hole, g.axial_bore, g.cross_holes,
            g.cone_half_angle, g.drilling_length, g.thread.diameter, g.thread.clearance, g.thread.length,
            g.thread.eccentricity, s.thread_clearance, s.height);
    }
    void put(const Fluid& f) {
        row("fluid", f.name, int(f.family), f.density_20, f.density_slope, f.viscosity.a, f.viscosity.b,
            f.bulk_modulus_20, f.bulk_modulus_slope, f.bulk_modulus_pressure_slope, f.surface_tension_20,
            f.surface_tension_slope, f.vapour_pressure_20, f.dissolved_air, f.boiling_dry, f.boiling_wet);
    }
    void put(const Network& n) {
        for (const Volume& v : n.volumes) put(v);
        for (const Line& l : n.lines) put(l);
        for (const Junction& j : n.junctions) row("junction", j.name, j.height);
        for (const Reservoir& r : n.reservoirs) put(r);
        for (const Actuator& a : n.actuators) put(a);
        for (const Screw& s : n.screws) put(s);
        const Catch& h = n.catch_hose;
        row("hose", h.length, h.bore, h.fit_clearance, h.submerged, h.bottle_level, h.visible_bubble);
        const Conditions& c = n.conditions;
        put(c.fluid);
        row("conditions", c.temperature, c.ambient_pressure, c.run_ahead_scale, c.drawdown_scale,
            c.separation, c.stirred, c.gas_temperature_from, c.pitch, c.roll, c.bubbles.diameter,
            c.bubbles.poured, c.bubbles.grip, c.bubbles.out_of_solution);
    }
    void put(const Contents& c) {
        put("contents");
        for (const double gas : c.volume_gas) put(gas);
        for (const auto& line : c.line_gas) {
            put("gas");
            for (const GasStretch& s : line) row(s.begin, s.end);
        }
        row(c.fresh_fraction, c.reservoir_fresh_fraction, c.dispersed);
        for (const double held : c.volume_held) row("held", held);
    }
    void put(const Procedure& p) {
        put(p.method);
        const Operator& o = p.person;
        row("person", o.push_speed, o.release_speed, o.force_limit, o.stroke_share, o.hold, o.dwell,
            o.act_time, o.move_time, o.turns, o.top_up_below);
        row("stop", p.stop.clear_strokes, p.stop.hose_volumes, p.stop.new_colour, p.stop.most_strokes);
        row("target", p.target.excess);
        for (const double f : p.target.pad_forces) put(f);
        put(p.prepare);
        for (const Visit& v : p.visits) row("visit", v.screw, v.strokes, v.before, v.method);
    }
};

} // namespace

std::string every_bit(const Case& c) {
    Dump dump;
    dump.row(c.network, c.contents, c.procedure);
    return dump.text;
}

} // namespace clearstroke::testing
