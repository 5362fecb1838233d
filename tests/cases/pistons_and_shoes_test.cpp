// Pistons that are stuck and shoes that the hand brake holds: what they leave of the pedal's travel.
#include "sim/pedal.hpp"
#include "tests/cases/support.hpp"
#include "tests/scenarios/support.hpp"

namespace clearstroke::testing {
namespace {

// Without a rate of the return springs the same foot gives the same pressure, whatever the travel.
constexpr const char* even_springs = "[master_cylinder]\nspring_rate = \"0 N/mm\"\n";

struct Pressed {
    Network net;
    PedalModel model;
    PedalState state;
    double travel{}; ///< at the pad [m]
};

/// Pressed slowly by the foot [N] from rest, full of fluid, springs without a rate.
Pressed pressed(const std::string& text, double force = 222.0) {
    const Case c = usual_case(parse(even_springs + text));
    const Simulation sim(c.network);
    Pressed out{c.network, make_pedal_model(sim, sim.start(c.contents), {0}), {}, 0.0};
    out.state = at_rest(out.model);
    out.travel = press(out.model, out.state, force).travel;
    return out;
}

/// Travel that the walls of a volume take [m].
double of_walls(const Pressed& p, const std::string& name) {
    double sum = 0.0;
    for (const TravelShare& share : split_travel(p.net, p.model, p.state))
        if (!share.of_line && p.net.volumes[share.index].name == name &&
            (share.cause == Gives::housing || share.cause == Gives::seals_and_pads ||
             share.cause == Gives::slack))
            sum += share.travel;
    return sum;
}

// (E-3) by hand: at one pressure a share s of the pistons stuck shortens the pedal by s of what the caliper took.
TEST(StuckPiston, TakesItsShareOfTheCalipersTravelAway) {
    const Pressed sound = pressed("");
    const double part = of_walls(sound, "RF caliper");
    EXPECT_GT(part, 3e-3);
    for (const double share : {0.25, 0.5, 1.0}) {
        const Pressed stuck = pressed(fmt::format("[faults.stuck]\n\"RF caliper\" = {}\n", share));
        EXPECT_NEAR(sound.travel - stuck.travel, share * part, 1e-6) << share;
        EXPECT_NEAR(of_walls(stuck, "RF caliper"), (1.0 - share) * part, 1e-6) << share;
    }
}

// The volume that seals keep when the pedal comes back: (1 - s) of it.
TEST(StuckPiston, LeavesTheRestOfTheRollBack) {
    const auto kept = [](double share) { // by the seals of RF after 20 bar, at rest [m^3]
        const Case c = usual_case(parse(fmt::format("[faults.stuck]\n\"RF caliper\" = {}\n", share)));
        const ElasticLaw walls = volume_named(c, "RF caliper").walls;
        const double felt = play_operator(20.0 * bar, walls.play, 0.0),
                     back = play_operator(0.0, walls.play, felt);
        return elastic_volume(walls, 0.0, back).volume;
    };
    const double sound = kept(0.0);
    EXPECT_GT(sound, 0.05e-6);
    EXPECT_NEAR(kept(0.5), 0.5 * sound, 1e-18);
    EXPECT_EQ(kept(1.0), 0.0);
}

// Slack of 1 mm at two pistons of 19.05 mm in two drums: 4 x 285 mm^2 x 1 mm = 1.14 mL. The hand brake takes that over the rear
// chamber's area off the rod, four times at the pad.
TEST(HandBrakeOn, ShortensThePedalByTheSlackOverTheCylindersArea) {
    const std::string drums = "[drums]\nrear = { slack = \"1 mm\" }\n[pedal]\nratio = 4\n",
                      on = "[conditions]\nhand_brake_on = [\"LR wheel cylinder\", \"RR wheel cylinder\"]\n";
    const Pressed loose = pressed(drums), held = pressed(on + drums);
    const double slack = 4.0 * 0.25 * pi * 19.05e-3 * 19.05e-3 * 1e-3;
    EXPECT_NEAR(slack, 1.140e-6, 1e-9);
    EXPECT_NEAR(loose.travel - held.travel, 4.0 * slack / loose.net.actuators[0].pistons[1].area, 1e-6);
    EXPECT_NEAR(of_walls(loose, "LR wheel cylinder") - of_walls(held, "LR wheel cylinder"),
                0.5 * (loose.travel - held.travel), 1e-6);
}

// The bleeding run says the same. A careful push, before whose cut-off the port stays below the pressure that the springs ask for, takes
// the volume of the slack less with the hand brake on, over the rear chamber's area.
TEST(HandBrakeOn, ACarefulPushOfTheRunIsShorterByTheSlack) {
    const auto rod = [](const std::string& text) { // after a press [m]
        const Case c = usual_case(parse(even_springs + text));
        Job job(c.network, c.contents);
        job.plan.person.push_speed = 0.02;
        job.act({Press{{}, 1.0, 222.0, 10.0}});
        return job.state.actuators[0].x;
    };
    const std::string drums = "[drums]\nrear = { slack = \"1 mm\" }\n",
                      on = "[conditions]\nhand_brake_on = [\"LR wheel cylinder\", \"RR wheel cylinder\"]\n";
    const double slack = 4.0 * 0.25 * pi * 19.05e-3 * 19.05e-3 * 1e-3,
                 area = usual_case(parse("")).network.actuators[0].pistons[1].area;
    EXPECT_NEAR((rod(drums) - rod(on + drums)) * area, slack, 5e-3 * slack);
}

} // namespace
} // namespace clearstroke::testing
