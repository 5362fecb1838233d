#include <algorithm>
#include <set>

#include <fmt/format.h>
#include <fmt/ranges.h>

#include "scenarios/build/parts.hpp"

namespace clearstroke {
namespace {

template <class List> auto* named(List& list, const std::string& name) {
    const auto at = std::ranges::find_if(list, [&](const auto& part) { return part.name == name; });
    return at == list.end() ? nullptr : &*at;
}

template <class List> void no_such(Inputs& in, const std::string& key, const List& list) {
    std::vector<std::string> known;
    for (const auto& part : list) known.push_back(part.name);
    in.fault(key, fmt::format("there is no such part; allowed: {}", fmt::join(known, ", ")));
}

/// Sets `member` of the part that each key of `section` names.
template <class List, class Set> void each(Inputs& in, const std::string& section, List& list, Set set) {
    for (const std::string& name : in.children(section)) {
        const std::string key = section + "." + name;
        const auto value = in.stated(key);
        if (auto* part = named(list, name))
            set(*part, value.value_or(0.0));
        else
            no_such(in, key, list);
    }
}

/// The piston that strokes a chamber of this name; a fault when there is none.
Piston* piston_or_fault(Inputs& in, Parts& parts, const std::string& key, const std::string& chamber) {
    std::vector<std::string> known;
    for (Actuator& a : parts.net.actuators)
        for (Piston& p : a.pistons) {
            known.push_back(parts.net.volumes[p.chamber.index].name);
            if (known.back() == chamber) return &p;
        }
    in.fault(key, fmt::format("\"{}\" is no cylinder chamber; allowed: {}", chamber, fmt::join(known, ", ")));
    return nullptr;
}

/// The part of this name whose pistons press brakes or a clutch; a fault when there is none, or when it is a cylinder's
/// chamber, whose piston is the rod's.
Volume* pressed_or_fault(Inputs& in, Parts& parts, const std::string& key, const std::string& name) {
    const std::set<std::size_t> chambers = stroked_chambers(parts.net);
    std::vector<std::string> known;
    for (std::size_t v = 0; v < parts.net.volumes.size(); ++v) {
        if (chambers.contains(v)) continue;
        known.push_back(parts.net.volumes[v].name);
        if (known.back() == name) return &parts.net.volumes[v];
    }
    in.fault(key, fmt::format("\"{}\" has no pistons that fluid moves; allowed: {}", name,
                              fmt::join(known, ", ")));
    return nullptr;
}

template <class Set> void each_pressed(Inputs& in, Parts& parts, const std::string& section, Set set) {
    for (const std::string& name : in.children(section)) {
        const std::string key = section + "." + name;
        const auto value = in.stated(key);
        if (Volume* v = pressed_or_fault(in, parts, key, name)) set(*v, value.value_or(0.0));
    }
}

void fit_booster(Inputs& in, Parts& parts) {
    const Booster booster{in.value("booster.gain"), in.value("booster.from"), in.value("booster.run_out"),
                          in.value("booster.spent")};
    for (Actuator& a : parts.net.actuators)
        if (!a.hand) a.booster = booster;
}

} // namespace

void build_faults(Inputs& in, Parts& parts) {
    if (in.has("booster")) fit_booster(in, parts);
    auto& volumes = parts.net.volumes;
    each_pressed(in, parts, "faults.knocked_back", [](Volume& v, double x) { v.knocked_back = x; });
    each_pressed(in, parts, "faults.stuck", [](Volume& v, double x) { v.walls = partly_stuck(v.walls, x); });
    each(in, "faults.leak", volumes, [](Volume& v, double x) { v.leak = x; });
    each(in, "faults.air_entry", volumes, [](Volume& v, double x) { v.air_entry = x; });
    each(in, "faults.swollen", parts.net.lines, [](Line& l, double x) {
        l.walls.compliance *= x;
        l.walls.settling_volume *= x;
    });
    for (const std::string& name : in.children("faults.bypass")) {
        const std::string key = "faults.bypass." + name;
        const auto value = in.stated(key);
        if (Piston* p = piston_or_fault(in, parts, key, name)) p->bypass = value.value_or(0.0);
    }
    for (const std::string& name : in.texts("faults.blocked_ports"))
        if (Piston* p = piston_or_fault(in, parts, "faults.blocked_ports", name)) p->port_blocked = true;
}

} // namespace clearstroke
