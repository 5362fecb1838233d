// Pedal travel against force, with and without air, against the gas law by hand.
#include "sim/pedal.hpp"

#include <gtest/gtest.h>

#include "tests/sim/small_circuits.hpp"

namespace clearstroke {
namespace {

using namespace testing;

constexpr double millilitre = 1e-6;

State with_air(const Simulation& sim, double air) {
    Contents c = full(sim.network());
    c.volume_gas[1] = air;
    return sim.start(c);
}

/// Pad force at which the circuit stands at `gauge`, whatever the travel, for a spring without rate.
double force_for(const Actuator& a, double gauge) {
    const Piston& p = a.pistons[0];
    return (a.rod_friction + p.spring.preload + p.area * gauge) / a.ratio;
}

Network without_spring_rate() {
    Network n = one_wheel();
    n.actuators[0].pistons[0].spring.rate = 1e-3;
    return n;
}

// 1 mL at ambient (101 325 Pa) has shrunk to 0.092 mL at 1 MPa gauge: 0.908 mL of a 22.2 mm bore
// (387.1 mm^2) are 2.346 mm of rod and, at a ratio of 4, 9.38 mm of pedal.
TEST(Pedal, OneMillilitreOfAirCostsWhatTheGasLawSays) {
    Simulation sim(without_spring_rate());
    const Actuator& a = sim.network().actuators[0];
    const double force = force_for(a, 1e6);
    const PedalPoint soft = pedal_at(sim, with_air(sim, millilitre), {0}, force),
                     firm = pedal_at(sim, with_air(sim, 0.0), {0}, force);
    EXPECT_NEAR(soft.pressure[0] - standard_atmosphere, 1e6, 500.0);
    EXPECT_NEAR(firm.pressure[0] - standard_atmosphere, 1e6, 500.0);
    const double gained = soft.pad_travel - firm.pad_travel,
                 by_hand = 4.0 * 1e-6 * (1.0 - 101325.0 / 1101325.0) / (0.25 * pi * 22.2e-3 * 22.2e-3);
    EXPECT_NEAR(by_hand, 9.38e-3, 0.01e-3);
    EXPECT_NEAR(gained, by_hand, 0.01 * by_hand);
}

TEST(Pedal, TravelRisesWithForceAndWithAir) {
    Simulation sim(one_wheel());
    double last_air = -1.0;
    for (const double air : {0.0, 0.1e-6, 0.5e-6, 2e-6}) {
        const State s = with_air(sim, air);
        double last = -1.0;
        for (const PedalPoint& p : pedal_curve(sim, s, {0}, {20.0, 50.0, 100.0, 222.0, 500.0})) {
            EXPECT_GE(p.pad_travel, last);
            last = p.pad_travel;
        }
        EXPECT_GT(last, last_air);
        last_air = last;
    }
}

TEST(Pedal, StaticCurveAgreesWithThePress) {
    for (const double air : {0.0, millilitre}) {
        Simulation sim(one_wheel());
        State s = with_air(sim, air);
        ASSERT_TRUE(sim.advance(s, 5.0).usable());
        Operator foot;
        foot.push_speed = 0.002; // slow enough for the compensating port to stay without pressure
        foot.stroke_share = 1.0;
        foot.force_limit = 150.0;
        foot.hold = 5.0;
        const PedalPoint still = pedal_at(sim, s, {0}, 150.0);
        State pressed = s;
        ASSERT_TRUE(sim.act(pressed, Press{ActuatorId{0}}, foot).usable());
        const double travel = 4.0 * pressed.actuators[0].x;
        EXPECT_NEAR(travel / still.pad_travel, 1.0, 0.01)
            << air << " m^3 of air: " << travel << " pressed, " << still.pad_travel << " static";
        EXPECT_NEAR((pressed.volumes[0].pressure - standard_atmosphere) /
                        (still.pressure[0] - standard_atmosphere),
                    1.0, 0.01);
    }
}

TEST(Pedal, WithoutAirIsTheLayoutWithoutAir) {
    Simulation sim(one_wheel());
    const double clean = pedal_at(sim, with_air(sim, 0.0), {0}, 222.0).pad_travel;
    const State emptied = without_air(sim, with_air(sim, 2e-6));
    EXPECT_EQ(sim.air(emptied).total, 0.0);
    EXPECT_NEAR(pedal_at(sim, emptied, {0}, 222.0).pad_travel / clean, 1.0, 1e-3);
}

} // namespace
} // namespace clearstroke
