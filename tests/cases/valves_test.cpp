// Accounts of valves, linked circuits and pistons.
#include "tests/cases/support.hpp"

namespace clearstroke::testing {
namespace {

Valve of_kind(ValveKind kind) {
    Valve v;
    v.kind = kind;
    return v;
}

// Account C02: cylinder below the calipers; a residual valve keeps the line above ambient, without it the line falls below.
TEST(AccountC02, AResidualValveKeepsTheLineAboveAmbient) {
    Network n = one_wheel();
    n.volumes[1].height = n.reservoirs[0].floor_height + 0.3;
    n.lines[0].to_height = n.volumes[1].height;
    Network fitted = n;
    fitted.lines[0].valve = of_kind(ValveKind::residual);
    fitted.lines[0].valve->residual = 0.2 * bar;
    Job without(n), with(fitted);
    for (Job* job : {&without, &with}) job->act({Press{}, Release{}, Wait{30.0}});
    EXPECT_LT(without.gauge(1), 0.0);
    EXPECT_GT(with.gauge(1), 0.0);
}

// Account C52: a metering valve with a hold-off of 6 bar stops 1 bar at the reservoir unless held open; the foot passes it. A
// proportioning valve below its knee has no effect.
TEST(AccountC52, AMeteringValveBlocksTheTankNotTheFoot) {
    const auto out = [](const Network& n, const Method& method, bool held) {
        Job job(n);
        job.plan.method = method;
        if (held) job.act({HoldValve{LineId{0}, true}});
        return job.bleed(3).last.fluid_discarded;
    };
    Network metering = one_wheel(), proportioning = one_wheel();
    metering.lines[0].valve = of_kind(ValveKind::metering);
    metering.lines[0].valve->hold_off = 6.0 * bar;
    proportioning.lines[0].valve = of_kind(ValveKind::proportioning);
    proportioning.lines[0].valve->knee = 40.0 * bar;
    const Method tank = reservoir_pressure(1e5, 10.0), foot = two_people_closed_before_release();
    EXPECT_LT(out(metering, tank, false), 0.05e-6);
    EXPECT_GT(out(metering, tank, true), 20e-6);
    EXPECT_GT(out(metering, foot, false), 5e-6);
    const double plain = out(one_wheel(), foot, false);
    EXPECT_NEAR(out(proportioning, foot, false), plain, 0.05 * plain);
}

// Account C31: air in the shut part of an anti-lock unit is not felt until its valves open.
TEST(AccountC31, ShutVolumesAreFeltOnlyWhenTheirValveOpens) {
    Network n = one_wheel();
    n.junctions = {{"unit", 0.5, 0.0, 0.0}};
    n.volumes.push_back(caliper("shut part", 12e-3, 40e-3, 0.5));
    n.lines[0].to = JunctionId{0};
    n.lines.push_back(pipe("after", 1.0, 3.3e-3, JunctionId{0}, PortRef{{1}, 0}));
    n.lines.push_back(pipe("inside", 0.1, 3.3e-3, JunctionId{0}, PortRef{{2}, 0}, 2));
    n.lines[2].valve = of_kind(ValveKind::shut);
    const auto travel = [&](double air, bool cycled) {
        Job job(n, air_in(n, 2, air));
        if (cycled) job.act({HoldValve{LineId{2}, true}});
        job.act({Press{}});
        return job.state.actuators[0].x;
    };
    EXPECT_NEAR(travel(2e-6, false), travel(0.0, false), 1e-6);
    EXPECT_GT(travel(2e-6, true), travel(0.0, true) + 3e-3);
}

// Account C21: strokes of an actuator whose circuit does not meet the opened screw move nothing there.
TEST(AccountC21, AnotherCircuitsPedalMovesNothing) {
    Network n = one_wheel();
    n.volumes.push_back(chamber("other chamber", 16e-3, 40e-3, 0.75));
    Actuator other = n.actuators[0];
    other.name = "other pedal";
    other.pistons[0].chamber = {2};
    other.pistons[0].area = pi * 0.25 * 16e-3 * 16e-3;
    n.actuators.push_back(other);
    const auto out = [&](std::size_t actuator) {
        Job job(n);
        job.act({Cap{LineId{0}, false}, OpenScrew{}, Press{ActuatorId{actuator}}});
        return job.state.ledger.liquid_out;
    };
    EXPECT_GT(out(0), 3.0 * out(1));
}

// Account C51: pistons pushed home expel their volume at the reservoir; air that stands at the cylinder goes with it, air in the caliper
// stays.
TEST(AccountC51, PushingPistonsHomeExpelsWhatStandsAtTheTop) {
    Network n = one_wheel();
    n.actuators[0].pistons[0].port.radius = 1e-3;
    Actuator home;
    home.name = "piston";
    home.pistons.resize(1);
    home.pistons[0].chamber = {1};
    home.pistons[0].area = 2.29e-3;
    home.pistons[0].stroke = 6e-3;
    home.pistons[0].blind = true;
    n.actuators.push_back(home);
    const auto left = [&](std::size_t volume) {
        Job job(n, air_in(n, volume, 2e-6));
        job.plan.person.push_speed = 1e-3;
        job.plan.person.force_limit = 2000.0;
        job.act({PushHome{ActuatorId{1}}, Wait{20.0}});
        EXPECT_GT(-job.state.ledger.drawn, 8e-6);
        return job.air();
    };
    EXPECT_LT(left(0), 1.5e-6);
    EXPECT_GT(left(1), 1.9e-6);
}

} // namespace
} // namespace clearstroke::testing
