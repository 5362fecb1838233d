#pragma once
/// Sets of suspects that readings cannot tell apart, (W-3) of diagnosis.hpp.
#include "analysis/diagnosis.hpp"

namespace clearstroke {

/// Every suspect is in one set, most probable first. `weights`: of the components, given the readings.
[[nodiscard]] std::vector<WeighedSet> sets_of(const Likelihood&, const std::vector<double>& weights,
                                              const Seen& asked);

} // namespace clearstroke
