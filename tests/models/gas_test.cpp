#include "models/gas.hpp"

#include "tests/models/support.hpp"

namespace clearstroke {
namespace {

using test::close;

TEST(Air, HasItsDensityAndViscosity) {
    EXPECT_TRUE(close(air_density(standard_atmosphere, 293.15), 1.2041));
    EXPECT_TRUE(close(air_density(standard_atmosphere, 263.15), 1.3414));
    EXPECT_TRUE(close(air_viscosity(293.15), 1.8133e-5));
    EXPECT_TRUE(close(air_viscosity(263.15), 1.6661e-5));
    EXPECT_DOUBLE_EQ(air_viscosity(273.15), 1.716e-5);
}

TEST(Air, FreeAirAndVolumeAreInverse) {
    EXPECT_DOUBLE_EQ(gas_volume(1e-6, standard_atmosphere), 1e-6);
    EXPECT_DOUBLE_EQ(gas_volume(1e-6, 2.0 * standard_atmosphere), 0.5e-6);
    EXPECT_DOUBLE_EQ(gas_volume(1e-6, standard_atmosphere, 1.1), 1.1e-6);
    EXPECT_TRUE(close(free_air_of(gas_volume(3e-6, 7e5, 0.9), 7e5, 0.9), 3e-6, 1e-14));
}

// V/V0 from one atmosphere: exact by Boyle, power law for 1.4.
TEST(Air, IsCompressedByThePolytropicLaw) {
    struct Row {
        double p, isothermal, adiabatic;
    };
    for (const Row& r : {Row{2e5, 0.506625, 0.6153}, Row{10e5, 0.101325, 0.1949}, Row{50e5, 0.020265, 0.0617},
                         Row{100e5, 0.0101325, 0.0376}}) {
        EXPECT_TRUE(close(polytropic_volume_ratio(standard_atmosphere, r.p, 1.0), r.isothermal, 1e-12));
        EXPECT_NEAR(polytropic_volume_ratio(standard_atmosphere, r.p, air_heat_ratio), r.adiabatic, 6e-5);
    }
    // 1, 5 and 10 MPa gauge
    const double gauge[] = {1e6, 5e6, 10e6}, boyle[] = {0.0920, 0.01986, 0.01003},
                 power[] = {0.18191, 0.06086, 0.03736};
    for (int i = 0; i < 3; ++i) {
        const double p = standard_atmosphere + gauge[i];
        EXPECT_TRUE(close(polytropic_volume_ratio(standard_atmosphere, p, 1.0), boyle[i]));
        EXPECT_TRUE(close(polytropic_volume_ratio(standard_atmosphere, p, 1.4), power[i]));
    }
}

TEST(Air, HasItsThermalTimeConstants) {
    constexpr double p = standard_atmosphere;
    EXPECT_TRUE(close(thermal_time_constant_slab(1e-3, p), 4.78e-3));
    EXPECT_TRUE(close(thermal_time_constant_slab(2e-3, p), 19.1e-3, 2e-3));
    EXPECT_TRUE(close(thermal_time_constant_slab(5e-3, p), 119e-3, 5e-3));
    EXPECT_TRUE(close(thermal_time_constant_slab(10e-3, p), 478e-3));
    EXPECT_TRUE(close(thermal_time_constant_sphere(0.01e-6, p), 8.54e-3));
    EXPECT_TRUE(close(thermal_time_constant_sphere(0.1e-6, p), 39.6e-3));
    EXPECT_TRUE(close(thermal_time_constant_sphere(1e-6, p), 184e-3, 2e-3));
    EXPECT_TRUE(close(thermal_time_constant_sphere(5e-6, p), 538e-3));
    EXPECT_TRUE(close(thermal_time_constant_tube(3.3e-3, p), 22.2e-3, 2e-3));
    // the same free air at ten atmospheres: a tenth of the volume, a tenth of the diffusivity
    const double factor =
        thermal_time_constant_sphere(0.1e-6, 10.0 * p) / thermal_time_constant_sphere(1e-6, p);
    EXPECT_TRUE(close(factor, std::pow(10.0, 1.0 / 3.0), 1e-12));
}

TEST(SoftLiquid, HasTheTangentModulus) {
    struct Row {
        double p, isothermal, adiabatic;
    };
    for (const Row& r : {Row{1.01325e5, 1.008e7, 1.408e7}, Row{1e6, 6.337e8, 5.106e8},
                         Row{5e6, 1.676e9, 1.552e9}, Row{1e7, 1.767e9, 1.716e9}}) {
        EXPECT_TRUE(close(effective_bulk_modulus(r.p, 1.8e9, 0.01, 1.0), r.isothermal));
        EXPECT_TRUE(close(effective_bulk_modulus(r.p, 1.8e9, 0.01, 1.4), r.adiabatic));
    }
    EXPECT_DOUBLE_EQ(effective_bulk_modulus(3e6, 1.8e9, 0.0, 1.0), 1.8e9);
}

// K_eff = -V dp/dV of the two volumes it is made of.
TEST(SoftLiquid, IsTheDerivativeOfItsVolume) {
    constexpr double k = 1.8e9, phi = 0.02;
    const auto volume = [](double p, double n) {
        return (1.0 - phi) * std::exp(-(p - standard_atmosphere) / k) +
               phi * polytropic_volume_ratio(standard_atmosphere, p, n);
    };
    for (double p : {0.3e5, 1e5, 4e5, 3e6, 2e7}) {
        for (double n : {1.0, 1.2, 1.4}) {
            const double h = 1e-4 * p, slope = (volume(p + h, n) - volume(p - h, n)) / (2.0 * h);
            EXPECT_TRUE(close(effective_bulk_modulus(p, k, phi, n), -volume(p, n) / slope, 1e-6));
        }
    }
}

// Wood's mixture sound speed sqrt(K_eff/rho) at 1 % gas and one atmosphere; pure liquid beside it [derived].
TEST(SoftLiquid, GivesTheMixtureSoundSpeed) {
    const double mixture = 0.99 * 1060.0 + 0.01 * air_density(standard_atmosphere, 293.15);
    EXPECT_TRUE(
        close(std::sqrt(effective_bulk_modulus(standard_atmosphere, 1.8e9, 0.01, 1.0) / mixture), 97.99));
    EXPECT_TRUE(close(std::sqrt(1.8e9 / 1060.0), 1303.1));
}

} // namespace
} // namespace clearstroke
