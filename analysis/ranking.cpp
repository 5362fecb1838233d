#include "analysis/ranking.hpp"

#include <algorithm>
#include <numeric>

namespace clearstroke {
namespace {

using Indices = std::vector<std::size_t>;

// Cuts `items` into runs whose values lie within `width` of the first of the run, lowest first.
template <class Value> std::vector<Indices> clusters(Indices items, Value value, double width) {
    std::ranges::stable_sort(items, {}, value);
    std::vector<Indices> parts;
    double anchor = 0.0;
    for (const std::size_t item : items) {
        if (parts.empty() || value(item) > anchor + width) {
            parts.emplace_back();
            anchor = value(item);
        }
        parts.back().push_back(item);
    }
    return parts;
}

int class_of(const Standing& s) { return s.failed ? 2 : s.target_met ? 0 : 1; }

} // namespace

double cost_of(const PlanResult& result, Cost cost) {
    switch (cost) {
    case Cost::time:
        return result.duration;
    case Cost::fluid:
        return result.drawn;
    case Cost::strokes:
        break;
    }
    return result.strokes;
}

Standing standing_of(const PlanResult& result, Cost cost) {
    return {result.failed, result.target_met, cost_of(result, cost), result.excess};
}

std::vector<Place> rank(std::span<const Standing> standings, const TieWidth& width) {
    const auto cost = [&](std::size_t i) { return standings[i].cost; };
    const auto excess = [&](std::size_t i) { return standings[i].excess; };
    std::vector<Place> places;
    int group = 0;
    const auto place_group = [&](Indices members) {
        std::ranges::sort(members);
        ++group;
        for (const std::size_t i : members) places.push_back({i, group});
    };
    for (const int standing_class : {0, 1, 2}) {
        Indices members;
        for (std::size_t i = 0; i < standings.size(); ++i)
            if (class_of(standings[i]) == standing_class) members.push_back(i);
        if (standing_class == 0)
            for (const Indices& tied : clusters(members, cost, width.cost))
                for (const Indices& part : clusters(tied, excess, width.excess)) place_group(part);
        else
            for (const Indices& tied : clusters(members, excess, width.excess))
                for (const Indices& part : clusters(tied, cost, width.cost)) place_group(part);
    }
    return places;
}

} // namespace clearstroke
