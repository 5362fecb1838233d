#include "analysis/uncertain.hpp"

#include <algorithm>

namespace clearstroke {

std::vector<Coordinate> coordinates_of(const CaseFactory& factory) {
    std::vector<Coordinate> all;
    for (std::size_t i = 0; i < factory.parameters.size(); ++i) {
        const Parameter& p = factory.parameters[i];
        if (!(p.low < p.high)) continue;
        const std::string& name = p.group.empty() ? p.name : p.group;
        auto at = std::ranges::find(all, name, &Coordinate::name);
        if (at == all.end()) at = all.insert(at, {name, {}});
        at->parameters.push_back(i);
    }
    return all;
}

double in_band(const Parameter& p, double u) {
    return u <= 0.5 ? p.low + 2.0 * u * (p.usual - p.low) : p.usual + (2.0 * u - 1.0) * (p.high - p.usual);
}

std::vector<double> values_at(const CaseFactory& factory, std::span<const Coordinate> coordinates,
                              std::span<const double> u) {
    std::vector<double> values = usual_values(factory);
    for (std::size_t k = 0; k < coordinates.size(); ++k)
        for (const std::size_t i : coordinates[k].parameters)
            values[i] = in_band(factory.parameters[i], u[k]);
    return values;
}

std::vector<std::string> shared_names(std::span<const std::vector<Coordinate>> scenarios) {
    std::vector<std::string> names;
    for (const std::vector<Coordinate>& coordinates : scenarios)
        for (const Coordinate& c : coordinates)
            if (std::ranges::find(names, c.name) == names.end()) names.push_back(c.name);
    return names;
}

} // namespace clearstroke
