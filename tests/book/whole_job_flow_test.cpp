// Whole jobs whose answer can be written down: time to draw a volume by gravity and under pressure, lines in
// series and parallel, a plug on its way, a loop that holds back.
#include "models/long_bubble.hpp"
#include "models/tube_flow.hpp"
#include "sim/run.hpp"
#include "tests/book/check.hpp"
#include "tests/published/numerical.hpp"
#include "tests/sim/small_circuits.hpp"

namespace clearstroke {
namespace {

using namespace book;
using namespace testing;

constexpr double screw_height = 0.30 + 0.95 * 27e-3; // of the port of `caliper`
constexpr double screw_turns = 1.5;

/// A cylinder that stands open to its reservoir, at -10 degC, where the pipe is nearly all the resistance.
Network cold_line(double length, double bore) {
    Network n = one_wheel();
    n.conditions.temperature = 263.15;
    n.lines = {pipe("pipe", length, bore, PortRef{{0}, 1}, PortRef{{1}, 0})};
    n.actuators[0].pistons[0].port = {3e-3, 1e-3, 0.62};
    n.reservoirs[0].area = 1e-3;
    n.reservoirs[0].initial = 100e-6;
    return n;
}

Liquid liquid_of(const Network& n) { return liquid_at(n.conditions.fluid, n.conditions.temperature); }

/// Terms of dp = a q + b q^2 of pipe ends and screw, whose laws are checked elsewhere.
DropLaw path(const Network& n, double pipe_resistance, double bore) {
    const Liquid l = liquid_of(n);
    const BleedScrew& g = n.screws[0].geometry;
    DropLaw out = drop_law(bleed_screw_area(g, screw_turns), g.drilling_length, g.axial_bore, 0.62, l.density,
                           l.dynamic_viscosity);
    out.a += pipe_resistance;
    out.b += l.density / (circle_area(bore) * circle_area(bore)); // one velocity head at either end
    return out;
}

State opened(Simulation& sim, const Contents& c) {
    State s = sim.start(c);
    EXPECT_TRUE(sim.act(s, OpenScrew{ScrewId{0}, screw_turns}, Operator{}).usable());
    return s;
}

TEST(WholeJob, GravityBleedOfASingleLine) {
    const Network n = cold_line(2.0, 2.5e-3);
    const Liquid l = liquid_of(n);
    DropLaw law = path(n, laminar_resistance(l.dynamic_viscosity, 2.0, 2.5e-3), 2.5e-3);
    const DropLaw port = drop_law(n.actuators[0].pistons[0].port, l.density, l.dynamic_viscosity);
    law.a += port.a;
    const double weight = l.density * standard_gravity, head = 0.80 + 0.1 - screw_height, drawn = 50e-6;
    // The head falls with the level: A dh/dt = -rho g h / R.
    const double time = 1e-3 * law.a / weight * std::log(head / (head - drawn / 1e-3));
    const auto drawn_in = [&](int pieces) {
        Simulation sim(n);
        State s = opened(sim, full(n));
        const double before = s.ledger.drawn;
        for (int i = 0; i < pieces; ++i) EXPECT_TRUE(sim.advance(s, time / pieces).usable());
        return (s.ledger.drawn - before) * 1e6;
    };
    const std::string how = "exponential fall of the head";
    check(
        {"fluid drawn by gravity in the time that 50 mL take, 2 m of 2.5 mm at -10 degC, looked at 500 times",
         "", how, Grade::exact, "mL", 50.0, drawn_in(500), 0.1,
         "0.2 %: under 100 Pa the hole of the screw counts as partly full of the air outside"});
    check({"the same in one go", "", how, Grade::exact, "mL", 50.0, drawn_in(1), 1.0,
           "2 %: the level of a reservoir stands still within a step, and nothing shortens the step for it"});
}

TEST(WholeJob, PressureBleedOfASingleLine) {
    const Network n = cold_line(2.0, 2.5e-3);
    const Liquid l = liquid_of(n);
    DropLaw law = path(n, laminar_resistance(l.dynamic_viscosity, 2.0, 2.5e-3), 2.5e-3);
    law.a += drop_law(n.actuators[0].pistons[0].port, l.density, l.dynamic_viscosity).a;
    const double gauge = 1e5, weight = l.density * standard_gravity, head = 0.80 + 0.1 - screw_height,
                 drawn = 50e-6;
    const double time = integral(
        0.0, drawn, [&](double v) { return 1.0 / volume_flow(law, gauge + weight * (head - v / 1e-3)); });
    Simulation sim(n);
    State s = opened(sim, full(n));
    EXPECT_TRUE(sim.act(s, ReservoirPressure{gauge}, Operator{}).usable());
    const double before = s.ledger.drawn;
    for (int i = 0; i < 100; ++i) EXPECT_TRUE(sim.advance(s, time / 100.0).usable());
    check({"fluid driven by 1 bar on the reservoir in the time that 50 mL take, 2 m of 2.5 mm at -10 degC",
           "", "volume over the flow of the path, integrated", Grade::exact, "mL", 50.0,
           (s.ledger.drawn - before) * 1e6, 0.05, "0.1 %: parts swell a little when the pressure comes on"});
}

TEST(WholeJob, PressedAtConstantForce) {
    Network n = cold_line(2.0, 2.5e-3);
    Actuator& a = n.actuators[0];
    a.pistons[0].cut_off = 1e-6;
    a.pistons[0].spring.rate = 1e-3;
    const Liquid l = liquid_of(n);
    Operator machine;
    machine.push_speed = 10.0; // far faster than the line lets it, so that the force limit rules
    machine.force_limit = 150.0;
    machine.stroke_share = 1.0;
    const double force = machine.force_limit * a.ratio - a.rod_friction, area = a.pistons[0].area;
    const double dp = (force - a.pistons[0].spring.preload) / area +
                      l.density * standard_gravity * (n.volumes[0].height - screw_height);
    const double q = volume_flow(path(n, laminar_resistance(l.dynamic_viscosity, 2.0, 2.5e-3), 2.5e-3), dp);
    Simulation sim(n);
    State s = opened(sim, full(n));
    machine.hold = 0.2; // until the flow is steady
    EXPECT_TRUE(sim.act(s, Press{ActuatorId{0}}, machine).usable());
    const double first = s.actuators[0].x, begin = s.t;
    machine.hold = 1.0;
    EXPECT_TRUE(sim.act(s, Press{ActuatorId{0}}, machine).usable());
    const double expected = q * (s.t - begin) / area;
    check({"rod travel in about 1 s at 150 N through 2 m of 2.5 mm at -10 degC", "",
           "flow of the path over the area", Grade::exact, "mm", expected * 1e3,
           (s.actuators[0].x - first) * 1e3, 5e-3 * expected * 1e3,
           "0.5 %: the force stays just below its limit while the rod moves"});
}

/// Flow into the circuit once it is steady [m^3/s], and the head that drives it [Pa].
std::pair<double, double> steady_gravity(const Network& n) {
    Simulation sim(n);
    State s = opened(sim, full(n));
    EXPECT_TRUE(sim.advance(s, 5.0).usable());
    const double before = s.ledger.drawn, level = s.reservoirs[0].liquid[0] / n.reservoirs[0].area;
    EXPECT_TRUE(sim.advance(s, 2.0).usable());
    const double mean_level = 0.5 * (level + s.reservoirs[0].liquid[0] / n.reservoirs[0].area);
    return {(s.ledger.drawn - before) / 2.0,
            liquid_of(n).density * standard_gravity * (0.80 + mean_level - screw_height)};
}

TEST(WholeJob, LinesInSeriesAndParallel) {
    Network n = cold_line(1.0, 2.5e-3);
    const Liquid l = liquid_of(n);
    const auto r = [&](double length, double bore) {
        return laminar_resistance(l.dynamic_viscosity, length, bore);
    };
    const double rest =
        path(n, 0.0, 2.5e-3).a + drop_law(n.actuators[0].pistons[0].port, l.density, l.dynamic_viscosity).a;
    n.junctions = {{"first", 0.5, 0.0, 0.0}, {"second", 0.4, 0.0, 0.0}};
    n.lines = {pipe("feed", 1.0, 2.5e-3, PortRef{{0}, 1}, JunctionId{0}),
               pipe("narrow", 1.0, 2.0e-3, JunctionId{0}, JunctionId{1}),
               pipe("wide", 1.5, 2.5e-3, JunctionId{0}, JunctionId{1}),
               pipe("last", 0.5, 3.0e-3, JunctionId{1}, PortRef{{1}, 0})};
    const double parallel = 1.0 / (1.0 / r(1.0, 2.0e-3) + 1.0 / r(1.5, 2.5e-3));
    const auto [q, head] = steady_gravity(n);
    const double expected = head / (rest + r(1.0, 2.5e-3) + parallel + r(0.5, 3e-3));
    check({"gravity flow through a loop of two unequal pipes between two pipes", "", "sums of conductances",
           Grade::exact, "mL/s", expected * 1e6, q * 1e6, 2e-3 * expected * 1e6,
           "0.2 %: the hole of the screw, as above"});
    n.lines.erase(n.lines.begin() + 1);
    const auto [alone, head_alone] = steady_gravity(n);
    const double series = head_alone / (rest + r(1.0, 2.5e-3) + r(1.5, 2.5e-3) + r(0.5, 3e-3));
    check({"gravity flow through three unequal pipes in series", "", "sum of resistances", Grade::exact,
           "mL/s", series * 1e6, alone * 1e6, 2e-3 * series * 1e6, "0.2 %: the hole of the screw, as above"});
}

// The front of a plug outruns the liquid by C0; the liquid that has to pass for it to arrive is less by as
// much.
TEST(WholeJob, GasFrontWithRunAhead) {
    Network n = one_wheel();
    n.actuators[0].pistons[0].port = {2e-3, 1e-3, 0.62};
    n.lines[0].lumps = 25;
    Contents c = full(n);
    c.line_gas[0] = {{0.40, 0.42}};
    Simulation sim(n);
    State s = opened(sim, c);
    const double area = circle_area(3.3e-3), distance = 0.58 * 2.0, begin = s.ledger.drawn, t0 = s.t;
    while (s.volumes[1].gas < 1e-9 && s.t < t0 + 200.0) ASSERT_TRUE(sim.advance(s, 0.25).usable());
    const double swept = s.ledger.drawn - begin, u = swept / (s.t - t0) / area;
    const Liquid l = liquid_of(n);
    const double bubble = root(u, 2.3 * u, [&](double x) {
        const double y = std::pow(l.dynamic_viscosity * x / l.surface_tension, 2.0 / 3.0);
        const double film = 1.0 - 1.34 * y / (1.0 + 3.35 * y);
        return x * film * film - u;
    });
    check({"fluid that passes before a plug has run 1.16 m of 3.3 mm pipe", "",
           "volume of the stretch over C0, film law and continuity by bisection", Grade::exact, "mL",
           distance * area * u / bubble * 1e6, swept * 1e6, 0.02 * distance * area * u / bubble * 1e6,
           "2 %: looked at every 0.25 s, speed not quite steady"});
}

TEST(WholeJob, CounterHeadOfALoop) {
    const Network n = wheel_behind_a_loop();
    const double expected = liquid_of(n).density * standard_gravity * 0.5 * (0.85 - 0.30);
    check({"pressure held back by gas in half of the fall behind a loop", "",
           "rho g times the height of the gas", Grade::exact, "Pa", expected, held_back_by_gas(n, 0.5, 0.75),
           0.02 * expected, "2 %: the gas shrinks a little under the head above it"});
}

} // namespace
} // namespace clearstroke
