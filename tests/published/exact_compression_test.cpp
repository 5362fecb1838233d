// Gas, liquid and walls under pressure against roots and derivatives found numerically.
#include "models/closure.hpp"
#include "models/constants.hpp"
#include "models/gas.hpp"
#include "models/tube_flow.hpp"
#include "tests/book/check.hpp"
#include "tests/published/numerical.hpp"

namespace clearstroke {

using namespace book;

const Medium stiff{standard_atmosphere, 1e18, 0.0, 50.0}; // liquid without compression

TEST(Compression, ExactGasLaws) {
    for (const double gauge : {1e6, 5e6, 10e6}) {
        const double p = standard_atmosphere + gauge, ratio = standard_atmosphere / p;
        const std::string at = " at " + number_text(gauge * 1e-6) + " MPa gauge";
        // 1 mL of air over 1 mL of liquid in a rigid 2 mL; liquid pushed in until the gas is at that volume.
        const Filling isothermal{2e-6 - 1e-6 * ratio, 1e-6, 0.0};
        check({"pressure over 1 mL of air squeezed to its isothermal volume" + at, "", "p V constant",
               Grade::exact, "Pa", p, pressure_of(isothermal, 2e-6, {}, 0.0, stiff, 1e5).p, 1e-6 * p,
               "root"});
        const double shrunk = std::pow(ratio, 1.0 / 1.4);
        const Filling adiabatic{2e-6 - 1e-6 * shrunk, 1e-6, 1.0};
        check({"pressure over 1 mL of air squeezed to its adiabatic volume" + at, "", "p V^1.4 constant",
               Grade::exact, "Pa", p, pressure_of(adiabatic, 2e-6, {}, 0.0, stiff, 1e5).p, 1e-6 * p, "root"});
    }
}

// 1 mL of liquid pressed into a full caliper with a pocket and soft walls: contents and capacity agree.
TEST(Compression, ExactClosedVolume) {
    const double capacity = 20e-6, gas = 0.5e-6, k = 1.9e9, m = 5.5, c = 1.5e-13;
    const Filling f{capacity, gas, 0.0};
    const double p = root(2e5, 1e8, [&](double x) {
        const double e = x - standard_atmosphere;
        return capacity + c * e - capacity * (1.0 - e / (k + m * e)) - gas * standard_atmosphere / x;
    });
    ElasticLaw walls;
    walls.compliance = c;
    check({"pressure of 20 mL of fluid and 0.5 mL of free air in a soft 20 mL", "",
           "bisection of capacity = contents", Grade::exact, "Pa", p,
           pressure_of(f, capacity, walls, 0.0, {standard_atmosphere, k, m, 50.0}, 1e5).p, 1e-7 * p, "root"});
}

// Murnaghan: V/V0 = (1 + K' e/K)^(-1/K') = 1 - e/K + m (e/K)^2 - ..., ours 1 - e/(K + m e).
TEST(Compression, ExactSecondOrder) {
    const Liquid l = liquid_at(*find_fluid("DOT 4"), 293.15);
    const double slope = l.bulk_modulus_pressure_slope, h = 1e-3;
    const auto volume = [&](double x) { return std::pow(1.0 + slope * x, -1.0 / slope); };
    const double second = (volume(h) - 2.0 * volume(0.0) + volume(-h)) / (2.0 * h * h);
    check({"second-order coefficient of the compression of DOT 4", "", "second difference of Murnaghan's law",
           Grade::exact, "-", second, medium_of(l, standard_atmosphere).stiffening, 1e-3,
           "fourth derivative over differences of 0.1 %"});
}

// 15 mL of fluid without and with gas in a rigid 20 mL.
TEST(Compression, ExactSlopesUnderVapour) {
    const Medium m = medium_of(liquid_at(*find_fluid("DOT 4"), 293.15), standard_atmosphere);
    for (const double gas : {0.0, 1e-9}) {
        const auto at = [&](double more_liquid, double more_gas, double more_room) {
            return pressure_of({15e-6 + more_liquid, gas + more_gas, 0.0}, 20e-6 + more_room, {}, 0.0, m,
                               1e5);
        };
        const double h = 1e-8, g = 1e-12;
        const Pressure here = at(0.0, 0.0, 0.0);
        EXPECT_TRUE(here.void_open);
        const std::string where = gas > 0.0 ? " under a void over a little gas" : " under a void";
        const auto row = [&](const char* what, double difference, double ours) {
            check({what + where, "", "central difference", Grade::exact, "Pa/mL", difference * 1e-6,
                   ours * 1e-6, 1e-4 * std::abs(difference) * 1e-6, "difference over 0.01 mL"});
        };
        row("pressure by liquid", (at(h, 0.0, 0.0).p - at(-h, 0.0, 0.0).p) / (2.0 * h), here.per_liquid);
        row("pressure by room", (at(0.0, 0.0, -h).p - at(0.0, 0.0, h).p) / (2.0 * h), 1.0 / here.softness);
        if (gas > 0.0)
            row("pressure by free air", (at(0.0, g, 0.0).p - at(0.0, -g, 0.0).p) / (2.0 * g), here.per_gas);
    }
    check({"pressure under 50 mL of void, over the vapour pressure", "", "the void halves it at 50 mL, ours",
           Grade::derived, "-", 0.5,
           pressure_of({10e-6, 0.0, 0.0}, 60e-6, {}, 0.0, m, 1e5).p / m.vapour_pressure, 1e-3,
           "the liquid swells a little"});
}

TEST(Compression, ExactSofteningByGas) {
    const double k = 1.8e9, phi = 0.01;
    for (const double n : {1.0, 1.4})
        for (const double p : {standard_atmosphere, 1e6, 1e7}) {
            const auto volume = [&](double x) {
                return (1.0 - phi) * std::exp(-(x - standard_atmosphere) / k) +
                       phi * std::pow(standard_atmosphere / x, 1.0 / n);
            };
            const double h = 1e-3 * p, expected = -volume(p) * 2.0 * h / (volume(p + h) - volume(p - h));
            check({"bulk modulus with 1 % of air at " + number_text(p * 1e-6) + " MPa, exponent " +
                       number_text(n),
                   "", "difference quotient of the volume", Grade::exact, "Pa", expected,
                   effective_bulk_modulus(p, k, phi, n), 1e-4 * expected,
                   "difference over 0.1 % of the pressure"});
        }
}

TEST(Compression, ExactConductionTimes) {
    const double alpha = air_thermal_diffusivity(standard_atmosphere);
    const double zero = root(2.0, 3.0, [](double x) { return -std::cyl_bessel_j(0.0, x); });
    const double bore = 3.3e-3, tube = bore * bore / (4.0 * alpha * zero * zero);
    check({"thermal time of air in a 3.3 mm tube", "", "first zero of J0, by bisection", Grade::exact, "s",
           tube, thermal_time_constant_tube(bore, standard_atmosphere), 2e-4 * tube, "the code holds 5.783"});
    // Slowest mode of a slab between cold walls by power iteration of the inverse of its difference operator.
    constexpr int n = 200;
    std::vector<double> t(n, 1.0), next(n);
    double lambda = 0.0;
    for (int sweep = 0; sweep < 30; ++sweep) {
        std::vector<double> c(n), d(n);
        for (int i = 0; i < n; ++i) {
            const auto u = std::size_t(i);
            const double pivot = 2.0 - (i ? c[u - 1] : 0.0);
            c[u] = 1.0 / pivot;
            d[u] = (t[u] + (i ? d[u - 1] : 0.0)) / pivot;
        }
        for (int i = n - 1; i >= 0; --i)
            next[std::size_t(i)] =
                d[std::size_t(i)] + (i + 1 < n ? c[std::size_t(i)] * next[std::size_t(i) + 1] : 0.0);
        lambda = t[n / 2] / next[n / 2];
        for (int i = 0; i < n; ++i) t[std::size_t(i)] = next[std::size_t(i)] / next[n / 2];
    }
    const double gap = 2e-3, dx = gap / (n + 1), slab = dx * dx / (alpha * lambda);
    check({"thermal time of air in a gap of 2 mm", "", "slowest mode of 200 difference cells", Grade::exact,
           "s", slab, thermal_time_constant_slab(gap, standard_atmosphere), 1e-4 * slab,
           "error of the cells: 2e-5"});
    const double volume = 0.1e-6, radius = std::cbrt(volume / (4.0 / 3.0 * pi));
    // r T of a sphere obeys the slab's equation over the radius.
    check({"thermal time of a round bubble of 0.1 mL", "", "slowest mode of 200 difference cells",
           Grade::exact, "s", slab * radius * radius / (gap * gap),
           thermal_time_constant_sphere(volume, standard_atmosphere),
           1e-4 * slab * radius * radius / (gap * gap), "error of the cells: 2e-5"});
}

// Hoop strain at the bore of a thick tube from the stresses there.
TEST(ElasticParts, ExactThickTube) {
    const double ri = 1.675e-3, ro = 2.375e-3, e = 207e9, nu = 0.29, p = 1e7;
    const double hoop = p * (ro * ro + ri * ri) / (ro * ro - ri * ri), strain = (hoop + nu * p) / e;
    check({"swelling of 4.75 x 0.7 mm steel tube at 10 MPa", "", "twice the hoop strain at the bore",
           Grade::exact, "-", 2.0 * strain, p * tube_wall_compliance(ri, ro, e, nu), 1e-12,
           "same mathematics"});
    check({"swelling of a 1 m pipe with a 1 mm wall over D/(e E)", "tijsseling_anderson2004",
           "wave speed formula", Grade::verified, "-", 1.0,
           tube_wall_compliance(0.5, 0.501, e, nu) * 1e-3 * e, 2e-3,
           "the thin-wall formula leaves out e/D and Poisson's part"});
    const double thin = 1.0 / std::sqrt(1060.0 * (1.0 / 1.8e9 + 2.0 * ri / ((ro - ri) * e)));
    check({"speed of a pressure wave in brake tube, a bound on how fast news travels",
           "tijsseling_anderson2004", "wave speed formula", Grade::verified, "m/s", thin,
           wave_speed(1060.0, 1.8e9, tube_wall_compliance(ri, ro, e, nu)), 0.01 * thin,
           "1 %: our wall is thick, theirs thin"});
}

} // namespace clearstroke
