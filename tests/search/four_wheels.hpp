#pragma once
/// Shipped four-wheel layouts as cases for searching, with little air and few strokes to be quick.
#include "scenarios/scenario.hpp"
#include "sim/parameter.hpp"

namespace clearstroke::testing {

inline CaseFactory factory_of(const std::string& name, const std::string& condition) {
    const std::vector<std::string> overrides{"condition=" + condition};
    return read_scenario("scenarios/" + name + ".toml", overrides).factory;
}

inline Case quick_case(const std::string& name, const std::string& condition = "little air") {
    const CaseFactory factory = factory_of(name, condition);
    Case c = factory.make(usual_values(factory));
    c.procedure.stop.most_strokes = 6;
    return c;
}

} // namespace clearstroke::testing
