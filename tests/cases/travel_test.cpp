// Accounts of pedal travel: slack, air, a worn cup, the fluid's own modulus.
#include <array>

#include "tests/cases/support.hpp"

namespace clearstroke::testing {
namespace {

constexpr double quick = 0.06, careful = 0.02; // at the pad [m/s]

/// Pressed from rest at a pad force [N]: rod travel, and what of the stroke went back to the reservoir before the port was shut.
struct Pressed {
    double travel{}; ///< [m]
    double back{};   ///< [m^3]
};
Pressed pressed(const Network& n, const Contents& c, double force, double speed,
                const std::vector<Act>& before = {}) {
    Job job(n, c);
    job.plan.person.push_speed = speed;
    job.act(before).act({Press{{}, 1.0, force, 3.0}});
    return {job.state.actuators[0].x, -job.state.ledger.drawn};
}
double travel(const Network& n, const Contents& c, double force) {
    return pressed(n, c, force, quick).travel;
}
double travel(const Network& n, double force) { return travel(n, full(n), force); }

/// Two wheels, the shoes of the second one slack by a volume [m^3].
Network slack(double volume) {
    Network n = two_wheels();
    n.volumes[2].walls.take_up_volume = volume;
    n.volumes[2].walls.take_up_from = 1.0 * bar;
    n.volumes[2].walls.take_up_to = 2.0 * bar;
    return n;
}

/// What a stroke gives the lines more in `n` with `c` than in `other` with `d` [m^3]: travel, and what did not go back.
struct More {
    double by_travel{}, in_lines{};
};
More more(const Network& n, const Contents& c, const Network& other, const Contents& d, double force,
          double speed) {
    const Pressed a = pressed(n, c, force, speed), b = pressed(other, d, force, speed);
    const double travelled = (a.travel - b.travel) * n.actuators[0].pistons[0].area;
    return {travelled, travelled - (a.back - b.back)};
}

// Account C09: plugging a branch with slack shoes raises the pedal by the slack over the cylinder's area. Slack gives a low but firm
// pedal, air a low and soft one: the slope after contact tells them apart.
TEST(AccountC09, PluggingASlackBranchRaisesThePedalAndSlackIsFirmWhereAirIsSoft) {
    const Network tight = slack(0.0), loose = slack(1e-6);
    const double area = tight.actuators[0].pistons[0].area, force = 120.0;
    const std::vector<Act> plugged{Cap{LineId{2}}};
    const auto raised = [&](const Network& n, double speed) {
        return pressed(n, full(n), force, speed).travel - pressed(n, full(n), force, speed, plugged).travel;
    };
    const auto by_slack = [&](double speed) { return (raised(loose, speed) - raised(tight, speed)) * area; };
    EXPECT_NEAR(by_slack(careful), 0.9965e-6, 0.001e-6); // C12 says why not 1 mL,
    EXPECT_LT(by_slack(quick), 0.92e-6);                 // and why less still
    const auto softness = [&](const Network& n, double air) {
        return travel(n, air_in(n, 2, air), 240.0) - travel(n, air_in(n, 2, air), 120.0);
    };
    const double firm = softness(tight, 0.0);
    EXPECT_NEAR(softness(loose, 0.0), firm, 0.05 * firm);
    EXPECT_GT(softness(tight, 4e-6), 1.2 * firm);
}

// Account C12: travel to contact follows the slack of all wheels over the cylinder's area; a wider pipe, full, adds none. By hand the
// slack takes 1 mL, less what walls and fluid give back since the return spring takes 1500 N/m x 2.6 mm more of the same force: 0.1 bar
// of 0.035 mL/bar, 3.5 uL. A quick stroke (5.8 mL/s through a hole of 0.7 mm: 3 bar) presses the shoes out before its port is shut, with
// fluid that otherwise goes back to the reservoir: its travel is shorter by that. A careful one (0.3 bar, the springs ask for 1) is not.
TEST(AccountC12, TravelFollowsTheSlackAndNotTheBoreOfAFullPipe) {
    const Network tight = slack(0.0);
    const double area = tight.actuators[0].pistons[0].area;
    const auto of_slack = [&](double volume, double speed) {
        const Network loose = slack(volume);
        return more(loose, full(loose), tight, full(tight), 120.0, speed);
    };
    for (const double volume : {1e-6, 2e-6}) {
        const double by_hand = volume * (1.0 - 3.5e-3);
        for (const double speed : {quick, careful})
            EXPECT_NEAR(of_slack(volume, speed).in_lines, by_hand, 1e-3 * volume) << speed;
        EXPECT_NEAR(of_slack(volume, careful).by_travel, by_hand, 1e-3 * volume);
        EXPECT_LT(of_slack(volume, quick).by_travel, by_hand - 0.08e-6);
    }
    Network wide = slack(1e-6);
    for (Line& l : wide.lines) l.bore = 4.9e-3;
    const double once = travel(slack(1e-6), 120.0);
    EXPECT_NEAR(travel(wide, 120.0), once, 0.01 * once);
    EXPECT_NEAR(pressed(tight, full(tight), 120.0, careful).back,
                tight.actuators[0].pistons[0].cut_off * area,
                0.04 * tight.actuators[0].pistons[0].cut_off * area);
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

/// After a press and 20 min of rest, two quick presses in a row: what each gives the lines (as in More) and how far the rod went; and how
/// long the rest took to draw 0.6 mL back out of the caliper.
struct AfterRest {
    std::array<double, 2> rod{}, in_lines{};
    double time{};
};
AfterRest after_rest(double caliper_height, double grip, bool residual_valve) {
    Network n = one_wheel();
    n.volumes[1].height = caliper_height;
    n.volumes[1].walls.take_up_volume = 1e-6;
    n.volumes[1].walls.take_up_from = -grip - 1e3;
    n.volumes[1].walls.take_up_to = -grip;
    if (residual_valve) {
        n.lines[0].valve.emplace().kind = ValveKind::residual;
        n.lines[0].valve->residual = 0.2 * bar;
    }
    Job job(n);
    job.act({Press{{}, 1.0, 120.0, 2.0}, Release{{}, 0.4, 0.0}});
    const double begin = job.state.t, out = job.state.volumes[1].liquid;
    while (job.state.volumes[1].liquid > out - 0.6e-6 && job.state.t < begin + 1200.0) job.act({Wait{1.0}});
    AfterRest r;
    r.time = job.state.t - begin;
    job.act({Wait{1200.0}});
    for (std::size_t i = 0; i < 2; ++i) {
        const double drawn = job.state.ledger.drawn;
        r.rod[i] = job.act({Press{{}, 1.0, 120.0, 2.0}}).state.actuators[0].x;
        r.in_lines[i] = r.rod[i] * n.actuators[0].pistons[0].area + job.state.ledger.drawn - drawn;
        job.act({Release{{}, 0.4, 0.3}});
    }
    return r;
}

// The same account: calipers above their reservoir stand below ambient pressure. Pistons whose seals do not hold them are drawn back by
// it, the next stroke takes them up again, and one at once after it is firmer. Found: it takes the head some seconds, not 20 min; and a
// head of 0.6 m is 14 N on a piston of 54 mm: seals that hold with more keep it where it is. A residual valve of 0.2 bar prevents it.
TEST(AccountC27, ALowCylinderDrawsLoosePistonsBackAndAQuickSecondStrokeFindsThemOut) {
    constexpr double high = 1.45, loose = 2e3,
                     held = 30e3; // 0.6 m above the reservoir's surface [m]; grip [Pa]
    const AfterRest drawn = after_rest(high, loose, false), gripped = after_rest(high, held, false);
    EXPECT_NEAR(drawn.in_lines[0] - gripped.in_lines[0], 1e-6, 0.02e-6);
    EXPECT_GT(drawn.rod[0], 2.0 * gripped.rod[0]);
    EXPECT_LT(drawn.rod[1], 1.3 * gripped.rod[1]);
    EXPECT_LT(drawn.time, 30.0);
    for (const AfterRest& sound : {gripped, after_rest(0.3, loose, false), after_rest(high, loose, true)})
        EXPECT_NEAR(sound.rod[0], sound.rod[1], 0.05 * sound.rod[1]);
}

// Account C60: a fluid whose modulus is 30 % lower alters travel by little at 50 bar; a pocket of one per cent of the circuit by far
// more: by Boyle's law what is left of 0.4 mL at ambient pressure is 0.4 mL x p_0/p. As with slack (C12), a quick stroke presses
// that together before its port is shut, and travel falls short of it by what did not go back; a careful one with a wide port only by what
// the reservoir's head presses together at rest.
TEST(AccountC60, TheFluidsOwnModulusIsHardlyFelt) {
    constexpr double hard = 500.0; // about 50 bar [N]
    const Network n = one_wheel();
    Network soft = n;
    soft.conditions.fluid.bulk_modulus_20 *= 0.7;
    const double usual = travel(n, hard);
    EXPECT_NEAR(travel(soft, hard), usual, 0.05 * usual);
    const double boyle = 0.4e-6 * (1.0 - ambient / (ambient + 49.2 * bar));
    const More pocket = more(n, air_in(n, 1, 0.4e-6), n, full(n), hard, quick);
    EXPECT_NEAR(pocket.in_lines, boyle, 0.005 * boyle);
    EXPECT_NEAR(pocket.by_travel, 0.57 * boyle, 0.02 * boyle); // as found, not by hand
    Network open_wide = n;
    open_wide.actuators[0].pistons[0].port.radius = 1e-3;
    const More careful_one = more(open_wide, air_in(n, 1, 0.4e-6), open_wide, full(n), hard, careful);
    EXPECT_NEAR(careful_one.in_lines, boyle, 0.005 * boyle);
    const double head = 5.8e3, settled = 0.4e-6 * (1.0 - ambient / (ambient + head)); // 0.555 m of fluid
    EXPECT_NEAR(careful_one.by_travel, boyle - settled, 0.01 * boyle);
}

} // namespace
} // namespace clearstroke::testing
