#pragma once
/// Low and high runs: the bands that matter most, moved one at a time, until sampling says more.
#include <string>
#include <vector>

#include "sim/parameter.hpp"

namespace clearstroke {

/// A set of values for a CaseFactory.
struct ValueSet {
    std::string band, name; ///< "starting air", "less starting air"
    std::vector<double> values;
};

/// Pairs, low then high: run-ahead, drawdown and starting air (all parameters of its group together) at the
/// low and the high end of their bands. What a scenario states, or has no parameter for, is left out.
[[nodiscard]] std::vector<ValueSet> low_and_high(const CaseFactory&);

/// Position of the parameter with that name; its number of parameters when there is none.
[[nodiscard]] std::size_t find_parameter(const CaseFactory&, const std::string& name);

} // namespace clearstroke
