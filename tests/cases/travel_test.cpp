// Accounts of pedal travel: slack, air, a worn cup, the fluid's own modulus.
#include <array>

#include "tests/cases/support.hpp"

namespace clearstroke::testing {
namespace {

/// Rod travel [m] at a pad force [N], from rest.
double travel(const Network& n, const Contents& c, double force, const std::vector<Act>& before = {}) {
    Job job(n, c);
    job.plan.person.stroke_share = 1.0;
    job.act(before).act({Press{{}, 1.0, force, 3.0}});
    return job.state.actuators[0].x;
}
double travel(const Network& n, double force, const std::vector<Act>& before = {}) {
    return travel(n, full(n), force, before);
}

/// Two wheels, the shoes of the second one slack by a volume [m^3].
Network slack(double volume) {
    Network n = two_wheels();
    n.volumes[2].walls.take_up_volume = volume;
    n.volumes[2].walls.take_up_from = 1.0 * bar;
    n.volumes[2].walls.take_up_to = 2.0 * bar;
    return n;
}

// Account C09: plugging a branch with slack shoes raises the pedal by the slack over the cylinder's area. Slack gives a low but firm
// pedal, air a low and soft one: the slope after contact tells them apart.
TEST(AccountC09, PluggingASlackBranchRaisesThePedalAndSlackIsFirmWhereAirIsSoft) {
    const Network tight = slack(0.0), loose = slack(1e-6);
    const double area = tight.actuators[0].pistons[0].area, force = 120.0;
    const std::vector<Act> plugged{Cap{LineId{2}}};
    const double raised = travel(loose, force) - travel(loose, force, plugged),
                 none = travel(tight, force) - travel(tight, force, plugged);
    EXPECT_NEAR((raised - none) * area, 1e-6, 0.1e-6);
    const auto softness = [&](const Network& n, double air) {
        return travel(n, air_in(n, 2, air), 240.0) - travel(n, air_in(n, 2, air), 120.0);
    };
    const double firm = softness(tight, 0.0);
    EXPECT_NEAR(softness(loose, 0.0), firm, 0.05 * firm);
    EXPECT_GT(softness(tight, 4e-6), 1.2 * firm);
}

// Account C12: travel to contact follows the slack of all wheels over the cylinder's area; a wider pipe, full, adds none.
TEST(AccountC12, TravelFollowsTheSlackAndNotTheBoreOfAFullPipe) {
    Network wide = slack(1e-6);
    for (Line& l : wide.lines) l.bore = 4.9e-3;
    const double area = wide.actuators[0].pistons[0].area, none = travel(slack(0.0), 120.0),
                 once = travel(slack(1e-6), 120.0);
    EXPECT_NEAR((once - none) * area, 1e-6, 0.1e-6);
    EXPECT_NEAR((travel(slack(2e-6), 120.0) - none) / (once - none), 2.0, 0.1);
    EXPECT_NEAR(travel(wide, 120.0), once, 0.01 * once);
}

// Account C27: a pedal lost on standing. A worn cup sinks under load and comes back with a fresh stroke; a sound one holds; air that
// has only moved from the pipe to the bore is felt as before.
TEST(AccountC27, AWornCupSinksAndComesBackAndAirThatMovesIsFeltAsBefore) {
    const auto held = [](double bypass) {
        Network n = one_wheel();
        n.actuators[0].pistons[0].bypass = bypass;
        Job job(n);
        const auto pressed = [&](double seconds) {
            return job.act({Press{{}, 1.0, 120.0, seconds}}).state.actuators[0].x;
        };
        const double first = pressed(2.0), after = pressed(60.0);
        job.act({Release{}, Wait{5.0}});
        return std::array{first, after, pressed(2.0)};
    };
    const auto worn = held(2e-13), sound = held(0.0);
    EXPECT_GT(worn[1], 1.5 * worn[0]);
    EXPECT_NEAR(worn[2], worn[0], 0.05 * worn[0]);
    EXPECT_NEAR(sound[1], sound[0], 0.01 * sound[0]);
    const Network n = one_wheel();
    Contents pipe = full(n);
    pipe.line_gas[0] = {{0.4, 0.4 + 1e-6 / (2.0 * pi * 0.25 * 3.3e-3 * 3.3e-3)}};
    const double in_pipe = travel(n, pipe, 120.0), in_bore = travel(n, air_in(n, 0, 1e-6), 120.0),
                 without = travel(n, 120.0);
    EXPECT_GT(in_pipe, 1.2 * without);
    EXPECT_LT(in_bore, in_pipe);
}

// Account C60: a fluid whose modulus is 30 % lower alters travel by little at 50 bar; a pocket of one per cent of the circuit by far
// more. Rising of dispersed bubbles is not modelled.
TEST(AccountC60, TheFluidsOwnModulusIsHardlyFelt) {
    constexpr double hard = 500.0; // about 50 bar [N]
    Network n = one_wheel(), soft = n;
    soft.conditions.fluid.bulk_modulus_20 *= 0.7;
    const double usual = travel(n, hard);
    EXPECT_NEAR(travel(soft, hard), usual, 0.05 * usual);
    EXPECT_GT(travel(n, air_in(n, 1, 0.4e-6), hard), usual + 0.4e-3);
}

} // namespace
} // namespace clearstroke::testing
