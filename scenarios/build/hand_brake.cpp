#include <algorithm>

#include <fmt/format.h>
#include <fmt/ranges.h>

#include "scenarios/build/parts.hpp"

namespace clearstroke {
namespace {

constexpr std::string_view key = "conditions.hand_brake_on";

void take_up(Volume& v) {
    v.walls = taken_up(v.walls);
    v.knocked_back = 0.0;
    v.hand_brake_on = true;
}

} // namespace

void build_hand_brake(Inputs& in, Parts& parts) {
    const auto named = in.texts(key);
    for (const std::string& name : named) {
        bool found = false;
        for (Volume& v : parts.net.volumes)
            if (v.name == name || v.place == name) {
                take_up(v);
                found = true;
            }
        if (!found)
            in.fault(key, fmt::format("there is no part \"{}\" for the hand brake to hold; allowed: {}", name,
                                      fmt::join(parts.names(), ", ")));
    }
    if (!named.empty())
        in.warn(fmt::format(
            "the hand brake is on at {}: no slack is felt there, neither bled nor pressed; let it "
            "off before shoes are adjusted or slack is judged",
            fmt::join(named, ", ")));
}

} // namespace clearstroke
