#pragma once
/// Shipped four-wheel layouts as cases for searching, with little air and few strokes to be quick.
#include <algorithm>

#include "analysis/candidates.hpp"
#include "analysis/order_limits.hpp"
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

/// A case, its screws in order of their numbers, the visits to them, and what orders must keep.
struct OrderJob {
    Case c;
    std::vector<ScrewId> screws;
    std::vector<Visit> visits;
    OrderRules rules;

    explicit OrderJob(Case some, const OrderLimits& limits = {})
        : c(std::move(some)), screws(sorted(visited_screws(c.procedure))),
          visits(visits_in_order(c.procedure, screws)), rules(limits, screws) {}

    static std::vector<ScrewId> sorted(std::vector<ScrewId> screws) {
        std::ranges::sort(screws);
        return screws;
    }
};

} // namespace clearstroke::testing
