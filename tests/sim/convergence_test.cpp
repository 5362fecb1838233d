// Fixed strokes under finer steps and finer lines: how far results move.
#include <gtest/gtest.h>

#include "tests/sim/small_circuits.hpp"

namespace clearstroke {
namespace {

using namespace testing;

struct Delivered {
    double liquid{}, gas{};
};

Delivered deliver(double tolerance, int lump_factor, const std::vector<Line>& lines = {}) {
    Network n = one_wheel();
    if (!lines.empty()) {
        n.lines = lines;
        n.junctions = {{"union", 0.5 * (0.75 + 0.30), 0.0, 0.0}};
    }
    Contents c = full(n);
    c.volume_gas[1] = 3e-6;
    if (lines.empty())
        c.line_gas[0] = {{0.4, 0.6}};
    else
        c.line_gas = {{{0.8, 1.0}}, {{0.0, 0.2}}};
    Settings settings;
    settings.tolerance = tolerance;
    settings.lump_factor = lump_factor;
    Simulation sim(n, settings);
    State s = sim.start(c);
    Procedure p;
    p.method = two_people_closed_before_release();
    const VisitRecord v = sim.visit(s, {ScrewId{0}, 4, {}}, p);
    EXPECT_TRUE(v.status.usable());
    Delivered out;
    for (const StrokeRecord& r : v.strokes) {
        out.liquid += r.liquid_out;
        out.gas += r.gas_out;
    }
    return out;
}

TEST(Convergence, FinerStepsMoveLittle) {
    const Delivered usual = deliver(1e-2, 1), fine = deliver(1e-3, 1), finest = deliver(1e-4, 1);
    EXPECT_NEAR(usual.liquid / finest.liquid, 1.0, 1e-3);
    EXPECT_NEAR(usual.gas / finest.gas, 1.0, 1e-2);
    EXPECT_NEAR(fine.liquid / finest.liquid, 1.0, 3e-4);
    EXPECT_NEAR(fine.gas / finest.gas, 1.0, 3e-3);
}

TEST(Convergence, FinerLumpsMoveLittle) {
    const Delivered usual = deliver(1e-3, 1), twice = deliver(1e-3, 2);
    EXPECT_NEAR(usual.liquid / twice.liquid, 1.0, 1e-3);
    EXPECT_NEAR(usual.gas / twice.gas, 1.0, 1e-2);
}

// One line, or the same line as two halves joined by a union.
TEST(Convergence, ALineMayBeSplitInTwo) {
    const std::vector<Line> halves{pipe("first", 1.0, 3.3e-3, PortRef{{0}, 1}, JunctionId{0}, 4),
                                   pipe("second", 1.0, 3.3e-3, JunctionId{0}, PortRef{{1}, 0}, 4)};
    const Delivered whole = deliver(1e-3, 1), split = deliver(1e-3, 1, halves);
    EXPECT_NEAR(split.liquid / whole.liquid, 1.0, 1e-3);
    EXPECT_NEAR(split.gas / whole.gas, 1.0, 1e-2);
}

} // namespace
} // namespace clearstroke
