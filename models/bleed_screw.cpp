#include "models/bleed_screw.hpp"

#include <algorithm>
#include <array>
#include <cmath>

namespace clearstroke {

namespace {

constexpr double mm = 1e-3; // [m]

// Thread diameter, pitch, seat bore, cross hole, axial bore in mm. Thread leak: one diameter long, 15 um
// clear (band 10 to 25 um), concentric.
constexpr BleedScrew screw(double diameter, double pitch, double seat, double cross, double axial) {
    BleedScrew s{pitch * mm, seat * mm, cross * mm, axial * mm};
    s.thread = {diameter * mm, 0.015 * mm, diameter * mm, 0.0};
    return s;
}

constexpr std::array<KnownBleedScrew, 8> screws{{
    {"M6", screw(6.0, 1.0, 2.0, 1.5, 2.0), 7.0},
    {"M7", screw(7.0, 1.0, 2.5, 1.5, 2.0), 9.0},
    {"M8", screw(8.0, 1.25, 3.0, 2.0, 2.5), 11.0},
    {"M10", screw(10.0, 1.0, 3.5, 2.0, 3.0), 15.0},
    {"1/4-28", screw(6.35, 25.4 / 28.0, 2.4, 1.5, 2.0), 5.6},
    {"5/16-24", screw(7.9375, 25.4 / 24.0, 3.0, 2.0, 2.5), 8.0},
    {"3/8-24", screw(9.525, 25.4 / 24.0, 3.5, 2.0, 3.0), 11.3},
    {"7/16-20", screw(11.1125, 25.4 / 20.0, 4.0, 2.5, 3.0), 19.3},
}};

double square(double x) { return x * x; }

// (Z-1); beyond its largest value the cone is clear of the seat
double seat_area(const BleedScrew& s, double lift) {
    const double sine = std::sin(s.cone_half_angle), cosine = std::cos(s.cone_half_angle);
    const double seat = 0.25 * pi * square(s.seat_bore);
    if (2.0 * lift * sine * cosine >= s.seat_bore) return seat;
    return std::min(pi * lift * sine * (s.seat_bore - lift * sine * cosine), seat);
}

} // namespace

double bleed_screw_area(const BleedScrew& s, double turns) {
    if (turns <= 0.0) return 0.0;
    const double cross = s.cross_holes * 0.25 * pi * square(s.cross_hole),
                 axial = 0.25 * pi * square(s.axial_bore);
    return 1.0 /
           std::sqrt(1.0 / square(seat_area(s, turns * s.pitch)) + 1.0 / square(cross) + 1.0 / square(axial));
}

std::span<const KnownBleedScrew> known_bleed_screws() { return screws; }

const BleedScrew* known_bleed_screw(std::string_view thread) {
    const auto found = std::ranges::find(screws, thread, &KnownBleedScrew::thread);
    return found == screws.end() ? nullptr : &found->screw;
}

} // namespace clearstroke
