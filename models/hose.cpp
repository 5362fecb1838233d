#include "models/hose.hpp"

#include <algorithm>
#include <array>
#include <limits>

namespace clearstroke {

namespace {

constexpr double cc_per_ft = 1e-6 / 0.3048; // [m^3/m]
constexpr double psi = 6894.757;            // [Pa]
constexpr double saturation_pressure = 1e6; // p_s of (H-1) [Pa]
constexpr double any_bore = std::numeric_limits<double>::infinity();

constexpr HoseLimit row(double bore_max, bool low, double at_1000, double at_1500,
                        std::optional<double> at_2900) {
    if (at_2900) *at_2900 *= cc_per_ft;
    return {bore_max, low, at_1000 * cc_per_ft, at_1500 * cc_per_ft, at_2900};
}

// Nominal 1/8 in is also written 3, 3.2 mm; 3/16 in 4.8, 5 mm.
constexpr std::array<HoseLimit, 6> limits{
    row(3.25e-3, false, 0.66, 0.79, 1.21), row(3.25e-3, true, 0.33, 0.42, 0.61),
    row(5.05e-3, false, 0.86, 1.02, 1.67), row(5.05e-3, true, 0.55, 0.72, 0.91),
    row(any_bore, false, 1.04, 1.30, {}),  row(any_bore, true, 0.82, 1.17, {}),
};

} // namespace

std::span<const HoseLimit> hose_limits() { return limits; }

const HoseLimit& hose_limit(double bore, bool low_expansion) {
    return *std::ranges::find_if(limits, [=](const HoseLimit& limit) {
        return limit.low_expansion == low_expansion && bore <= limit.bore_max;
    });
}

HoseExpansion hose_expansion(const HoseLimit& limit, double fraction) {
    // least squares of C x + V_s y = 1 with x = p / V and y = p / ((p + p_s) V) over the points of the row
    double xx = 0.0, xy = 0.0, yy = 0.0, x1 = 0.0, y1 = 0.0;
    const auto add = [&](double pressure, double volume) {
        const double x = pressure / volume, y = x / (pressure + saturation_pressure);
        xx += x * x, xy += x * y, yy += y * y, x1 += x, y1 += y;
    };
    add(1000.0 * psi, limit.volume_1000_psi);
    add(1500.0 * psi, limit.volume_1500_psi);
    if (limit.volume_2900_psi) add(2900.0 * psi, *limit.volume_2900_psi);
    const double determinant = xx * yy - xy * xy;
    return {fraction * (x1 * yy - y1 * xy) / determinant, fraction * (y1 * xx - x1 * xy) / determinant,
            saturation_pressure};
}

} // namespace clearstroke
