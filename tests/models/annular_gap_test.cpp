#include "models/annular_gap.hpp"

#include "models/gas.hpp"
#include "tests/models/support.hpp"

namespace clearstroke {
namespace {

using test::close;

TEST(AnnularGap, HasItsConductance) {
    const double mu = test::reference_liquid(20.0).dynamic_viscosity;
    EXPECT_TRUE(close(1e5 * annular_gap_conductance({10e-3, 25e-6, 5e-3, 0.0}, mu), 4.235e-8));
    EXPECT_TRUE(close(1e5 * annular_gap_conductance({10e-3, 25e-6, 5e-3, 1.0}, mu), 1.0587e-7));
}

// Air past a thread under 80 kPa: as much as the liquid of a vacuum bleed.
TEST(AnnularGap, LeaksAirAsMuchAsABleedGivesLiquid) {
    const double mu = air_viscosity(293.15);
    EXPECT_TRUE(close(8e4 * annular_gap_conductance({8e-3, 10e-6, 8e-3, 0.0}, mu), 1.155e-6));
    EXPECT_TRUE(close(8e4 * annular_gap_conductance({8e-3, 25e-6, 8e-3, 0.0}, mu), 1.805e-5));
}

TEST(AnnularGap, UnrolledIsAPlaneSlot) {
    const double width = 10e-3, clearance = 50e-6, length = 10e-3, mu = 0.019319;
    const double slot = width * std::pow(clearance, 3) / (12.0 * mu * length);
    EXPECT_TRUE(close(annular_gap_conductance({width / pi, clearance, length, 0.0}, mu), slot, 1e-12));
    EXPECT_TRUE(close(1e5 * slot, 5.392e-8));
}

TEST(AnnularGapProperty, IsDimensionallyHomogeneous) {
    test::Sampler s(5u);
    for (int k = 0; k < 100; ++k) {
        const double l = s(1e-3, 1e3), t = s(1e-3, 1e3), p = s(1e-3, 1e3);
        const AnnularGap a{s(1e-3, 1e-1), s(1e-6, 1e-4), s(1e-3, 1e-1), s.uniform()};
        const AnnularGap b{a.diameter * l, a.clearance * l, a.length * l, a.eccentricity};
        const double mu = s(1e-5, 1.0);
        EXPECT_TRUE(close(annular_gap_conductance(b, mu * p * t),
                          annular_gap_conductance(a, mu) * l * l * l / (t * p), 1e-12));
    }
}

} // namespace
} // namespace clearstroke
