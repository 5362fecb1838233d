#include "analysis/known_orders.hpp"

#include <algorithm>
#include <map>

#include <fmt/format.h>

namespace clearstroke {
namespace {

using Points = std::vector<BleedPoint>;

bool farther(const BleedPoint& a, const BleedPoint& b) {
    return a.length != b.length ? a.length > b.length : a.name < b.name;
}

bool nearer(const BleedPoint& a, const BleedPoint& b) {
    return a.length != b.length ? a.length < b.length : a.name < b.name;
}

using Before = bool (*)(const BleedPoint&, const BleedPoint&);

// Wheels by their first screw under `before`; within a wheel the same rule, or the other way round.
Points wheel_by_wheel(Points points, Before before, bool reverse_in_wheel) {
    std::stable_sort(points.begin(), points.end(), before);
    Points sorted;
    std::vector<std::string> done;
    for (const BleedPoint& first : points) {
        if (std::ranges::find(done, first.wheel) != done.end()) continue;
        done.push_back(first.wheel);
        Points wheel;
        std::ranges::copy_if(points, std::back_inserter(wheel),
                             [&](const BleedPoint& p) { return p.wheel == first.wheel; });
        if (reverse_in_wheel) std::ranges::reverse(wheel);
        sorted.insert(sorted.end(), wheel.begin(), wheel.end());
    }
    return sorted;
}

Points circuit_by_circuit(const Points& points, bool reverse_in_wheel) {
    const Points farthest = wheel_by_wheel(points, farther, reverse_in_wheel);
    std::vector<int> circuits;
    for (const BleedPoint& p : farthest)
        if (std::ranges::find(circuits, p.circuit) == circuits.end()) circuits.push_back(p.circuit);
    Points sorted;
    for (const int circuit : circuits)
        std::ranges::copy_if(farthest, std::back_inserter(sorted),
                             [&](const BleedPoint& p) { return p.circuit == circuit; });
    return sorted;
}

constexpr std::string_view other_way_round = ", screws of a wheel the other way round";

KnownOrder named(std::string name, const Points& points) {
    KnownOrder order{std::move(name), {}};
    for (const BleedPoint& p : points) order.screws.push_back(p.screw);
    return order;
}

} // namespace

std::vector<BleedPoint> bleed_points(const Network& net) {
    const Circuits circuits = find_circuits(net);
    Points points;
    for (std::size_t i = 0; i < net.screws.size(); ++i) {
        const Screw& screw = net.screws[i];
        points.push_back(
            {ScrewId{i}, screw.name, screw.wheel, path_length(net, ScrewId{i}), circuits.of_screw[i]});
    }
    return points;
}

std::vector<KnownOrder> known_orders(const Points& points) {
    std::map<std::string, int> screws_of_wheel;
    bool several = false;
    for (const BleedPoint& p : points) several = ++screws_of_wheel[p.wheel] > 1 || several;
    std::vector<KnownOrder> orders;
    for (const bool reverse : {false, true}) {
        if (reverse && !several) break;
        const std::string tail(reverse ? other_way_round : "");
        orders.push_back(named("farthest first" + tail, wheel_by_wheel(points, farther, reverse)));
        orders.push_back(named("nearest first" + tail, wheel_by_wheel(points, nearer, reverse)));
        orders.push_back(named("circuit by circuit" + tail, circuit_by_circuit(points, reverse)));
    }
    return orders;
}

std::vector<std::string> names_of(const std::vector<ScrewId>& screws, const std::vector<KnownOrder>& known) {
    std::vector<std::string> names;
    for (const KnownOrder& order : known)
        if (order.screws == screws) names.push_back(order.name);
    return names;
}

std::string together(std::vector<std::string> names) {
    for (std::size_t i = 0; i + 1 < names.size(); ++i)
        if (names[i].ends_with(other_way_round) && names[i + 1].ends_with(other_way_round))
            names[i].resize(names[i].size() - other_way_round.size());
    return fmt::format("{}", fmt::join(names, ", "));
}

} // namespace clearstroke
