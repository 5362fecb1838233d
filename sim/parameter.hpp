#pragma once
/// An uncertain or assumed number of a scenario, and the pure factory that turns values of all of
/// them into a circuit and a procedure. Analyses see only these, never a scenario file.
#include <functional>
#include <span>
#include <string>
#include <vector>

#include "sim/procedure.hpp"

namespace clearstroke {

enum class SourceGrade { stated, published, secondary, from_memory, common_practice, derived };
[[nodiscard]] std::string_view name_of(SourceGrade);

/// `usual` is used unless told otherwise; `low` and `high` bound the band. SI.
struct Parameter {
    std::string name; ///< key path of the scenario, e.g. "cylinder.cup_cracking"
    double usual{}, low{}, high{};
    std::string unit;       ///< SI unit the values are in, e.g. "Pa"
    std::string shown_unit; ///< unit a person reads, e.g. "bar"
    std::string group;      ///< parameters of one group vary together; empty: alone
    SourceGrade grade{};
    std::string source;         ///< one phrase
    std::string how_to_measure; ///< empty when a person cannot
};

/// One concrete case.
struct Case {
    Network network;
    Contents contents;
    Procedure procedure;
};

/// A scenario as analyses see it. `make` is pure and may be called from many threads; `values`
/// has one entry per parameter, in order. Throws std::invalid_argument on impossible values.
struct CaseFactory {
    std::string title;
    std::vector<Parameter> parameters;
    std::function<Case(std::span<const double> values)> make;
};

[[nodiscard]] std::vector<double> usual_values(const CaseFactory&);

} // namespace clearstroke
