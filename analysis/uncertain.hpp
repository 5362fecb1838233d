#pragma once
/// The uncertain inputs of a scenario as coordinates in (0, 1), one per parameter with a band; parameters of
/// a group (the amounts of starting air) share one. What all parts share (fluid, temperature, bore of a batch
/// of pipe) is one parameter already; tolerances of parts are parameters of their own, hence independent.
///
/// Within a band the usual value is the median, and each half of the weight is spread evenly:
///     x(u) = low + 2 u (usual - low)  for u <= 1/2,   usual + (2 u - 1) (high - usual)  above        
/// Source: ours; bands say what is possible, hardly more.
#include <span>
#include <string>
#include <vector>

#include "sim/parameter.hpp"

namespace clearstroke {

struct Coordinate {
    std::string name;                    ///< of the group or the parameter
    std::vector<std::size_t> parameters; ///< positions in CaseFactory::parameters
};

/// In the order of the parameters.
[[nodiscard]] std::vector<Coordinate> coordinates_of(const CaseFactory&);

/// Value of a parameter [its SI unit].
[[nodiscard]] double in_band(const Parameter&, double u);

/// Values of all parameters at `u`, one per coordinate; the others as usual.
[[nodiscard]] std::vector<double> values_at(const CaseFactory&, std::span<const Coordinate>,
                                            std::span<const double> u);

/// Coordinates of several scenarios under one name each, so that all run on the same samples.
[[nodiscard]] std::vector<std::string> shared_names(std::span<const std::vector<Coordinate>>);

} // namespace clearstroke
