// Accounts of flow without a foot: gravity, waiting, pressure from either end, and lines that rise or loop.
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

// Account C38: filled from below, a line that rises all the way is clear after about its content; past a loop gas stays unless the
// flow drives it down the far leg; with the piston pressed past its port nothing moves.
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
