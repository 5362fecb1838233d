#pragma once
/// Global sensitivity of a number y to d inputs, each a coordinate in (0, 1): how much of its variance each
/// input explains alone and with others (Sobol' indices), and how far it moves when inputs step one at a time
/// (elementary effects). Designs say which points to compute; the statistics take y in the same order.
///
/// Sobol' indices. Points a, b are the halves of a 2d-dimensional scrambled Sobol' point, ab_k is a with
/// coordinate k of b. With f centred and V its variance over all a and b,
///     S_k = mean f(b) (f(ab_k) - f(a)) / V        explained by k alone (saltelli2010)                 
///     T_k = mean (f(a) - f(ab_k))^2 / (2 V)       k with all it acts together with (jansen1999)       
/// Elementary effects (morris1991). From a random point of a grid of four levels each input steps once by
/// +-1/2, in random order:
///     e_k = (f after - f before) / step;  mean, mean of |e_k| (campolongo2007), standard deviation.   
/// Intervals hold 95 %, from Student's t over the scramblings (indices) or trajectories (effects).
/// Source: the named, all [from memory].
#include <cstdint>
#include <span>
#include <vector>

namespace clearstroke {

/// A value with its 95 % interval.
struct Interval {
    double value{}, low{}, high{};
};

/// Scramblings of `points` base points, each of d + 2 cases: a, b, ab_1 ... ab_d.
struct IndexDesign {
    std::size_t dimensions{}, points{}, scramblings{8};
    std::uint64_t seed{1};

    [[nodiscard]] std::uint64_t cases() const { return scramblings * points * (dimensions + 2); }
};
[[nodiscard]] std::vector<double> point_of(const IndexDesign&, std::uint64_t number);

struct SobolIndices {
    std::vector<Interval> first, total; ///< (A-7), (A-8), per input [-]
};
/// Base points with a y that is not finite are left out; indices are NaN where y does not vary.
[[nodiscard]] SobolIndices sobol_indices(const IndexDesign&, std::span<const double> y);

/// Trajectories of d + 1 cases.
struct EffectDesign {
    std::size_t dimensions{}, trajectories{};
    std::uint64_t seed{1};

    [[nodiscard]] std::uint64_t cases() const { return trajectories * (dimensions + 1); }
};
[[nodiscard]] std::vector<double> point_of(const EffectDesign&, std::uint64_t number);

struct ElementaryEffects {
    std::vector<Interval> mean, mean_absolute; ///< per input [unit of y over the whole band]
    std::vector<double> deviation;
};
/// Steps with a y that is not finite are left out.
[[nodiscard]] ElementaryEffects elementary_effects(const EffectDesign&, std::span<const double> y);

} // namespace clearstroke
