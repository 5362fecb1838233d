#include <algorithm>
#include <set>

#include <fmt/format.h>
#include <fmt/ranges.h>

#include "models/tube_flow.hpp"
#include "scenarios/build/parts.hpp"

namespace clearstroke {
namespace {

/// Parts that a word of [work] means.
struct Meant {
    std::vector<std::size_t> volumes, lines, junctions;
    bool reservoir{};
    [[nodiscard]] bool none() const {
        return volumes.empty() && lines.empty() && junctions.empty() && !reservoir;
    }
};

/// "front calipers", "rear hoses", "all wheel cylinders": an axle and a kind.
bool in_group(const std::string& word, const std::string& part) {
    const auto space = word.find(' ');
    if (space == std::string::npos || word.back() != 's') return false;
    const std::string axle = word.substr(0, space),
                      kind = " " + word.substr(space + 1, word.size() - space - 2);
    const auto at = part.find(kind);
    if (at == std::string::npos) return false;
    const std::string wheel = part.substr(0, at);
    const bool front = wheel == "LF" || wheel == "RF" || wheel == "F" || wheel == "front";
    const bool rear = wheel == "LR" || wheel == "RR" || wheel == "R" || wheel == "rear";
    return axle == "all" || (axle == "front" && front) || (axle == "rear" && rear);
}

/// Works out where air stands; every amount is the larger of what its causes leave.
class Filling {
public:
    Filling(Inputs& in, Parts& parts)
        : in_(in), parts_(parts), net_(parts.net), chambers_(stroked_chambers(net_)),
          shares_(net_.lines.size()) {}

    void by_condition(const std::string& condition);
    void by_work();
    void write_lines();

private:
    struct Ends {
        double from{}, to{};
    };
    Inputs& in_;
    Parts& parts_;
    const Network& net_;
    std::set<std::size_t> chambers_;
    std::vector<Ends> shares_; ///< of each line's volume, gas beside its two ends

    [[nodiscard]] bool is_chamber(std::size_t v) const { return chambers_.contains(v); }

    void volume(std::size_t v, double share) {
        double& gas = parts_.contents.volume_gas[v];
        gas = std::max(gas, std::min(1.0, share) * net_.volumes[v].content);
    }
    void line(std::size_t l, double share) {
        shares_[l].from = std::max(shares_[l].from, std::min(1.0, share));
    }

    /// The ends of lines that sit in a volume or junction drain over `length`.
    template <class Here> void beside(const Here& here, double length) {
        for (std::size_t l = 0; l < net_.lines.size(); ++l) {
            const double share = std::min(1.0, length / net_.lines[l].length);
            if (here(net_.lines[l].from)) shares_[l].from = std::max(shares_[l].from, share);
            if (here(net_.lines[l].to)) shares_[l].to = std::max(shares_[l].to, share);
        }
    }
    void beside_volume(std::size_t v, double length) {
        beside(
            [v](const End& e) {
                const auto* p = std::get_if<PortRef>(&e);
                return p && p->volume.index == v;
            },
            length);
    }
    void beside_junction(std::size_t j, double length) {
        beside(
            [j](const End& e) {
                const auto* p = std::get_if<JunctionId>(&e);
                return p && p->index == j;
            },
            length);
    }
    void beside_end(const End& end, double length) {
        if (const auto* j = std::get_if<JunctionId>(&end)) return beside_junction(j->index, length);
        const auto* p = std::get_if<PortRef>(&end);
        if (!p) return;
        volume(p->volume.index, is_chamber(p->volume.index) ? in_.value("work.air_in_primed_cylinder")
                                                            : in_.value("work.air_in_opened_part"));
    }

    void cylinder(std::size_t v) {
        const bool primed = in_.truth("work.cylinder_primed");
        volume(v, in_.value(primed ? "work.air_in_primed_cylinder" : "work.air_in_unprimed_cylinder"));
    }
    void ran_dry() {
        for (const std::size_t v : chambers_) {
            volume(v, in_.value("work.air_in_run_dry_cylinder"));
            beside_volume(v, in_.value("work.air_below_dry_reservoir"));
        }
    }
    void renew(const Meant&);
    void open(const Meant&);
    void known_air(const std::string& name, double amount);
    [[nodiscard]] Meant meant(const std::string& word) const;
    [[nodiscard]] Meant meant_or_fault(const std::string& word, const std::string& key);
};

Meant Filling::meant(const std::string& word) const {
    Meant out;
    const auto is = [&](const std::string& name, const std::string& place) {
        return name == word || place == word || in_group(word, name);
    };
    for (std::size_t v = 0; v < net_.volumes.size(); ++v)
        if (is(net_.volumes[v].name, net_.volumes[v].place) || (word == "master cylinder" && is_chamber(v)))
            out.volumes.push_back(v);
    for (std::size_t l = 0; l < net_.lines.size(); ++l)
        if (is(net_.lines[l].name, net_.lines[l].place)) out.lines.push_back(l);
    for (std::size_t j = 0; j < net_.junctions.size(); ++j)
        if (net_.junctions[j].name == word) out.junctions.push_back(j);
    for (const Reservoir& r : net_.reservoirs)
        out.reservoir = out.reservoir || r.name == word || word == "reservoir";
    return out;
}

Meant Filling::meant_or_fault(const std::string& word, const std::string& key) {
    Meant out = meant(word);
    if (!out.none()) return out;
    auto known = parts_.names();
    for (const Reservoir& r : net_.reservoirs) known.push_back(r.name);
    const std::string near = nearest(word, known);
    in_.fault(key, fmt::format("\"{}\" is not a part of this circuit{}; allowed: {}", word,
                               near.empty() ? "" : fmt::format(" (did you mean \"{}\"?)", near),
                               fmt::join(known, ", ")));
    return out;
}

void Filling::renew(const Meant& what) {
    const double beside_joint = in_.value("work.air_beside_joint");
    if (what.reservoir) ran_dry();
    for (const std::size_t v : what.volumes) {
        if (is_chamber(v))
            cylinder(v);
        else
            volume(v, in_.value("work.air_in_renewed_part"));
        beside_volume(v, beside_joint);
    }
    for (const std::size_t l : what.lines) {
        line(l, in_.value("work.air_in_renewed_line"));
        beside_end(net_.lines[l].from, beside_joint);
        beside_end(net_.lines[l].to, beside_joint);
    }
    for (const std::size_t j : what.junctions) beside_junction(j, beside_joint);
}

void Filling::open(const Meant& what) {
    const double beside_joint = in_.value("work.air_beside_joint");
    if (what.reservoir) ran_dry();
    for (const std::size_t v : what.volumes) {
        volume(v, is_chamber(v) ? in_.value("work.air_in_primed_cylinder")
                                : in_.value("work.air_in_opened_part"));
        beside_volume(v, beside_joint);
    }
    for (const std::size_t l : what.lines) {
        const double share = std::min(1.0, beside_joint / net_.lines[l].length);
        shares_[l] = {std::max(shares_[l].from, share), std::max(shares_[l].to, share)};
        beside_end(net_.lines[l].from, beside_joint);
        beside_end(net_.lines[l].to, beside_joint);
    }
    for (const std::size_t j : what.junctions) beside_junction(j, beside_joint);
}

void Filling::known_air(const std::string& name, double amount) {
    const std::string key = "work.air." + name;
    const Meant what = meant_or_fault(name, key);
    double room = 0.0;
    for (const std::size_t v : what.volumes) room += net_.volumes[v].content;
    for (const std::size_t l : what.lines) room += net_.lines[l].length * circle_area(net_.lines[l].bore);
    if (what.none()) return;
    if (amount > room * (1.0 + 1e-9))
        return in_.fault(key,
                         fmt::format("is more than the part holds; allowed: up to {:.4g} mL", 1e6 * room));
    const double share = std::min(1.0, amount / room);
    for (const std::size_t v : what.volumes) parts_.contents.volume_gas[v] = share * net_.volumes[v].content;
    for (const std::size_t l : what.lines) shares_[l] = {share, 0.0};
}

void Filling::by_work() {
    for (const std::string& word : in_.texts("work.renewed")) renew(meant_or_fault(word, "work.renewed"));
    for (const std::string& word : in_.texts("work.opened")) open(meant_or_fault(word, "work.opened"));
    if (in_.truth("work.reservoir_ran_dry")) ran_dry();
    for (const std::string& name : in_.children("work.air")) known_air(name, *in_.stated("work.air." + name));
}

void Filling::by_condition(const std::string& condition) {
    std::ranges::fill(parts_.contents.volume_gas, 0.0);
    for (auto& stretches : parts_.contents.line_gas) stretches.clear();
    if (condition == "full" || condition == "fluid change") return;
    const bool dry = condition == "dry", little = condition == "little air";
    const double part = dry ? 1.0 : in_.value(little ? "work.little_air" : "work.air_in_drained_part");
    for (std::size_t v = 0; v < net_.volumes.size(); ++v)
        if (!is_chamber(v)) volume(v, part);
    if (little) return;
    for (std::size_t l = 0; l < net_.lines.size(); ++l)
        line(l, dry ? 1.0 : in_.value("work.air_in_drained_line"));
    for (const std::size_t v : chambers_) {
        if (dry)
            cylinder(v);
        else
            volume(v, in_.value("work.air_in_run_dry_cylinder"));
    }
}

/// The two shares of each line as stretches, moved on from their joints.
void Filling::write_lines() {
    bool any = false;
    for (const Ends& e : shares_) any = any || e.from > 0.0 || e.to > 0.0;
    const double moved = any ? in_.value("work.air_moved_on") : 0.0;
    for (std::size_t l = 0; l < shares_.size(); ++l) {
        const Ends e = shares_[l];
        auto& out = parts_.contents.line_gas[l];
        if (e.from <= 0.0 && e.to <= 0.0) continue;
        out.clear();
        const double room = 1.0 - e.from - e.to;
        if (room <= 0.0) {
            out.push_back({0.0, 1.0});
            continue;
        }
        const double shift = moved * (e.from > 0.0 && e.to > 0.0 ? 0.5 : 1.0) * room;
        if (e.from > 0.0) out.push_back({shift, shift + e.from});
        if (e.to > 0.0) out.push_back({1.0 - e.to - shift, 1.0 - shift});
    }
}

} // namespace

void build_contents(Inputs& in, Parts& parts) {
    const auto condition = in.stated_text("condition");
    in.use("work"); // its amounts are valid whatever was done
    Filling filling(in, parts);
    if (condition) {
        filling.by_condition(*condition);
        if (in.has("work.renewed") || in.has("work.opened") || in.has("work.air") ||
            in.has("work.reservoir_ran_dry"))
            in.warn(fmt::format("condition = \"{}\" replaces what [work] says about air", *condition));
    } else {
        filling.by_work();
    }
    filling.write_lines();
    auto& held = parts.contents.volume_held;
    if (!held.empty()) held.resize(parts.contents.volume_gas.size(), 0.0);
    for (std::size_t v = 0; v < held.size(); ++v) held[v] = std::min(held[v], parts.contents.volume_gas[v]);
    const bool change = condition ? *condition == "fluid change" : in.truth("work.fluid_change");
    parts.contents.fresh_fraction = in.stated("contents.fresh_fraction").value_or(change ? 0.0 : 1.0);
    parts.contents.reservoir_fresh_fraction = in.value("contents.reservoir_fresh_fraction");
}

} // namespace clearstroke
