// Columns of liquid with momentum: starting and swinging against lumped solutions, and what they change of a violent opening
// against the bound of sudden_opening.
#include <gtest/gtest.h>

#include <Eigen/Core>

#include "models/tube_flow.hpp"
#include "sim/sudden_opening.hpp"
#include "tests/sim/small_circuits.hpp"

namespace clearstroke {
namespace {

using namespace testing;

/// One wheel without port, both parts of this compliance [m^3/Pa], columns with momentum.
Network shut_between(double compliance) {
    Network n = one_wheel();
    n.conditions.unsteady_lines = true;
    n.actuators[0].pistons[0].blind = true;
    for (Volume& v : n.volumes) v.walls.compliance = compliance;
    n.volumes[0].height = n.volumes[1].height = n.lines[0].from_height = n.lines[0].to_height = 0.5;
    return n;
}

struct Tube {
    double resistance, inertia, storage; ///< [Pa s/m^3], [Pa s^2/m^3], of its liquid [m^3/Pa]
};
Tube tube_of(const Network& n) {
    const Liquid l = liquid_at(n.conditions.fluid, n.conditions.temperature);
    const Line& line = n.lines[0];
    return {laminar_resistance(l.dynamic_viscosity, line.length, line.bore),
            inertance(l.density, line.length, line.bore),
            circle_area(line.bore) * line.length / l.bulk_modulus};
}

/// A run that begins at rest, the first volume above the second by `drop` [Pa].
struct LetGo {
    Simulation sim;
    State state;
    LetGo(const Network& n, double compliance, double drop, double tolerance = 1e-4)
        : sim(n, Settings{.tolerance = tolerance}), state(sim.start(full(n))) {
        EXPECT_TRUE(sim.advance(state, 60.0).usable());
        state.volumes[0].liquid += compliance * drop;
        state.ledger.liquid_in += compliance * drop;
    }
    double flow_after(double time) {
        EXPECT_TRUE(sim.advance(state, time).usable());
        return 0.5 * (state.line_flow[0][0] + state.line_flow[0][1]);
    }
};

// w = dp/R (1 - exp(-R t/I)) where the pressures are kept up.
TEST(MovingColumns, StartAsALumpedColumnDoes) {
    constexpr double compliance = 1e-8, drop = 1e4;
    const Network n = shut_between(compliance);
    const Tube tube = tube_of(n);
    const double settled = drop / tube.resistance, time = tube.inertia / tube.resistance;
    for (const double share : {0.2, 0.5, 1.0, 2.0, 4.0}) {
        LetGo run(n, compliance, drop);
        EXPECT_NEAR(run.flow_after(share * time) / (settled * (1.0 - std::exp(-share))), 1.0, 4e-3) << share;
    }
}

// Two halves of a column between three stores, I/2 dw/dt = dp - R/2 w each, by Runge and Kutta's method.
TEST(MovingColumns, SwingBetweenElasticPartsAsALumpedColumnDoes) {
    constexpr double compliance = 5e-13, drop = 2e4;
    const Network n = shut_between(compliance);
    const Tube tube = tube_of(n);
    const Liquid l = liquid_at(n.conditions.fluid, n.conditions.temperature);
    const double first = compliance + n.volumes[0].content / l.bulk_modulus,
                 last = compliance + n.volumes[1].content / l.bulk_modulus;
    using Vector = Eigen::Matrix<double, 5, 1>; // three pressures, two flows
    const auto rate = [&](const Vector& y) {
        Vector f;
        f << -y[3] / first, (y[3] - y[4]) / tube.storage, y[4] / last,
            (y[0] - y[1] - 0.5 * tube.resistance * y[3]) / (0.5 * tube.inertia),
            (y[1] - y[2] - 0.5 * tube.resistance * y[4]) / (0.5 * tube.inertia);
        return f;
    };
    Vector y = Vector::Zero();
    y[0] = drop * compliance / first;
    LetGo run(n, compliance, drop, 1e-5);
    const double period = 2.0 * pi * std::sqrt(tube.inertia / (1.0 / first + 1.0 / last)),
                 top = drop / std::sqrt(tube.inertia * (1.0 / first + 1.0 / last));
    double lowest = 0.0;
    for (int eighth = 0; eighth < 12; ++eighth) {
        constexpr int steps = 2000;
        const double h = period / 8.0 / steps;
        for (int i = 0; i < steps; ++i) {
            const Vector a = rate(y), b = rate(y + 0.5 * h * a), c = rate(y + 0.5 * h * b),
                         d = rate(y + h * c);
            y += h / 6.0 * (a + 2.0 * b + 2.0 * c + d);
        }
        const double flow = run.flow_after(period / 8.0);
        EXPECT_NEAR(flow, 0.5 * (y[3] + y[4]), 0.01 * top) << eighth;
        lowest = std::min(lowest, flow);
    }
    EXPECT_LT(lowest, -0.05 * top); // it does swing back
}

struct Opened {
    double out{}, peak{};
};
/// Press to 100 bar, open: what has passed the screw when the pressure is gone, and the most in a millisecond.
Opened opened(bool unsteady, double temperature) {
    Network n = one_wheel();
    n.conditions.unsteady_lines = unsteady;
    n.conditions.temperature = temperature;
    n.actuators[0].pistons[0].blind = true;
    Simulation sim(n);
    State s = sim.start(full(n));
    Procedure plan;
    plan.person.act_time = 0.0;
    plan.person.force_limit = 1100.0;
    EXPECT_TRUE(sim.act(s, Press{}, plan.person, ScrewId{0}).usable());
    EXPECT_GT(s.volumes[0].pressure, 100e5);
    const double before = s.ledger.liquid_out;
    Opened out;
    EXPECT_TRUE(sim.act(s, OpenScrew{{}, 0.5}, plan.person, ScrewId{0}).usable());
    double last = before;
    for (int i = 0; i < 60; ++i) {
        EXPECT_TRUE(sim.advance(s, 1e-3).usable());
        out.peak = std::max(out.peak, (s.ledger.liquid_out - last) / 1e-3);
        last = s.ledger.liquid_out;
    }
    EXPECT_TRUE(sim.advance(s, 5.0).usable());
    out.out = s.ledger.liquid_out - before;
    EXPECT_LE(sim.balance(s).liquid, 1e-12);
    EXPECT_LE(sim.balance(s).gas, 1e-12);
    return out;
}

TEST(MovingColumns, AViolentOpeningDiffersFromTheQuasiSteadyRunByLessThanItsStatedBound) {
    for (const double temperature : {293.15, 353.15}) {
        const Opened steady = opened(false, temperature), unsteady = opened(true, temperature);
        Network n = one_wheel();
        n.conditions.temperature = temperature;
        const SuddenOpening bound = sudden_opening(n, {0}, 0.5, 100e5);
        EXPECT_NEAR(unsteady.out, steady.out, bound.missing);
        EXPECT_LT(unsteady.peak, steady.peak);
    }
}

// A tee: what comes in goes out at every instant, symmetric branches share it evenly, and a repeated run has the same bits.
TEST(MovingColumns, MeetAtATeeWithoutLoss) {
    Network n = one_wheel();
    n.conditions.unsteady_lines = true;
    n.junctions = {{"tee", 0.5, 0.0, 0.0}};
    n.volumes.push_back(caliper("other", 54e-3, 10e-3, 0.30));
    n.lines = {pipe("feed", 1.0, 3.3e-3, PortRef{{0}, 1}, JunctionId{0}),
               pipe("first", 1.0, 3.3e-3, JunctionId{0}, PortRef{{1}, 0}),
               pipe("second", 1.0, 3.3e-3, JunctionId{0}, PortRef{{2}, 0})};
    n.screws = {screw("first", {1}), screw("second", {2})};
    const auto run = [&] {
        Simulation sim(n);
        State s = sim.start(full(n));
        Procedure plan;
        double worst = 0.0, apart = 0.0, most = 0.0;
        sim.observe([&](const State& now, Moment) {
            worst =
                std::max(worst, std::abs(now.line_flow[0][1] - now.line_flow[1][0] - now.line_flow[2][0]));
            apart = std::max(apart, std::abs(now.line_flow[1][0] - now.line_flow[2][0]));
            most = std::max(most, std::abs(now.line_flow[0][1]));
        });
        EXPECT_TRUE(sim.act(s, Press{}, plan.person, ScrewId{0}).usable());
        EXPECT_GT(most, 1e-7);
        EXPECT_LE(worst, 1e-9 * most);
        EXPECT_LE(apart, 1e-6 * most);
        EXPECT_LE(sim.balance(s).liquid, 1e-12);
        return s;
    };
    const State a = run(), b = run();
    EXPECT_EQ(a.line_flow, b.line_flow);
    EXPECT_EQ(a.volumes[1].liquid, b.volumes[1].liquid);
}

} // namespace
} // namespace clearstroke
