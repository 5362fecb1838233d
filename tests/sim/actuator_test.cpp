// Statics of tandem cylinders and balance bars against forces added up by hand.
#include "sim/actuator.hpp"

#include <gtest/gtest.h>

namespace clearstroke {
namespace {

constexpr double area = 4e-4, content = 15e-6, give = 1e-11; // give: compliance of each chamber's walls
const ElasticLaw walls{give};
const ElasticLaw very_soft{1.0}; // holds its chamber at ambient
const Medium stiff{standard_atmosphere, 1e15, 1.0, 50.0};

Actuator tandem(double friction) {
    Actuator a;
    a.coupling = Coupling::tandem;
    Piston p;
    p.area = area;
    p.stroke = 15e-3;
    p.spring = {100.0, 2000.0};
    a.pistons = {p, p};
    a.pistons[1].spring = {40.0, 1500.0};
    a.friction = friction;
    return a;
}

std::array<Chamber, 2> chambers(const ElasticLaw& first, const ElasticLaw& second) {
    return {Chamber{{content, 0.0, 0.0}, content, &first, 0.0, 1e5},
            Chamber{{content, 0.0, 0.0}, content, &second, 0.0, 1e5}};
}

ActuatorPoint at(const Actuator& a, double x, double u, const ElasticLaw& first = walls,
                 const ElasticLaw& second = walls) {
    return actuator_point(a, linkage_of(a), x, u, chambers(first, second), stiff);
}

// Each liquid-full chamber is a spring of A^2 / give = 16,000 N/m beside its coil.
TEST(Tandem, FloatingPistonSlidesUntilFrictionHolds) {
    const ActuatorPoint p = at(tandem(20.0), 0.02, 0.0);
    // T1 - T2 = 100 + 18000 (x - u) - 40 - 17500 u = 20
    const double u = (100.0 - 40.0 - 20.0 + 18000.0 * 0.02) / 35500.0;
    EXPECT_TRUE(p.slides);
    EXPECT_NEAR(p.u, u, 1e-9);
    EXPECT_NEAR(p.d[0], 0.02 - u, 1e-9);
    EXPECT_NEAR(p.d[1], u, 1e-9);
    EXPECT_NEAR(p.rod_force, 100.0 + 18000.0 * (0.02 - u), 1e-4);
    EXPECT_NEAR(p.pressure[1].p - standard_atmosphere, area * u / give, 1.0);
}

TEST(Tandem, FrictionHoldsItOnTheWayBackUntilTheForceHasTurned) {
    const Actuator a = tandem(20.0);
    const double u = at(a, 0.02, 0.0).u;
    const ActuatorPoint held = at(a, 0.019, u); // G = 60 + 342 - 400 = 2 N
    EXPECT_FALSE(held.slides);
    EXPECT_EQ(held.u, u);
    const ActuatorPoint back = at(a, 0.017, u); // G would be -34 N: slides to -20
    EXPECT_TRUE(back.slides);
    EXPECT_NEAR(back.u, (60.0 + 20.0 + 18000.0 * 0.017) / 35500.0, 1e-9);
}

TEST(Tandem, WithoutFrictionEqualBoresHaveEqualForces) {
    const ActuatorPoint p = at(tandem(0.0), 0.02, 0.0);
    const double first = area * (p.pressure[0].p - standard_atmosphere) + 100.0 + 2000.0 * p.d[0];
    const double second = area * (p.pressure[1].p - standard_atmosphere) + 40.0 + 1500.0 * p.d[1];
    EXPECT_NEAR(first, second, 1e-4);
}

// With no pressure the stronger primary spring stays caged and carries the floating piston along.
TEST(Tandem, CagedPrimarySpringCarriesTheFloatingPiston) {
    const ActuatorPoint p = at(tandem(0.0), 0.01, 0.0, very_soft, very_soft);
    EXPECT_TRUE(p.pressed);
    EXPECT_NEAR(p.u, 0.01, 1e-12);
    EXPECT_NEAR(p.d[0], 0.0, 1e-12);
    EXPECT_EQ(p.u_x, 1.0);
    EXPECT_NEAR(p.rod_force, 40.0 + 1500.0 * 0.01, 1e-3);
}

TEST(Tandem, WeakerPrimarySpringYieldsFirst) {
    Actuator a = tandem(0.0);
    a.pistons[0].spring = {10.0, 500.0};
    const ActuatorPoint p = at(a, 0.01, 0.0, very_soft, very_soft);
    EXPECT_NEAR(p.u, 0.0, 1e-12); // 10 + 5 N do not lift the 40 N of the secondary
    EXPECT_NEAR(p.rod_force, 15.0, 1e-3);
}

TEST(Tandem, StopsLimitBothCompressions) {
    const ActuatorPoint open_secondary = at(tandem(0.0), 0.025, 0.0, walls, very_soft);
    EXPECT_NEAR(open_secondary.d[1], 15e-3, 1e-12); // nothing resists it: it runs to its stop
    EXPECT_NEAR(open_secondary.d[0], 10e-3, 1e-12);
    EXPECT_NEAR(open_secondary.rod_force, 100.0 + 18000.0 * 10e-3, 1e-4);
    const ActuatorPoint open_primary = at(tandem(0.0), 0.025, 0.0, very_soft, walls);
    EXPECT_NEAR(open_primary.d[0], 15e-3, 1e-12);
    EXPECT_NEAR(open_primary.d[1], 10e-3, 1e-12);
    EXPECT_NEAR(open_primary.rod_force, 40.0 + 17500.0 * 10e-3, 1e-3);
}

// What presses the floating piston on and holds it is the second chamber's force and its own friction, whichever stop carries it.
TEST(Tandem, AStopThatCarriesThePistonIsFeltWithItsFriction) {
    const ActuatorPoint caged = at(tandem(20.0), 0.01, 0.0, very_soft, very_soft);
    EXPECT_NEAR(caged.rod_force, 40.0 + 1500.0 * 0.01 + 20.0, 1e-3);
    EXPECT_NEAR(caged.rod_force_back, 40.0 + 1500.0 * 0.01 - 20.0, 1e-3);
    const ActuatorPoint bottomed = at(tandem(20.0), 0.025, 0.0, very_soft, walls);
    EXPECT_NEAR(bottomed.rod_force, 40.0 + 17500.0 * 10e-3 + 20.0, 1e-3);
    EXPECT_NEAR(bottomed.rod_force_back, 40.0 + 17500.0 * 10e-3 - 20.0, 1e-3);
}

// Where the primary piston bottoms before the secondary has left its rest, the rod carries nothing but the primary on its way back, and
// the secondary forward: between both forces it stands.
TEST(Tandem, WhereOneStopTakesOverFromAnotherEitherSideFeelsItsOwn) {
    Actuator a = tandem(20.0);
    a.pistons[1].spring = {500.0, 1500.0};
    const double bottom = a.pistons[0].stroke, primary = 100.0 + 2000.0 * bottom;
    for (const double past : {-5e-8, 0.0, 5e-8}) {
        const ActuatorPoint p = at(a, bottom + past, 0.0, very_soft, very_soft);
        EXPECT_NEAR(p.rod_force, 500.0 + 20.0, 1e-3) << past;
        EXPECT_NEAR(p.rod_force_back, primary, 1e-3) << past;
        EXPECT_EQ(p.carries(1e-3), 1.0);
        EXPECT_EQ(p.carries(-1e-3), 0.0);
    }
    const ActuatorPoint before = at(a, bottom - 1e-6, 0.0, very_soft, very_soft),
                        beyond = at(a, bottom + 1e-6, 0.0, very_soft, very_soft);
    EXPECT_NEAR(before.rod_force, primary, 0.01);
    EXPECT_NEAR(before.rod_force_back, primary, 0.01);
    EXPECT_NEAR(beyond.rod_force, 500.0 + 20.0, 0.01);
    EXPECT_NEAR(beyond.rod_force_back, 500.0 - 20.0, 0.01);
}

// At the stop but within friction of balance, it goes along forward and stays behind on the way back.
TEST(Tandem, AStopDragsAPistonThatFrictionHolds) {
    Actuator a = tandem(100.0);
    const double u = 0.02 - a.pistons[0].stroke;
    const ActuatorPoint p = at(a, 0.02, u, very_soft, walls); // T1 = 130 N, T2 = 127.5 N
    ASSERT_FALSE(p.pressed);
    EXPECT_EQ(p.u, u);
    EXPECT_EQ(p.carries(1e-3), 1.0);
    EXPECT_EQ(p.carries(-1e-3), 0.0);
    EXPECT_NEAR(p.rod_force, 127.5 + 100.0, 1e-3);
    EXPECT_NEAR(p.rod_force_back, 130.0, 1e-3);
    EXPECT_NEAR(at(a, 0.0201, u, very_soft, walls).u, u + 0.0001, 1e-15);
    EXPECT_EQ(at(a, 0.0199, u, very_soft, walls).u, u);
}

TEST(BalanceBar, ShareSplitsTheForce) {
    for (const double share : {0.4, 0.5, 0.65}) {
        Actuator a = tandem(0.0);
        a.coupling = Coupling::balance_bar;
        a.bar_share = share;
        a.pistons[0].spring = a.pistons[1].spring = {0.0, 0.0};
        const ActuatorPoint p = at(a, 5e-3, 0.0);
        const double first = area * (p.pressure[0].p - standard_atmosphere),
                     second = area * (p.pressure[1].p - standard_atmosphere);
        EXPECT_NEAR(first, share * p.rod_force, 1e-3) << share;
        EXPECT_NEAR(first + second, p.rod_force, 1e-3) << share;
        EXPECT_NEAR(share * p.d[0] + (1.0 - share) * p.d[1], 5e-3, 1e-12) << share;
    }
}

TEST(BalanceBar, TravelOfTheBarIsLimited) {
    Actuator a = tandem(0.0);
    a.coupling = Coupling::balance_bar;
    a.bar_travel = 2e-3;
    const ActuatorPoint p = at(a, 5e-3, 0.0, walls, very_soft);
    EXPECT_NEAR(std::abs(p.u), 2e-3, 1e-12);
    EXPECT_NEAR(p.d[1], 6e-3, 1e-12); // the side that does not resist runs ahead
    EXPECT_NEAR(p.d[0], 4e-3, 1e-12);
}

TEST(SingleCylinder, ForceIsSpringPlusPressure) {
    Actuator a = tandem(0.0);
    a.coupling = Coupling::single;
    a.pistons.resize(1);
    const ActuatorPoint p = actuator_point(a, linkage_of(a), 4e-3, 0.0, chambers(walls, walls), stiff);
    EXPECT_NEAR(p.rod_force, 100.0 + 18000.0 * 4e-3, 1e-4);
}

} // namespace
} // namespace clearstroke
