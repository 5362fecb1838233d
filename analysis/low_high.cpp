#include "analysis/low_high.hpp"

#include <algorithm>

namespace clearstroke {
namespace {

struct Band {
    const char *parameter, *group; // one of them
    const char *name, *low, *high; // what it and its ends are called
};

constexpr Band bands[] = {
    {"model.run_ahead", "", "run-ahead of bubbles", "bubbles run ahead less", "bubbles run ahead more"},
    {"model.drawdown", "", "air drawn down", "openings draw less air down", "openings draw more air down"},
    {"", "starting air", "starting air", "less starting air", "more starting air"},
};

} // namespace

std::size_t find_parameter(const CaseFactory& factory, const std::string& name) {
    return static_cast<std::size_t>(std::ranges::find(factory.parameters, name, &Parameter::name) -
                                    factory.parameters.begin());
}

std::vector<ValueSet> low_and_high(const CaseFactory& factory) {
    std::vector<ValueSet> sets;
    for (const Band& band : bands) {
        ValueSet low{band.name, band.low, usual_values(factory)},
            high{band.name, band.high, usual_values(factory)};
        bool moves = false;
        for (std::size_t i = 0; i < factory.parameters.size(); ++i) {
            const Parameter& p = factory.parameters[i];
            const bool belongs = *band.parameter ? p.name == band.parameter : p.group == band.group;
            if (!belongs || p.low == p.high) continue;
            moves = true;
            low.values[i] = p.low;
            high.values[i] = p.high;
        }
        if (moves) sets.insert(sets.end(), {low, high});
    }
    return sets;
}

} // namespace clearstroke
