#pragma once
/// Root of a rising function by the plainest safe means.
#include <algorithm>
#include <cmath>

namespace clearstroke::testing {

struct Value {
    double value{}, slope{};
};

/// In [low, high], by Newton kept inside a shrinking bracket; halves it where no slope is given. `close`:
/// last change over the root.
template <class F>
double rising_root(double low, double high, double guess, double close, F value_and_slope) {
    double x = std::clamp(guess, low, high);
    for (int i = 0; i < 200; ++i) {
        const auto [value, slope] = value_and_slope(x);
        (value < 0.0 ? low : high) = x;
        double next = slope > 0.0 ? x - value / slope : low;
        if (!(next > low && next < high)) next = 0.5 * (low + high);
        if (std::abs(next - x) <= close * std::abs(x)) return next;
        x = next;
    }
    return x;
}

} // namespace clearstroke::testing
