#pragma once
/// Reported accounts as scenarios on one wheel: what every test of this folder does. Numbers are those of docs/accounts.md.
#include <gtest/gtest.h>

#include "tests/sim/small_circuits.hpp"

namespace clearstroke::testing {

constexpr double bar = 1e5, ambient = 101325.0, half_turn = pi;

/// A run on a circuit; every act and visit must end well and conserve both phases.
class Job {
public:
    explicit Job(const Network& n) : Job(n, full(n)) {}
    Job(const Network& n, const Contents& c) : sim(n), state(sim.start(c)) {
        plan.method = two_people_closed_before_release();
    }

    Job& act(const std::vector<Act>& acts) {
        for (const Act& a : acts) {
            EXPECT_TRUE(sim.act(state, a, plan.person, ScrewId{0}).usable());
        }
        return checked();
    }
    Job& bleed(int strokes, std::size_t screw = 0) {
        last = sim.visit(state, {ScrewId{screw}, strokes}, plan);
        EXPECT_TRUE(last.status.usable()) << last.status.detail;
        return checked();
    }
    [[nodiscard]] double air() const { return sim.air(state).total; }
    [[nodiscard]] double air_of(std::size_t volume) const { return state.volumes[volume].gas; }
    [[nodiscard]] double gauge(std::size_t volume) const { return state.volumes[volume].pressure - ambient; }

    Simulation sim;
    State state;
    Procedure plan;
    VisitRecord last;

private:
    Job& checked() {
        EXPECT_LE(sim.balance(state).liquid, 1e-12);
        EXPECT_LE(sim.balance(state).gas, 1e-12);
        return *this;
    }
};

inline Contents air_in(const Network& n, std::size_t volume, double gas) {
    Contents c = full(n);
    c.volume_gas[volume] = gas;
    return c;
}

/// Strokes of the stop rule at the screws in an order, and what they sent out.
struct Effort {
    int strokes{};
    double fluid{}; ///< [m^3]
};

/// The air left at the end must be little.
inline Effort bleed_in_order(const Network& n, const Contents& c, const std::vector<std::size_t>& order) {
    Job job(n, c);
    Effort sum;
    for (const std::size_t screw : order) {
        job.last = job.sim.visit(job.state, {ScrewId{screw}}, job.plan);
        EXPECT_TRUE(job.last.status.usable());
        sum.strokes += static_cast<int>(job.last.strokes.size());
        sum.fluid += job.last.fluid_discarded;
    }
    EXPECT_LT(job.air(), 0.2e-6);
    return sum;
}

inline PortRef add_port(Network& n, std::size_t volume, const std::string& name, double clock) {
    n.volumes[volume].ports.push_back({name, {clock, 0.5, 0.95}, 3e-3});
    return {{volume}, n.volumes[volume].ports.size() - 1};
}

/// A part's own piston (54 mm) that is moved by hand: pushed home, or a slave worked from its fork.
inline Actuator blind_piston(std::size_t chamber, double stroke) {
    Actuator a;
    a.name = "blind piston";
    a.pistons.resize(1);
    a.pistons[0].chamber = {chamber};
    a.pistons[0].area = 2.29e-3;
    a.pistons[0].stroke = stroke;
    a.pistons[0].blind = true;
    return a;
}

/// Two wheels behind a tee, the second one with its own line.
inline Network two_wheels() {
    Network n = one_wheel();
    n.junctions = {{"tee", 0.5, 0.0, 0.0}};
    n.lines = {pipe("feed", 1.0, 3.3e-3, PortRef{{0}, 1}, JunctionId{0}),
               pipe("first", 1.0, 3.3e-3, JunctionId{0}, PortRef{{1}, 0}),
               pipe("second", 1.0, 3.3e-3, JunctionId{0}, PortRef{{2}, 0})};
    n.volumes.push_back(caliper("second caliper", 54e-3, 10e-3, 0.30));
    n.screws = {screw("first", {1}), screw("second", {2})};
    return n;
}

/// One wheel with a port that passes gas and a pipe of this bore.
inline Network with_bore(double bore) {
    Network n = one_wheel();
    n.actuators[0].pistons[0].port = {2e-3, 1e-3, 0.62};
    n.lines[0].bore = bore;
    n.lines[0].from_height = 0.75;
    n.lines[0].to_height = 0.30;
    return n;
}

inline Contents gas_in_line(const Network& n, double begin, double end) {
    Contents c = full(n);
    c.line_gas[0] = {{begin, end}};
    return c;
}

} // namespace clearstroke::testing
