// Pressure of a volume from what it holds: inverse, slopes, gas laws, void.
#include "models/closure.hpp"

#include "models/gas.hpp"
#include "tests/models/support.hpp"

namespace clearstroke {
namespace {

using test::close;

constexpr double content = 15e-6;
const ElasticLaw soft_walls{2e-13, 0.3e-6, 8e5, 0.0, 0.5e-6, 1e5, 3e5};

Medium medium() { return medium_of(test::reference_liquid(20.0), standard_atmosphere); }

Pressure solved(double liquid, double gas, double guess = 1e5, double theta = 0.0,
                const ElasticLaw& walls = soft_walls) {
    return pressure_of({liquid, gas, theta}, content, walls, 0.0, medium(), guess);
}

TEST(Closure, SlopesAgreeWithFiniteDifferences) {
    for (const double p : {5e4, 1.7e5, 2.4e5, 2e6})
        for (const double theta : {0.0, 1.1})
            for (const double gas : {1e-8, 2e-6}) {
                const double gas_there = gas_volume_at(gas, theta, p);
                const double liquid =
                    liquid_to_fill(free_air_of(gas_there, p), content, soft_walls, 0.0, medium(), p);
                const double h = 1e-4 * gas;
                const Pressure at = solved(liquid, gas, p, theta);
                const double by_liquid =
                    (solved(liquid + h, gas, p, theta).p - solved(liquid - h, gas, p, theta).p) / (2.0 * h);
                const double by_gas =
                    (solved(liquid, gas + h, p, theta).p - solved(liquid, gas - h, p, theta).p) / (2.0 * h);
                EXPECT_TRUE(close(at.p, p, 1e-8)) << p;
                EXPECT_TRUE(close(at.per_liquid, by_liquid, 1e-3))
                    << p << " Pa, gas " << gas << ", theta " << theta;
                EXPECT_TRUE(close(at.per_gas, by_gas, 1e-3))
                    << p << " Pa, gas " << gas << ", theta " << theta;
                EXPECT_TRUE(close(at.gas_volume, gas_there, 1e-8));
            }
}

// Boyle: 1 mL of free air at 2, 10, 50 and 100 bar absolute (exact: 1.01325 bar mL over p).
TEST(Closure, FollowsBoyle) {
    const std::array<std::array<double, 2>, 4> rows{
        {{2e5, 0.506625e-6}, {10e5, 0.101325e-6}, {50e5, 0.020265e-6}, {100e5, 0.0101325e-6}}};
    for (const auto& [p, volume] : rows) {
        EXPECT_TRUE(close(gas_volume_at(1e-6, 0.0, p), volume, 1e-12));
        const Pressure at =
            pressure_of({0.0, 1e-6, 0.0}, volume, ElasticLaw{}, 0.0, medium(), 1e5); // gas alone, rigid walls
        EXPECT_TRUE(close(at.p, p, 1e-9));
    }
}

// Adiabatic: p V^1.4 = constant; a tenfold compression gives 10^1.4 = 25.1189 atmospheres.
TEST(Closure, KeptThetaIsTheAdiabat) {
    const Pressure at = pressure_of({0.0, 1e-6, 1.0}, 1e-7, ElasticLaw{}, 0.0, medium(), 1e5);
    EXPECT_TRUE(close(at.p, 101325.0 * 25.11886, 1e-6));
    EXPECT_TRUE(
        close(gas_volume_at(1e-6, 1.0, 10e5), 1e-6 * polytropic_volume_ratio(101325.0, 10e5, 1.4), 1e-12));
}

// Liquid alone in rigid walls: dV/V = e/K to first order; 1e-5 too much liquid gives 1e-5 K.
TEST(Closure, LiquidAloneHasItsBulkModulus) {
    const Medium m = medium();
    const Pressure at = pressure_of({content * (1.0 + 1e-5), 0.0, 0.0}, content, ElasticLaw{}, 0.0, m, 1e5);
    EXPECT_TRUE(close(at.p - m.ambient, 1e-5 * m.bulk_modulus, 2e-4));
    EXPECT_TRUE(close(1.0 / at.softness, m.bulk_modulus / content, 1e-3));
}

// Liquid alone in walls of constant compliance: (C-1) holds where the root stands, and slopes are those of the root.
TEST(Closure, LiquidAloneInSoftWallsFillsThem) {
    const Medium m = medium();
    const double k = m.bulk_modulus;
    for (const double c : {1e-14, 2e-13, 5e-12})
        for (const double gauge : {-0.9e5, 1e5, 1e7, 1.5e8}) {
            const ElasticLaw walls{c};
            const double liquid = (content + c * gauge) / (1.0 - gauge / (k + m.stiffening * gauge)),
                         h = 1e-4 * (liquid - content);
            const auto at = [&](double l) { return pressure_of({l, 0.0, 0.0}, content, walls, 0.0, m, 1e5); };
            const Pressure p = at(liquid);
            EXPECT_TRUE(close(p.p - m.ambient, gauge, 1e-8)) << c << ", " << gauge;
            EXPECT_TRUE(close(p.per_liquid, (at(liquid + h).p - at(liquid - h).p) / (2.0 * h), 1e-6))
                << c << ", " << gauge;
            EXPECT_TRUE(close(p.per_gas * p.p,
                              p.per_liquid * standard_atmosphere / (1.0 - gauge / (k + m.stiffening * gauge)),
                              1e-12));
        }
}

TEST(Closure, OpensAVoidInsteadOfTension) {
    const Medium m = medium();
    const double missing = 0.2e-6;
    const Pressure at = pressure_of({content - missing, 0.0, 0.0}, content, ElasticLaw{}, 0.0, m, 1e5);
    EXPECT_TRUE(at.void_open);
    EXPECT_LE(at.p, m.vapour_pressure);
    EXPECT_GE(at.p, m.vapour_pressure - 1.0); // 1 Pa per mL
    EXPECT_GT(at.per_liquid, 0.0);
    EXPECT_FALSE(solved(content, 0.0).void_open);
}

TEST(Closure, GasKeepsTheVoidShut) {
    const Pressure at = pressure_of({content - 1e-6, 1e-6, 0.0}, content, ElasticLaw{}, 0.0, medium(), 1e3);
    EXPECT_FALSE(at.void_open);
    EXPECT_TRUE(close(at.p, standard_atmosphere, 1e-3));
}

} // namespace
} // namespace clearstroke
