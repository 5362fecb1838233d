// Numbers worked out by ourselves from the relations, for several fluids: regression, no validation.
#include "models/constants.hpp"
#include "models/fluid.hpp"
#include "models/long_bubble.hpp"
#include "models/tube_flow.hpp"
#include "tests/book/check.hpp"
#include "tests/published/numerical.hpp"

namespace clearstroke {

using namespace book;

TEST(Fluids, DerivedViscosities) {
    struct Row {
        const char* fluid;
        double at_0, at_20, at_40; // mm^2/s
    };
    for (const Row& r :
         {Row{"DOT 3", 40, 15, 7.6}, Row{"DOT 4", 43, 16, 8.0}, Row{"DOT 4 low viscosity", 31, 13, 6.7},
          Row{"DOT 5.1", 37, 15, 7.6}, Row{"DOT 5", 85, 55, 38}})
        for (const auto& [celsius, nu] : {std::pair{0.0, r.at_0}, {20.0, r.at_20}, {40.0, r.at_40}})
            check({std::string(r.fluid) + " at " + number_text(celsius) + " degC", "astmd341",
                   "line through -40 and 100 degC (silicone 25 and 100)", Grade::derived, "mm2/s", nu,
                   kinematic_viscosity(find_fluid(r.fluid)->viscosity, zero_celsius + celsius) * 1e6,
                   0.03 * nu, "two digits of typical values"});
}

TEST(LongBubbles, DerivedThresholds) {
    for (const auto& [name, sigma, rho, bore] : {std::tuple{"glycol, 0.035 N/m", 0.035, 1060.0, 3.36749},
                                                 {"water", 0.0728, 998.0, 5.005},
                                                 {"silicone, 0.021 N/m", 0.021, 960.0, 2.741},
                                                 {"mineral oil, 0.028 N/m", 0.028, 870.0, 3.325}})
        check({std::string("largest bore in which a bubble stays: ") + name, "bretherton1961", "Bo = 0.842",
               Grade::derived, "mm", bore, no_rise_bore({rho, 1e-6, rho * 1e-6, 0, 0, sigma, 0}, 0.0) * 1e3,
               1e-3, "last digit"});
    for (const auto& [bo, ca] :
         {std::pair{0.90, 2.728e-7}, {0.95, 3.184e-6}, {1.00, 1.390e-5}, {1.04, 3.298e-5}})
        check({"creep at Bo = " + number_text(bo), "bretherton1961",
               "Bo - 0.842 = 1.25 Ca^(2/9) + 2.24 Ca^(1/3)", Grade::derived, "-", ca,
               creep_capillary_number(bo), 1e-3 * ca, "last digit"});
    for (const auto& [eo, nf, fr] : {std::tuple{100.0, 1e5, 0.339430},
                                     {100.0, 50.0, 0.250410},
                                     {100.0, 5.0, 0.0472518},
                                     {10.0, 1000.0, 0.145612}})
        check({"Froude number at Eo " + number_text(eo) + ", Nf " + number_text(nf), "viana2003", "full form",
               Grade::derived, "-", fr, viana_froude(eo, nf), 1e-5, "last digit"});
}

// Between the creep of (B-4) and the law of wide tubes ln U follows t^2 (3 - 2t).
TEST(LongBubbles, ExactBlend) {
    const Liquid l{1060.0, 18.2e-6, 19.3e-3, 0, 0, 0.035, 0};
    const double ca = root(1e-7, 1e-3, [](double x) {
        return 1.25 * std::pow(x, 2.0 / 9.0) + 2.24 * std::cbrt(x) - (1.04 - 0.842);
    });
    for (const auto& [t, share] : {std::pair{0.25, 0.15625}, {0.5, 0.5}, {0.75, 0.84375}}) {
        const double eo = 4.16 + t * (6.0 - 4.16), bore = std::sqrt(eo * 0.035 / (1060.0 * standard_gravity));
        const double wide = viana_froude(eo, std::sqrt(standard_gravity * bore * bore * bore) / 18.2e-6) *
                            std::sqrt(standard_gravity * bore);
        const double expected =
            std::exp((1.0 - share) * std::log(ca * 0.035 / 19.3e-3) + share * std::log(wide));
        check({"rise of a long bubble at Eo " + number_text(eo) + ", between creep and wide tubes", "",
               "geometric mean of both ends", Grade::exact, "m/s", expected, bubble_rise_speed(bore, l, 0.0),
               1e-6 * expected, "same mathematics, creep by bisection"});
    }
}

TEST(LongBubbles, FactorOfASlope) {
    for (const auto& [degrees, factor] :
         {std::pair{15.0, 1.000150}, {30.0, 1.319479}, {45.0, 1.435500}, {60.0, 1.395907}, {90.0, 1.0}})
        check({"rise in a tube that slopes by " + number_text(degrees) + " degrees, over vertical",
               "hasan1988", "sqrt(cos) (1 + sin)^m of the angle to the vertical, m 1", Grade::memory, "-",
               factor, inclination_factor(std::sin(degrees * pi / 180.0)), 1e-5, "last digit"});
}

// Speed of the plug from the film it leaves, which depends on that speed: bisection instead of the code's own
// way.
TEST(LongBubbles, ExactRunAhead) {
    const double mu = 0.019319, sigma = 0.035, area = circle_area(3.3e-3);
    for (const double q : {0.1e-6, 1e-6, 5e-6, 10e-6}) {
        const double u = q / area, bubble = root(u, 2.5 * u, [&](double x) {
                                       const double y = std::pow(mu * x / sigma, 2.0 / 3.0),
                                                    h = 1.34 * y / (1.0 + 3.35 * y);
                                       return x * (1.0 - h) * (1.0 - h) - u;
                                   });
        check({"run-ahead of a plug in 3.3 mm at " + number_text(q * 1e6) + " mL/s", "",
               "film law and continuity, bisection", Grade::exact, "-", bubble / u, run_ahead(mu * u / sigma),
               1e-3, "the code stops at a tolerance"});
    }
}

TEST(FlowOfLiquid, DerivedResistances) {
    for (const auto& [bore, r] :
         {std::pair{2.5, 2.015e10}, {3.2, 7.506e9}, {3.3, 6.637e9}, {4.0, 3.075e9}, {4.6, 1.758e9}})
        check({"resistance of 1 m of " + number_text(bore) + " mm, 19.3 mPa s", "white2011",
               "Hagen and Poiseuille", Grade::derived, "Pa s/m3", r,
               laminar_resistance(0.019319, 1.0, bore * 1e-3), 1e-3 * r, "last digit"});
    for (const auto& [re, e, f] : {std::tuple{1e5, 1e-4, 0.0185139}, {4e4, 0.01, 0.0393632}})
        check({"implicit friction factor at Re " + number_text(re) + ", roughness " + number_text(e),
               "colebrook1939", "equation", Grade::derived, "-", f, friction_factor_colebrook(re, e), 1e-6,
               "last digit"});
    for (const auto& [re, e, f] :
         {std::tuple{1e5, 1e-4, 0.0182651}, {4e4, 0.01, 0.0393511}, {1e5, 0.0, 0.0178249}})
        check({"explicit friction factor at Re " + number_text(re) + ", roughness " + number_text(e),
               "haaland1983", "equation", Grade::derived, "-", f, friction_factor_haaland(re, e), 1e-6,
               "last digit"});
}

} // namespace clearstroke
