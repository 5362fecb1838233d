// Accounts of flow without a foot: gravity, waiting, pressure from either end, and lines that rise or loop.
#include "models/long_bubble.hpp"
#include "tests/cases/support.hpp"

namespace clearstroke::testing {
namespace {

// Account C28: with one screw open and the reservoir above it gravity clears the caliper in about the time that its content and the
// line's take to pass; half the head takes twice as long.
TEST(AccountC28, GravityTakesTheTimeThatLineAndCaliperTakeToPass) {
    const auto seconds = [](double lift) {
        Network n = with_bore(3.3e-3);
        n.reservoirs[0].floor_height += lift;
        Job job(n, air_in(n, 1, 4e-6));
        job.act({OpenScrew{ScrewId{0}, 1.0}});
        const double begin = job.state.t;
        while (job.air_of(1) > 0.04e-6 && job.state.t < begin + 900.0) job.act({Wait{2.0}});
        const double flow = job.state.ledger.drawn / (job.state.t - begin);
        EXPECT_LT((job.state.t - begin) * flow, 2.0 * (17e-6 + 22.9e-6));
        return job.state.t - begin;
    };
    const double low = seconds(0.0), high = seconds(0.5);
    EXPECT_LT(low, 600.0);
    EXPECT_GT(low, 1.5 * high);
}

// Account C38: filled from below, a line that rises all the way is clear after about its content; with the piston pressed past its port
// nothing moves.
TEST(AccountC38, FillingFromBelowClearsARisingLineAndNeedsAnOpenPort) {
    const auto after_a_line = [](Network n, double begin, double end, bool pressed) {
        n.lines[0].bore = 4.9e-3;
        n.reservoirs[0].initial = 100e-6;
        Job job(n, gas_in_line(n, begin, end));
        const double before = job.air();
        if (pressed) job.act({Press{{}, 0.3, {}, 0.0}});
        job.act({FillHose{}, HosePressure{0.2e5}, OpenScrew{}});
        const double start = job.state.ledger.drawn;
        for (int i = 0; i < 60 && start - job.state.ledger.drawn < 1.3 * 38e-6; ++i) job.act({Wait{1.0}});
        return std::pair{job.air() / before, start - job.state.ledger.drawn};
    };
    const auto rising = after_a_line(with_bore(4.9e-3), 0.3, 0.6, false),
               pressed = after_a_line(with_bore(4.9e-3), 0.3, 0.6, true);
    EXPECT_LT(rising.first, 0.1);
    EXPECT_GT(pressed.first, 0.95);
    EXPECT_LT(pressed.second, 1e-6);
}

// The same account: past a crest gas stays at it unless the flow down the far leg outruns its rise. In 8 mm at 0.6 times the rise speed
// all of it stays while 1.3 contents of the pipe pass, at 1.06 times none; without a crest none stays, nor in 3.3 mm, where nothing rises.
TEST(AccountC38, GasStaysAtACrestWhereTheFlowDownTheFarLegIsSlowerThanItsRise) {
    constexpr double gas = 0.3e-6;
    const auto filled = [](double bore, double turns, bool crest) {
        Network n = with_bore(bore);
        n.lines[0].lumps = 40;
        n.reservoirs[0].capacity = 2e-3;
        n.reservoirs[0].initial = 100e-6;
        n.reservoirs[0].area = 2e-2;
        if (crest) n.lines[0].heights = {{0.5, 1.0}};
        const double section = 0.25 * pi * bore * bore, content = section * n.lines[0].length;
        Job job(n, gas_in_line(n, 0.5, 0.5 + gas / content));
        job.plan.person.act_time = 0.0;
        job.act({FillHose{}, HosePressure{0.2e5}, OpenScrew{{}, turns}});
        const double start = job.state.ledger.drawn, begin = job.state.t;
        while (start - job.state.ledger.drawn < 1.3 * content && job.state.t < begin + 400.0)
            job.act({Wait{0.5}});
        const double speed = (start - job.state.ledger.drawn) / section / (job.state.t - begin);
        return std::pair{job.air() / gas, speed};
    };
    const double rise = bubble_rise_speed(8e-3, liquid_at(*find_fluid("DOT 4"), 293.15), 1.2);
    for (const double turns : {0.06, 0.1}) {
        const auto [left, speed] = filled(8e-3, turns, true);
        EXPECT_LT(speed, 0.7 * rise) << turns;
        EXPECT_GT(left, 0.99) << turns;
        EXPECT_LT(filled(8e-3, turns, false).first, 0.01) << turns;
        EXPECT_LT(filled(3.3e-3, turns, true).first, 0.01) << turns;
    }
    const auto [left, speed] = filled(8e-3, 0.2, true);
    EXPECT_GT(speed, rise);
    EXPECT_LT(left, 0.01);
}

// Account C41: pushed slowly through a wide line, gas leaves when the line rises to the screw and stays when it falls to it.
TEST(AccountC41, AnActuatorBelowTheBrakesClearsWithASlowFlowOneAboveDoesNot) {
    const auto left = [](double caliper_height) {
        Network n = with_bore(8e-3);
        n.volumes[1].height = n.lines[0].to_height = caliper_height;
        n.volumes[1].ports[0].place.clock = 0.0;
        Job job(n, gas_in_line(n, 0.3, 0.35));
        const double before = job.air();
        job.act({ReservoirPressure{0.4e5}, OpenScrew{ScrewId{0}, 0.06}});
        const double start = job.state.ledger.drawn;
        for (int i = 0; i < 200 && job.state.ledger.drawn - start < 124e-6; ++i) job.act({Wait{2.0}});
        return job.air() / before;
    };
    EXPECT_LT(left(1.6), 0.1);
    EXPECT_GT(left(0.30), 0.8);
}

// The same account: pistons set against their discs beforehand leave less to fill: from dry that saves two of seven strokes, and fluid of
// about what the caliper holds less (a stroke is half of that). Of a full one nothing.
TEST(AccountC41, PistonsSetOutBeforehandSaveStrokesAndFluidFromDry) {
    const auto bled = [](double gap, bool dry) {
        Network n = one_wheel();
        n.volumes[1] = caliper("caliper", 54e-3, gap, 0.30);
        Contents c = full(n);
        if (dry) {
            c.volume_gas[1] = n.volumes[1].content;
            c.line_gas[0] = {{0.0, 1.0}};
        }
        Job job(n, c);
        const auto strokes =
            static_cast<int>(job.sim.visit(job.state, {ScrewId{0}}, job.plan).strokes.size());
        return std::pair{strokes, job.state.ledger.drawn};
    };
    const auto [strokes, drawn] = bled(10e-3, true);
    const auto [fewer, less] = bled(1e-3, true);
    EXPECT_LT(fewer, strokes);
    const double held_less = one_wheel().volumes[1].content * 0.9;
    EXPECT_NEAR(drawn - less, held_less, 0.5 * held_less);
    EXPECT_EQ(bled(10e-3, false).first, bled(1e-3, false).first);
}

// Account C50: more air is said to be left in a long near-level hose with a high point than in a short steep one. Found: in a hose of 2.5
// mm the syringe carries the gas over the high point as it does in the short one; nothing is left in either.
TEST(AccountC50, InAThinHoseTheSyringeCarriesGasOverTheHighPoint) {
    const auto left = [](double length, std::vector<HeightPoint> heights) {
        Network n = with_bore(2.5e-3);
        n.lines[0].length = length;
        n.lines[0].heights = std::move(heights);
        const double gas = 0.4e-6 / (length * pi * 0.25 * 2.5e-3 * 2.5e-3);
        Job job(n, gas_in_line(n, 0.4, 0.4 + gas));
        job.act({FillHose{}, HosePressure{1e5}, OpenScrew{}});
        const double start = job.state.ledger.drawn;
        for (int i = 0; i < 100 && start - job.state.ledger.drawn < 5e-6; ++i) job.act({Wait{0.2}});
        return job.air() / 0.4e-6;
    };
    EXPECT_LT(left(1.7, {{0.5, 0.8}}), 0.05);
    EXPECT_LT(left(0.8, {}), 0.05);
}

} // namespace
} // namespace clearstroke::testing
