// Pressure and volume per stroke of the usual bores, through the pedal of a circuit.
#include "models/tube_flow.hpp"
#include "scenarios/io/quantity.hpp"
#include "sim/pedal.hpp"
#include "tests/book/check.hpp"
#include "tests/published/numerical.hpp"
#include "tests/sim/small_circuits.hpp"

namespace clearstroke {
namespace {

using namespace book;
using namespace testing;

constexpr double psi = 6894.757, pound = 4.448222;

/// Gauge pressure at a rod force on a bore, no spring, no friction.
double pressure_at(double bore, double rod_force) {
    Network n = one_wheel();
    n.volumes[0] = chamber("chamber", bore, 40e-3, 0.75);
    n.actuators[0].pistons[0] = piston({0}, bore, 30e-3, 0.0);
    n.actuators[0].pistons[0].spring.rate = 1e-3;
    n.actuators[0].ratio = 1.0;
    n.actuators[0].rod_friction = 0.0;
    Simulation sim(n);
    return pedal_at(sim, sim.start(full(n)), {0}, rod_force).pressure[0] - standard_atmosphere;
}

TEST(Cylinders, UsualBores) {
    struct Row {
        const char* bore;
        double volume, pressure; // mL at 18 mm, MPa at 500 N
    };
    for (const Row& r :
         {Row{"5/8 in", 3.56, 2.53}, Row{"11/16 in", 4.31, 2.09}, Row{"3/4 in", 5.13, 1.75},
          Row{"13/16 in", 6.02, 1.50}, Row{"7/8 in", 6.98, 1.29}, Row{"15/16 in", 8.02, 1.12},
          Row{"1 in", 9.12, 0.987}, Row{"1-1/16 in", 10.3, 0.874}, Row{"1-1/8 in", 11.5, 0.780}}) {
        const double bore = read_quantity(r.bore, "m").value.usual;
        check({std::string("volume of an 18 mm stroke, bore ") + r.bore, "", "area times stroke",
               Grade::derived, "mL", r.volume, circle_area(bore) * 18e-3 * 1e6, 5e-3 * r.volume,
               "three digits"});
        check({std::string("pressure at 500 N on the rod, bore ") + r.bore, "", "force over area",
               Grade::derived, "MPa", r.pressure, pressure_at(bore, 500.0) * 1e-6, 5e-3 * r.pressure,
               "three digits"});
    }
}

TEST(Cylinders, WorkedExample) {
    check({"pressure of 100 lbf on a pedal of 6:1, bore 1 in", "",
           "worked example of the trade, text not named", Grade::practice, "psi", 764.0,
           pressure_at(25.4e-3, 600.0 * pound) / psi, 0.5, "last digit"});
    const double calipers = 4.0 * (circle_area(27e-3) + circle_area(30.15e-3));
    check({"hydraulic ratio of a motorcycle: eight pistons of 27 and 30.15 mm on a 14 mm cylinder", "",
           "an owner's account", Grade::practice, "-", 33.4, calipers / circle_area(14e-3), 0.05,
           "last digit"});
}

} // namespace
} // namespace clearstroke
