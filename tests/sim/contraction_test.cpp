// Whole bubbles carried through a stretch of line that is condensed where it is full of liquid, and through the same line cut small.
#include <gtest/gtest.h>

#include <iostream>

#include "tests/sim/small_circuits.hpp"

namespace clearstroke {
namespace {

using namespace testing;

struct Crossing {
    double half{};      ///< time until half of the gas has arrived [s]
    double delivered{}; ///< share of it that has at the end [-]
    double drawn{};     ///< liquid from the reservoir [m^3]
    double cells{};     ///< of the line, mean over the steps
};

/// Two bubbles of 0.1 mL and 0.05 mL at the near end of the only line, driven on by 0.5 bar for 6 s.
Crossing cross(bool contract, int lump_factor) {
    Network n = one_wheel();
    n.volumes[1].ports[1].place.clock = pi; // what arrives stays above the screw
    Contents c = full(n);
    const double content = n.lines[0].length * pi * 0.25 * 3.3e-3 * 3.3e-3;
    c.line_gas[0] = {{0.1, 0.1 + 0.1e-6 / content}, {0.2, 0.2 + 0.05e-6 / content}};
    Settings settings;
    settings.contract = contract;
    settings.lump_factor = lump_factor;
    Simulation sim(n, settings);
    State s = sim.start(c);
    Operator person;
    person.act_time = 0.0;
    const double gas = sim.air(s).total;
    Crossing out;
    long steps = 0;
    sim.observe([&](const State& now, Moment) {
        if (out.half == 0.0 && now.volumes[1].gas > 0.5 * gas) out.half = now.t;
        out.cells += static_cast<double>(now.lines[0].size());
        ++steps;
    });
    const auto act = [&](const Act& a) { EXPECT_TRUE(sim.act(s, a, person, ScrewId{0}).usable()); };
    act(OpenScrew{});
    act(ReservoirPressure{0.5e5});
    act(Wait{6.0});
    EXPECT_LE(sim.balance(s).gas, 1e-12);
    EXPECT_LE(sim.balance(s).liquid, 1e-12);
    out.delivered = s.volumes[1].gas / gas;
    out.drawn = s.ledger.drawn;
    out.cells /= static_cast<double>(steps);
    return out;
}

// All of the gas arrives either way, after the same fluid; when it does agrees within the 5 % by which run-ahead through cells of any size
// differs. The condensed line has as many cells however finely it is divided.
TEST(Contraction, CarriesWholeBubblesAsTheLineCutSmallDoes) {
    const Crossing usual = cross(true, 1), divided = cross(true, 8), cut_small = cross(false, 8);
    for (const Crossing& c : {usual, divided, cut_small}) {
        EXPECT_NEAR(c.delivered, 1.0, 1e-6);
        EXPECT_NEAR(c.drawn / cut_small.drawn, 1.0, 5e-4);
        EXPECT_NEAR(c.half / cut_small.half, 1.0, 0.05) << c.half << " s against " << cut_small.half;
    }
    EXPECT_LT(usual.cells, 2.0);
    EXPECT_NEAR(divided.cells, usual.cells, 0.1);
    EXPECT_EQ(cut_small.cells, 64.0);
}

// However finely the line is divided. Prints the times of docs/convergence.md, of lines cut small too, which may be late.
TEST(Contraction, ArrivesAlikeInLinesDividedCoarselyOrFinely) {
    const double coarse = cross(true, 1).half, fine = cross(true, 4).half, finer = cross(true, 16).half;
    std::cout << "half has arrived at " << coarse << ", " << fine << ", " << finer << " s condensed";
    for (const int factor : {1, 4, 8, 16})
        std::cout << ", " << cross(false, factor).half << " s in " << 8 * factor << " cells";
    std::cout << '\n';
    EXPECT_NEAR(coarse / finer, 1.0, 0.07);
    EXPECT_NEAR(fine / finer, 1.0, 0.01);
}

} // namespace
} // namespace clearstroke
