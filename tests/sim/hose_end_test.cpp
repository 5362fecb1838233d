// The end of the clear hose: in air or under fluid, the screw left open or closed before release.
#include <gtest/gtest.h>

#include "tests/sim/small_circuits.hpp"

namespace clearstroke {
namespace {

using namespace testing;

struct Outcome {
    std::vector<StrokeRecord> strokes;
    double air{}, lowest{1e9};
};

Outcome bleed(bool submerged, const Method& method, int strokes, double air, double release_speed = 0.10) {
    Network n = one_wheel();
    n.catch_hose.submerged = submerged;
    n.catch_hose.length = 0.2; // 3.9 mL, less than a stroke
    Contents c = full(n);
    c.volume_gas[1] = air;
    Simulation sim(n);
    State s = sim.start(c);
    Procedure p;
    p.method = method;
    p.person.release_speed = release_speed;
    p.person.turns = 1.0;
    const VisitRecord v = sim.visit(s, {ScrewId{0}, strokes, {}}, p);
    EXPECT_TRUE(v.status.usable()) << v.status.detail;
    Outcome out{v.strokes, sim.air(s).total};
    for (const StrokeRecord& r : v.strokes) out.lowest = std::min(out.lowest, r.lowest_pressure);
    return out;
}

TEST(HoseEnd, SubmergedAndFullNoNetAirComesBackAndLessFluidLeaves) {
    const Outcome open = bleed(true, one_person_hose_in_bottle(), 6, 0.0);
    const Outcome closed = bleed(true, two_people_closed_before_release(), 6, 0.0);
    for (std::size_t i = 2; i < 6; ++i) { // by then the hose is full
        EXPECT_LE(open.strokes[i].air_by_circuit[0], open.strokes[i - 1].air_by_circuit[0] + 1e-12)
            << "stroke " << i + 1;
        EXPECT_LT(open.strokes[i].liquid_out, closed.strokes[i].liquid_out) << "stroke " << i + 1;
    }
}

TEST(HoseEnd, ClosedBeforeReleaseIsNeverWorseInAir) {
    for (const double air : {0.0, 0.5e-6, 3e-6}) {
        const Outcome closed = bleed(false, two_people_closed_before_release(), 6, air),
                      open = bleed(false, one_person_hose_in_bottle(), 6, air);
        EXPECT_LE(closed.air, open.air + 1e-12) << air;
    }
    EXPECT_LT(bleed(false, two_people_closed_before_release(), 6, 0.0).air, 1e-12);
}

/// What a release brings back, from the end of the push to the rest: through the screw, and past cup and port; and the least pressure.
struct Returned {
    double through_screw{}, past_cup{}, swept{}; ///< [m^3]
    double lowest{1e9};                          ///< [Pa]
};

Returned released(double speed) {
    const Network n = one_wheel();
    Simulation sim(n);
    State s = sim.start(full(n));
    const Operator person;
    const auto act = [&](const Act& a) { EXPECT_TRUE(sim.act(s, a, person, ScrewId{0}).usable()); };
    const auto beyond = [&] {
        double liquid = s.ledger.liquid_out;
        for (const Cell& cell : s.hose->cells) liquid += cell.liquid;
        return liquid;
    };
    act(FillHose{});
    act(OpenScrew{ScrewId{0}, 1.0});
    act(Press{});
    const double drawn = s.ledger.drawn, out = beyond();
    Returned r;
    r.swept = s.actuators[0].x * n.actuators[0].pistons[0].area;
    sim.observe([&](const State& now, Moment) {
        for (const VolumeState& v : now.volumes) r.lowest = std::min(r.lowest, v.pressure);
    });
    act(Release{{}, speed, 0.0});
    r.through_screw = out - beyond();
    r.past_cup = s.ledger.drawn - drawn;
    return r;
}

// Both ways fill what the piston leaves behind; the faster it goes back, the lower the pressure, the more comes through the screw and the
// less past the cup.
TEST(HoseEnd, FasterReleaseDrawsMoreBackThroughTheScrewAndLessPastTheCup) {
    Returned slower = released(0.03);
    EXPECT_GT(slower.through_screw, 0.0);
    for (const double speed : {0.1, 0.2}) {
        const Returned faster = released(speed);
        EXPECT_LT(faster.lowest, slower.lowest) << speed;
        EXPECT_GT(faster.through_screw, 1.3 * slower.through_screw) << speed;
        EXPECT_LT(faster.past_cup, 0.97 * slower.past_cup) << speed;
        EXPECT_NEAR(faster.through_screw + faster.past_cup, faster.swept, 0.01 * faster.swept) << speed;
        slower = faster;
    }
}

TEST(HoseEnd, FasterReleaseMeansLowerPressure) {
    double last = 0.0;
    for (const double speed : {0.4, 0.1, 0.03}) {
        const double lowest = bleed(true, one_person_hose_in_bottle(), 3, 0.0, speed).lowest;
        EXPECT_GT(lowest, last) << "release at " << speed << " m/s";
        last = lowest;
    }
    EXPECT_LT(last, standard_atmosphere);
}

} // namespace
} // namespace clearstroke
