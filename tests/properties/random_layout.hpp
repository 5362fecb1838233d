#pragma once
/// Layouts drawn from all parts, with work drawn from all methods and acts: what each number stands for, and
/// what its run must keep. Sizes are invented, of the usual order or wider; one number gives the same layout
/// for ever.
#include <cmath>
#include <cstdint>
#include <random>

#include "sim/run.hpp"

namespace clearstroke::testing {

/// Random numbers that are the same on every machine.
class Draw {
public:
    explicit Draw(std::uint64_t seed) : bits_(seed) {}
    double unit() { return static_cast<double>(bits_() >> 11) * 0x1p-53; } ///< in [0, 1)
    double between(double low, double high) { return low + (high - low) * unit(); }
    double spread(double low, double high) {
        return low * std::pow(high / low, unit());
    } ///< evenly in the logarithm
    int count(int low, int high) { return low + static_cast<int>(unit() * (high - low + 1)); }
    std::size_t below(std::size_t n) { return static_cast<std::size_t>(unit() * static_cast<double>(n)); }
    bool chance(double share) { return unit() < share; }
    template <class T> const T& one_of(const std::vector<T>& list) { return list[below(list.size())]; }

private:
    std::mt19937_64 bits_;
};

struct RandomLayout {
    Network network;
    Contents contents;
    Procedure procedure;
};

[[nodiscard]] RandomLayout random_layout(std::uint64_t seed);

/// Cylinders, wheel ends, tees, lines and what is unusual about them, in a line; then every act.
[[nodiscard]] std::string described(const RandomLayout&);

/// How the work ended, what was kept, and every bit of the last state that a comparison needs.
struct RandomRun {
    RunStatus status;
    std::string refused; ///< reason why the layout was not taken; empty: it was
    Balance worst;       ///< over all visits
    bool sound{true};    ///< no amount below zero, no pressure of zero
    std::vector<double> bits;
};
[[nodiscard]] RandomRun run(const RandomLayout&);

/// What is wrong with a run and a second one of the same layout; empty: nothing, or it was refused.
[[nodiscard]] std::string failure_of(const RandomRun& one, const RandomRun& again);

// Inside of random_layout.
[[nodiscard]] Network random_network(Draw&);
[[nodiscard]] Contents random_contents(Draw&, const Network&);
[[nodiscard]] Procedure random_procedure(Draw&, const Network&);

} // namespace clearstroke::testing
