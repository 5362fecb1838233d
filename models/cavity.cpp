#include "models/cavity.hpp"

#include <algorithm>
#include <cmath>

#include "models/constants.hpp"

namespace clearstroke {

namespace {

// S(y) of (K-3): the integral of the segment area from y up to the crown.
double segment_integral(double radius, double y) {
    if (y >= radius) return 0.0;
    const double area = pi * radius * radius;
    if (y <= -radius) return -area * y;
    const double squared = radius * radius - y * y, root = std::sqrt(squared);
    return radius * radius * (root - y * std::acos(y / radius)) - squared * root / 3.0;
}

double half_height(const Cavity& c) {
    return c.bore_radius * std::cos(c.axis_tilt) + 0.5 * c.depth * std::abs(std::sin(c.axis_tilt));
}

} // namespace

double opening_height(const Cavity& c, const OpeningPlace& place, double roll) {
    return (place.axial - 0.5) * c.depth * std::sin(c.axis_tilt) +
           place.radial * c.bore_radius * std::cos(place.clock + roll) * std::cos(c.axis_tilt);
}

double segment_area(double radius, double y) {
    if (y >= radius) return 0.0;
    if (y <= -radius) return pi * radius * radius;
    return radius * radius * std::acos(y / radius) - y * std::sqrt(radius * radius - y * y);
}

double gas_volume_above(const Cavity& c, double height) {
    const double cosine = std::cos(c.axis_tilt), sine = std::abs(std::sin(c.axis_tilt)), half = 0.5 * c.depth;
    const double upper = (height - half * sine) / cosine; // section at the higher end
    const double lower = (height + half * sine) / cosine;
    const double rise = c.depth * sine / cosine; // of the cut over the whole depth
    if (rise < 1e-5 * c.bore_radius) return c.depth * segment_area(c.bore_radius, height / cosine);
    return c.depth / rise * (segment_integral(c.bore_radius, upper) - segment_integral(c.bore_radius, lower));
}

double mean_height(const Cavity& c) {
    const double area = pi * c.bore_radius * c.bore_radius;
    return area * c.depth /
           (2.0 * c.bore_radius * c.depth * std::cos(c.axis_tilt) + area * std::abs(std::sin(c.axis_tilt)));
}

double roll_to_top(const OpeningPlace& place) {
    const double turn = std::remainder(-place.clock, 2.0 * pi);
    return turn == -pi ? pi : turn;
}

CavityProfile::CavityProfile(const Cavity& c) : cavity_(c) {
    const double half = half_height(c);
    for (std::size_t k = 0; k < points; ++k) {
        height_[k] = half * std::cos(pi * double(k) / double(points - 1));
        volume_[k] = gas_volume_above(c, height_[k]);
    }
    volume_.front() = 0.0;
    volume_.back() = pi * c.bore_radius * c.bore_radius * c.depth;

    // Slopes of a monotone cubic: harmonic mean of the secants, one-sided at the ends (Fritsch and Butland).
    const auto secant = [this](std::size_t k) {
        return (height_[k + 1] - height_[k]) / (volume_[k + 1] - volume_[k]);
    };
    slope_.front() = secant(0);
    slope_.back() = secant(points - 2);
    for (std::size_t k = 1; k + 1 < points; ++k) {
        const double before = volume_[k] - volume_[k - 1], after = volume_[k + 1] - volume_[k];
        const double w1 = 2.0 * after + before, w2 = after + 2.0 * before;
        slope_[k] = (w1 + w2) / (w1 / secant(k - 1) + w2 / secant(k));
    }
}

double CavityProfile::interface_height(double gas_volume) const {
    if (gas_volume <= 0.0) return top();
    if (gas_volume >= volume()) return bottom();
    const auto above = std::upper_bound(volume_.begin() + 1, volume_.end() - 1, gas_volume);
    const std::size_t j = std::size_t(above - volume_.begin()), i = j - 1;
    const double width = volume_[j] - volume_[i], t = (gas_volume - volume_[i]) / width, s = 1.0 - t;
    return s * s * (1.0 + 2.0 * t) * height_[i] + t * t * (3.0 - 2.0 * t) * height_[j] +
           width * t * s * (s * slope_[i] - t * slope_[j]);
}

double CavityProfile::trapped_volume(double opening_top_height) const {
    return gas_volume_above(cavity_, opening_top_height);
}

} // namespace clearstroke
