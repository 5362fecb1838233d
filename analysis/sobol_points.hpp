#pragma once
/// Points of a Sobol' sequence, scrambled: evenly spread samples of which several independent sets give an
/// error estimate.
///
/// The sequence (sobol1967; direction numbers of joekuo2008 as in Boost.Random) starts at the origin. Owen's
/// nested uniform scrambling (owen1995) flips digit b of a coordinate by a coin that depends on the digits
/// above it, so every 2^k points stay spread as before and each is uniform on (0, 1). The coins are the
/// mixing function of splitmix64 (steele2014), 32 digits deep.
/// Source: sobol1967, joekuo2008, owen1995, steele2014 [from memory].
#include <cstdint>
#include <span>
#include <vector>

#include <boost/random/sobol.hpp>

namespace clearstroke {

/// A well mixed 64-bit number of `x`.
[[nodiscard]] std::uint64_t mixed(std::uint64_t x);

/// One scrambling of the sequence. Same dimensions and seed, same points, in any order of asking.
class SobolPoints {
public:
    /// Throws std::invalid_argument for no dimension or more than `most_dimensions`.
    SobolPoints(std::size_t dimensions, std::uint64_t seed);

    /// Coordinates of point `index` in (0, 1); the origin is point 0.
    [[nodiscard]] std::vector<double> point(std::uint64_t index) const;

    static constexpr std::size_t most_dimensions = 3667;

private:
    boost::random::sobol sequence_;
    std::uint64_t seed_;
};

/// Seed of scrambling `number` of a study with that seed.
[[nodiscard]] std::uint64_t scrambling_seed(std::uint64_t seed, std::uint64_t number);

} // namespace clearstroke
