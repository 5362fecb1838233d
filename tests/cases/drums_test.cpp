// An account of how much fluid drums with two cylinders each take.
#include "tests/cases/support.hpp"

namespace clearstroke::testing {
namespace {

/// Four drums of two cylinders each (25.4 mm), a screw on both: the lower ones 1, 3, 5, 7, screws in the order of the cylinders.
Network eight_cylinders() {
    Network n = one_wheel();
    n.junctions = {{"cross", 0.6, 0.0, 0.0}};
    n.volumes.resize(1);
    n.lines = {pipe("feed", 0.4, 3.3e-3, PortRef{{0}, 1}, JunctionId{0}, 2)};
    n.screws.clear();
    for (std::size_t lower = 1; lower < 9; lower += 2) {
        for (const std::size_t v : {lower, lower + 1}) {
            const std::string name = "cylinder " + std::to_string(v);
            n.volumes.push_back(caliper(name, 25.4e-3, 15e-3, v == lower ? 0.25 : 0.45));
            n.screws.push_back(screw(name, {v}));
        }
        const std::string wheel = std::to_string(lower);
        n.lines.push_back(
            pipe("pipe " + wheel, lower < 5 ? 3.5 : 1.5, 3.3e-3, JunctionId{0}, PortRef{{lower}, 0}));
        n.lines.push_back(pipe("link " + wheel, 0.3, 3.3e-3, add_port(n, lower, "link", 0.0),
                               add_port(n, lower + 1, "link", half_turn), 3));
    }
    return n;
}

// Account C44: eight cylinders are said to take two quarts (1.9 L). Found: a fill from dry takes 0.44 L, 2.8 times what the parts hold,
// and a change of fluid until 98 % new fluid is seen at each screw 0.6 L.
TEST(AccountC44, EightCylindersTakeAThirdOfTwoQuartsAtMost) {
    const Network n = eight_cylinders();
    Contents dry = full(n), old = full(n);
    old.fresh_fraction = 0.0;
    double held = 0.0;
    for (std::size_t v = 1; v < 9; ++v) held += dry.volume_gas[v] = n.volumes[v].content;
    for (std::size_t l = 0; l < n.lines.size(); ++l) {
        dry.line_gas[l] = {{0.0, 1.0}};
        held += 0.25 * pi * n.lines[l].bore * n.lines[l].bore * n.lines[l].length;
    }
    const auto drawn = [&](const Contents& c, double colour) {
        Job job(n, c);
        job.plan.stop.new_colour = colour;
        for (std::size_t i = 0; i < 8; ++i)
            EXPECT_TRUE(job.sim.visit(job.state, {ScrewId{i}}, job.plan).status.usable());
        EXPECT_LT(job.air(), 0.2e-6);
        return job.state.ledger.drawn;
    };
    const double fill = drawn(dry, 0.0), change = drawn(old, 0.98);
    EXPECT_GT(fill, held);
    EXPECT_LT(fill, 3.0 * held);
    EXPECT_GT(change, fill);
    EXPECT_LT(change, 1.9e-3 / 3.0);
}

} // namespace
} // namespace clearstroke::testing
