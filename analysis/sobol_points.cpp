#include "analysis/sobol_points.hpp"

#include <stdexcept>

namespace clearstroke {
namespace {

constexpr int digits = 32;

// The upper 32 digits of `x`, each flipped by the coin of the digits above it, as a number in (0, 1).
double scrambled(std::uint64_t x, std::uint64_t key) {
    std::uint64_t y = 0, above = 1; // a leading 1 tells prefixes of different length apart
    for (int b = 63; b > 63 - digits; --b) {
        const std::uint64_t digit = (x >> b) & 1u;
        y = (y << 1) | (digit ^ (mixed(key ^ mixed(above)) & 1u));
        above = (above << 1) | digit;
    }
    return (static_cast<double>(y) + 0.5) / 4294967296.0;
}

std::size_t allowed(std::size_t dimensions) {
    if (dimensions == 0 || dimensions > SobolPoints::most_dimensions)
        throw std::invalid_argument("a Sobol' sequence has 1 to 3667 dimensions");
    return dimensions;
}

} // namespace

std::uint64_t mixed(std::uint64_t x) {
    x += 0x9e3779b97f4a7c15u;
    x = (x ^ (x >> 30)) * 0xbf58476d1ce4e5b9u;
    x = (x ^ (x >> 27)) * 0x94d049bb133111ebu;
    return x ^ (x >> 31);
}

std::uint64_t scrambling_seed(std::uint64_t seed, std::uint64_t number) {
    return mixed(mixed(seed) ^ mixed(~number));
}

SobolPoints::SobolPoints(std::size_t dimensions, std::uint64_t seed)
    : sequence_(allowed(dimensions)), seed_(seed) {}

std::vector<double> SobolPoints::point(std::uint64_t index) const {
    boost::random::sobol sequence = sequence_;
    if (index > 0) sequence.seed(index - 1); // Boost leaves out the origin
    std::vector<double> u(sequence.dimension());
    for (std::size_t k = 0; k < u.size(); ++k)
        u[k] = scrambled(index > 0 ? sequence() : 0u, mixed(seed_ + k));
    return u;
}

} // namespace clearstroke
