#pragma once
/// Random numbers by counting: the k-th number of a stream depends on seed and k only, whatever the threads.
/// The mixing function is splitmix64 (steele2014) [from memory].
#include <cstdint>

#include <boost/math/distributions/normal.hpp>

namespace clearstroke {

class CounterRandom {
public:
    explicit CounterRandom(std::uint64_t seed, std::uint64_t stream = 0) : key_(mix(mix(seed) + stream)) {}

    /// In (0, 1).
    double uniform() { return (static_cast<double>(mix(key_ + count_++) >> 11) + 0.5) * 0x1p-53; }
    double normal() { return quantile(boost::math::normal(), uniform()); }

private:
    std::uint64_t key_, count_{};

    static std::uint64_t mix(std::uint64_t x) {
        x += 0x9e3779b97f4a7c15ULL;
        x = (x ^ (x >> 30)) * 0xbf58476d1ce4e5b9ULL;
        x = (x ^ (x >> 27)) * 0x94d049bb133111ebULL;
        return x ^ (x >> 31);
    }
};

} // namespace clearstroke
