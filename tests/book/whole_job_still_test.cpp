// Whole jobs whose answer can be written down: renewal, dilution, compression, tandem statics, trapped air.
#include "models/closure.hpp"
#include "models/laminar_streams.hpp"
#include "models/tube_flow.hpp"
#include "sim/pedal.hpp"
#include "tests/book/check.hpp"
#include "tests/published/numerical.hpp"
#include "tests/sim/small_circuits.hpp"

namespace clearstroke {
namespace {

using namespace book;
using namespace testing;

const std::string parabola = "age of the fluid over a parabolic profile";

TEST(WholeJob, RenewalOfALine) {
    for (const double volumes : {0.5, 1.0, 2.0, 4.0}) {
        LaminarStreams line(17e-6, 0.0);
        line.move(volumes * 17e-6, 1.0);
        check({"old fluid left in a line after " + number_text(volumes) + " line volumes", "", parabola,
               Grade::exact, "-", 1.0 / (4.0 * volumes), 1.0 - line.mean(), 0.02,
               "0.02 of the line: ten rings stand for the profile"});
    }
}

/// Gravity flow, all parts wide so that it is quick.
Network renewal() {
    Network n = one_wheel();
    n.actuators[0].pistons[0].port = {3e-3, 1e-3, 0.62};
    n.reservoirs[0].capacity = n.reservoirs[0].initial = 400e-6;
    return n;
}

/// Opens the screw and lets `volume` go by.
void flush(Simulation& sim, State& s, double volume) {
    ASSERT_TRUE(sim.act(s, OpenScrew{ScrewId{0}, 1.5}, Operator{}).usable());
    const double begin = s.ledger.drawn;
    while (s.ledger.drawn - begin < volume) {
        const double flow = std::max(s.ledger.drawn - begin, 1e-9) / std::max(s.t - 3.0, 1e-3);
        ASSERT_TRUE(
            sim.advance(s, std::clamp((volume - (s.ledger.drawn - begin)) / flow, 0.05, 2.0)).usable());
    }
}

TEST(WholeJob, FreshFluidThroughALine) {
    const Network n = renewal();
    Contents c = full(n);
    c.fresh_fraction = 0.0;
    Simulation sim(n);
    State s = sim.start(c);
    s.volumes[0].fresh = 1.0; // the cylinder has been changed already
    flush(sim, s, 2.0 * circle_area(3.3e-3) * 2.0);
    const double passed = s.ledger.drawn / (circle_area(3.3e-3) * 2.0);
    check({"old fluid left in a pipe after about two volumes of gravity flow", "", parabola, Grade::exact,
           "-", 1.0 / (4.0 * passed), 1.0 - sim.fresh_of_line(s)[0], 0.02,
           "0.02 of the line: ten rings stand for the profile"});
}

TEST(WholeJob, DilutionOfAStirredCavity) {
    Network n = renewal();
    n.conditions.stirred = 1.0;
    Contents c = full(n);
    c.fresh_fraction = 0.0;
    Simulation sim(n);
    State s = sim.start(c);
    s.volumes[0].fresh = 1.0;
    s.streams[0] = LaminarStreams(circle_area(3.3e-3) * 2.0, 1.0);
    flush(sim, s, 1.5 * n.volumes[1].content);
    const double expected = std::exp(-s.ledger.drawn / n.volumes[1].content);
    check({"old fluid left in a stirred caliper after about 1.5 of its volumes", "",
           "exponential of volumes passed", Grade::exact, "-", expected, 1.0 - s.volumes[1].fresh, 0.01,
           "mixed once per step"});
}

/// All of a circuit at one height, so that heads do not count.
void level_out(Network& n) {
    for (Volume& v : n.volumes) v.height = 0.75;
    n.reservoirs[0].floor_height = 0.70; // its surface 5 mm above the bores
}

/// What a circuit yields up to the gauge pressure e: gas, liquid and walls.
double yield(double gas, double liquid, double compliance, const Medium& m, double e) {
    return gas * (1.0 - standard_atmosphere / (standard_atmosphere + e)) +
           liquid * e / (m.bulk_modulus + m.stiffening * e) + compliance * e;
}

TEST(WholeJob, CompressionOfAClosedCircuit) {
    for (const double air : {0.0, 1e-6, 3e-6}) {
        Network n = one_wheel();
        n.actuators[0].pistons[0].cut_off = 1e-6;
        level_out(n);
        Contents c = full(n);
        c.volume_gas[1] = air;
        Simulation sim(n);
        State s = sim.start(c);
        Operator foot;
        foot.push_speed = 0.01;
        foot.force_limit = 200.0;
        foot.hold = 3.0;
        foot.stroke_share = 1.0;
        ASSERT_TRUE(sim.act(s, Press{ActuatorId{0}}, foot).usable());
        const Piston& p = n.actuators[0].pistons[0];
        const double force = 200.0 * 4.0 - 10.0,
                     liquid = n.volumes[0].content + n.volumes[1].content - air + circle_area(3.3e-3) * 2.0;
        const Medium m =
            medium_of(liquid_at(n.conditions.fluid, n.conditions.temperature), standard_atmosphere);
        const double x = root(0.0, 30e-3, [&](double d) {
            const double e = (force - p.spring.preload - p.spring.rate * d) / p.area;
            return p.area * d - yield(air, liquid, 1.5e-13, m, e);
        });
        check({"rod travel at 200 N, screw shut, " + number_text(air * 1e6) + " mL of air", "",
               "Boyle, compression and force balance, bisection", Grade::exact, "mm", x * 1e3,
               s.actuators[0].x * 1e3, 2e-3 * x * 1e3 + 2e-3,
               "0.2 %: the push slows before it reaches its force"});
        check({"travel of the quasi-static pedal for the same, " + number_text(air * 1e6) + " mL of air", "",
               "Boyle, compression and force balance, bisection", Grade::exact, "mm", 4.0 * x * 1e3,
               pedal_at(sim, sim.start(c), {0}, 200.0).pad_travel * 1e3, 1e-3 * x * 4e3 + 5e-3,
               "0.1 % and 5 um: travel to the port's cut-off, heads"});
    }
}

/// Two circuits with 1 mL and 0.3 mL of air on a tandem with springs and friction.
Network tandem() {
    Network n = one_wheel();
    n.volumes = {chamber("primary", 22.2e-3, 40e-3, 0.75), chamber("secondary", 22.2e-3, 40e-3, 0.75),
                 caliper("front", 54e-3, 10e-3, 0.30), caliper("rear", 38e-3, 10e-3, 0.30)};
    n.lines = {pipe("first", 1.0, 3.3e-3, PortRef{{0}, 1}, PortRef{{2}, 0}),
               pipe("second", 3.0, 3.3e-3, PortRef{{1}, 1}, PortRef{{3}, 0})};
    Actuator& a = n.actuators[0];
    a.coupling = Coupling::tandem;
    a.pistons = {piston({0}, 22.2e-3, 18e-3, 120.0), piston({1}, 22.2e-3, 16e-3, 80.0)};
    a.friction = 40.0;
    n.screws = {screw("front", {2}), screw("rear", {3})};
    level_out(n);
    return n;
}

TEST(WholeJob, StaticsOfATandem) {
    const Network n = tandem();
    Contents c = full(n);
    c.volume_gas[2] = 1e-6;
    c.volume_gas[3] = 0.3e-6;
    Simulation sim(n);
    const State s = sim.start(c);
    const Actuator& a = n.actuators[0];
    const Medium m = medium_of(liquid_at(n.conditions.fluid, n.conditions.temperature), standard_atmosphere);
    const double force = 222.0 * 4.0 - 10.0;
    std::array<double, 2> d{}, gauge{};
    for (std::size_t j = 0; j < 2; ++j) {
        const Piston& p = a.pistons[j];
        const double on_it = force - (j == 1 ? a.friction : 0.0), gas = c.volume_gas[2 + j];
        const double liquid =
            n.volumes[j].content + n.volumes[2 + j].content - gas + circle_area(3.3e-3) * n.lines[j].length;
        d[j] = root(0.0, p.stroke, [&](double x) {
            const double e = (on_it - p.spring.preload - p.spring.rate * x) / p.area;
            return p.area * (x - p.cut_off) - yield(gas, liquid, 1.5e-13, m, std::max(e, 0.0));
        });
        gauge[j] = (on_it - p.spring.preload - p.spring.rate * d[j]) / p.area;
    }
    const PedalPoint still = pedal_at(sim, s, {0}, 222.0);
    const std::string how = "force balance of both pistons, bisection";
    check({"rod travel of a tandem at 222 N, 1 and 0.3 mL of air", "", how, Grade::exact, "mm",
           (d[0] + d[1]) * 1e3, still.pad_travel / 4.0 * 1e3, 1e-3 * (d[0] + d[1]) * 1e3,
           "0.1 %: bores 5 mm below the surface"});
    for (std::size_t j = 0; j < 2; ++j)
        check({std::string("gauge pressure of the ") + (j ? "secondary" : "primary") + " circuit at 222 N",
               "", how, Grade::exact, "kPa", gauge[j] * 1e-3,
               (still.pressure[j] - standard_atmosphere) * 1e-3, 1e-3 * gauge[j] * 1e-3,
               "0.1 %: bores 5 mm below the surface"});
    State pressed = s;
    Operator foot;
    foot.push_speed = 0.002; // slow: the ports shut without pressure
    foot.force_limit = 222.0;
    foot.stroke_share = 1.0;
    foot.hold = 5.0;
    ASSERT_TRUE(sim.act(pressed, Press{ActuatorId{0}}, foot).usable());
    check({"rod travel of the tandem, pressed slowly", "", how, Grade::exact, "mm", (d[0] + d[1]) * 1e3,
           pressed.actuators[0].x * 1e3, 5e-3 * (d[0] + d[1]) * 1e3,
           "0.5 %: a little pressure builds before the ports shut"});
}

/// Gas above the height z [m] over the middle of a tilted cylinder, slice by slice.
double slices_above(double radius, double depth, double tilt, double z) {
    return integral(-0.5 * depth, 0.5 * depth, [&](double s) {
        const double y = std::clamp((z - s * std::sin(tilt)) / std::cos(tilt), -radius, radius);
        return radius * radius * std::acos(y / radius) - y * std::sqrt(radius * radius - y * y);
    });
}

TEST(WholeJob, AirTrappedWhenTheVehicleLeans) {
    for (const double lean : {0.0, 0.2, -0.2}) {
        Network n = one_wheel();
        n.conditions.roll = lean;
        n.volumes[1].ports[1].place = {0.5, 0.9, 0.9};
        Simulation sim(n);
        const double r = 27e-3, depth = 10e-3, tilt = -lean;
        const double top = 0.4 * depth * std::sin(tilt) + 0.9 * r * std::cos(0.5) * std::cos(tilt) + 1.5e-3;
        const double expected = slices_above(r, depth, tilt, top);
        check({"air above the screw of a caliper, vehicle leaning by " + number_text(lean) + " rad", "",
               "slices of the tilted bore, integrated", Grade::exact, "mL", expected * 1e6,
               sim.beyond_reach(sim.start(full(n))).geometric[1] * 1e6, 1e-3 * expected * 1e6,
               "0.1 %: the profile is tabulated"});
    }
}

} // namespace
} // namespace clearstroke
