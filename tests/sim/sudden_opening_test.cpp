// What the quasi-steady run leaves out of an opening under pressure.
#include "sim/sudden_opening.hpp"

#include <gtest/gtest.h>

#include "models/restriction.hpp"
#include "models/tube_flow.hpp"
#include "tests/sim/small_circuits.hpp"

namespace clearstroke {
namespace {

using namespace testing;

// By hand for 2 m of 3.3 mm, laminar at 20 degC: a q + b q^2 = dp, I = rho L/A.
TEST(SuddenOpening, TakesTheTimeOfItsInertanceAgainstItsDrop) {
    const Network n = one_wheel();
    const Liquid l = liquid_at(n.conditions.fluid, n.conditions.temperature);
    const double dp = 20e5;
    const SuddenOpening o = sudden_opening(n, {0}, 0.5, dp);
    const double tube = 128.0 * l.dynamic_viscosity * 2.0 / (pi * std::pow(3.3e-3, 4.0));
    EXPECT_LT(o.flow, dp / tube);
    EXPECT_GT(o.flow, 0.3 * dp / tube);
    const double inertia = l.density * 2.0 / (0.25 * pi * 3.3e-3 * 3.3e-3);
    EXPECT_NEAR(o.starting_time, 4.0 / 3.0 * inertia * o.flow / dp, 1e-9);
    EXPECT_NEAR(o.missing, o.starting_time * o.flow, 1e-15);
    EXPECT_LT(o.starting_time, 4.0 / 3.0 * inertia / tube);
    EXPECT_NEAR(o.run_too_fast, 0.0, 1e-9);
}

// Hot fluid is turbulent: the flow is less than the run's, which is laminar in pipes, and its drop adds up.
TEST(SuddenOpening, SaysHowMuchTheRunIsTooFastWhereTheFlowIsTurbulent) {
    Network n = one_wheel();
    n.conditions.temperature = 373.15;
    const SuddenOpening o = sudden_opening(n, {0}, 0.5, 20e5);
    const Liquid l = liquid_at(n.conditions.fluid, n.conditions.temperature);
    const double re = reynolds_number(o.flow, 3.3e-3, l.kinematic_viscosity);
    EXPECT_GT(re, 4000.0);
    EXPECT_GT(o.run_too_fast, 0.05);
    const double speed = o.flow / circle_area(3.3e-3);
    const double tube =
        friction_factor_haaland(re, 1.5e-6 / 3.3e-3) * 2.0 / 3.3e-3 * 0.5 * l.density * speed * speed;
    const BleedScrew& g = n.screws[0].geometry;
    const double seat = pressure_drop(drop_law(bleed_screw_area(g, 0.5), g.drilling_length, g.axial_bore,
                                               bleed_screw_discharge, l.density, l.dynamic_viscosity),
                                      o.flow);
    EXPECT_NEAR((tube + seat) / 20e5, 1.0, 1e-9);
}

TEST(ShortestPath, IsTheLinesWhoseLengthsAreThePathLength) {
    Network n = one_wheel();
    n.junctions = {{"tee", 0.5, 0.0, 0.0}};
    n.lines = {pipe("feed", 1.0, 3.3e-3, PortRef{{0}, 1}, JunctionId{0}),
               pipe("detour", 3.0, 3.3e-3, JunctionId{0}, PortRef{{1}, 0}),
               pipe("last", 0.7, 3.3e-3, JunctionId{0}, PortRef{{1}, 0})};
    const std::vector<LineId> path = shortest_path(n, {0});
    ASSERT_EQ(path.size(), 2U);
    EXPECT_EQ(path[0].index, 0U);
    EXPECT_EQ(path[1].index, 2U);
    EXPECT_EQ(path_length(n, {0}), 1.7);
}

// Up 0.4 m in a quarter of the length, then down 0.6 m in the rest: upright in the first, with 1.6 m.
TEST(ShortestLength, IsThatOfTheSteepestStretch) {
    Line line;
    line.from_height = 0.5;
    line.to_height = 0.3;
    EXPECT_DOUBLE_EQ(shortest_length(line), 0.2);
    line.heights = {{0.25, 0.9}};
    EXPECT_DOUBLE_EQ(shortest_length(line), 1.6);
}

} // namespace
} // namespace clearstroke
