#include <algorithm>

#include <fmt/format.h>
#include <fmt/ranges.h>

#include "scenarios/build/acts.hpp"

namespace clearstroke {
namespace {

std::vector<Act> acts_at(Inputs& in, const Parts& parts, const std::string& key) {
    std::vector<Act> out;
    for (const std::string& text : in.texts(key)) {
        auto read = read_act(text, parts);
        if (auto* act = std::get_if<Act>(&read))
            out.push_back(std::move(*act));
        else
            in.fault(key, fmt::format("{}; allowed: {}", std::get<std::string>(read), acts_allowed));
    }
    return out;
}

/// A ready-made list with the amounts of [operator].
Method ready_made(Inputs& in, const std::string& name) {
    const auto watch = [&] { return in.value("operator.watch"); };
    if (name == "gravity") return gravity(watch());
    if (name == "reservoir pressure")
        return reservoir_pressure(in.value("operator.reservoir_pressure"), watch());
    if (name == "vacuum") return vacuum_at_the_screw(in.value("operator.vacuum"), watch());
    if (name == "injection") return injection_at_the_screw(in.value("operator.injection_pressure"), watch());
    if (name == "pump and hold") return pump_and_hold(in.count("operator.pumps"));
    if (name == "long hold") return long_hold_and_release(in.value("operator.long_hold"));
    if (name == "small strokes") return small_strokes(in.value("operator.small_share"));
    return *find_method(name);
}

/// Acts of a method of one's own stay in the file while another method is tried.
void note_idle_acts(Inputs& in, const std::string& method) {
    for (const char* key : {"acts.arrive", "acts.stroke", "acts.leave"}) {
        if (!in.has(key)) continue;
        in.use(key);
        in.warn(fmt::format("{} is not used: it belongs to method = \"own\", this is \"{}\"", key, method));
    }
}

Method method_of(Inputs& in, const Parts& parts) {
    const std::string name = in.text("method");
    if (name != "own") {
        note_idle_acts(in, name);
        return ready_made(in, name);
    }
    Method own{"own", acts_at(in, parts, "acts.arrive"), acts_at(in, parts, "acts.stroke"),
               acts_at(in, parts, "acts.leave")};
    if (own.stroke.empty()) in.fault("acts.stroke", "missing; method = \"own\" needs the acts of one stroke");
    return own;
}

Operator operator_of(Inputs& in) {
    Operator p;
    p.push_speed = in.value("operator.push_speed");
    p.release_speed = in.value("operator.release_speed");
    p.force_limit = in.value("operator.force_limit");
    p.stroke_share = in.value("operator.stroke_share");
    p.hold = in.value("operator.hold");
    p.dwell = in.value("operator.dwell");
    p.act_time = in.value("operator.act_time");
    p.move_time = in.value("operator.move_time");
    p.turns = in.value("operator.turns");
    p.top_up_below = in.value("operator.top_up_below");
    return p;
}

StopRule stop_of(Inputs& in, const Parts& parts) {
    StopRule s;
    s.clear_strokes = in.count("stop.clear_strokes");
    s.hose_volumes = in.value("stop.hose_volumes");
    const bool change = parts.contents.fresh_fraction < 0.5;
    s.new_colour = in.stated("stop.new_colour").value_or(change ? 0.9 : 0.0);
    s.most_strokes = in.count("stop.most_strokes");
    return s;
}

std::optional<ScrewId> screw_or_fault(Inputs& in, const Parts& parts, const std::string& name,
                                      const std::string& key) {
    const auto screw = parts.screw(name);
    if (screw) return screw;
    std::vector<std::string> known;
    for (const Screw& s : parts.net.screws) known.push_back(s.name);
    in.fault(key, fmt::format("there is no screw \"{}\"; allowed: {}", name, fmt::join(known, ", ")));
    return std::nullopt;
}

/// Unless the file says otherwise: far from the cylinder first, within a wheel in the order of the parts.
/// Lengths at the usual values decide, so that all samples of a scenario keep one order.
std::vector<Visit> usual_visits(Inputs& in, const Network& net) {
    std::vector<double> length;
    std::vector<std::size_t> order;
    for (std::size_t i = 0; i < net.screws.size(); ++i) {
        length.push_back(in.clean() ? path_length(net, ScrewId{i}) : 0.0);
        order.push_back(i);
    }
    std::ranges::stable_sort(order,
                             [&](std::size_t a, std::size_t b) { return length[a] > length[b] + 1e-6; });
    std::vector<Visit> out;
    for (const std::size_t i : in.usual_order(std::move(order))) out.push_back({ScrewId{i}, {}, {}});
    return out;
}

std::vector<Visit> listed_visits(Inputs& in, const Parts& parts) {
    std::vector<Visit> out;
    for (const std::string& number : in.children("visits")) {
        const std::string key = "visits." + number;
        const auto screw = screw_or_fault(in, parts, in.text(key + ".screw"), key + ".screw");
        const auto strokes = in.stated_count(key + ".strokes");
        auto before = acts_at(in, parts, key + ".before");
        std::optional<Method> method;
        if (const auto name = in.stated_text(key + ".method")) method = ready_made(in, *name);
        if (screw) out.push_back({*screw, strokes, std::move(before), std::move(method)});
    }
    return out;
}

std::vector<Visit> visits_of(Inputs& in, const Parts& parts) {
    if (in.has("visits") && in.has("bleed_order")) {
        const Place other = in.document().place_of("bleed_order");
        in.use("bleed_order");
        in.fault("visits", fmt::format("say the same as bleed_order at {}:{}:{}; allowed: one of the two",
                                       other.file, other.line, other.column));
    }
    if (in.has("visits")) return listed_visits(in, parts);
    std::vector<Visit> out;
    for (const std::string& name : in.texts("bleed_order"))
        if (const auto screw = screw_or_fault(in, parts, name, "bleed_order"))
            out.push_back({*screw, {}, {}});
    return out.empty() ? usual_visits(in, parts.net) : out;
}

} // namespace

Procedure build_procedure(Inputs& in, const Parts& parts) {
    Procedure p;
    p.method = method_of(in, parts);
    p.person = operator_of(in);
    p.stop = stop_of(in, parts);
    p.target.excess = in.value("target.excess");
    const bool hand = !parts.net.actuators.empty() && parts.net.actuators.front().hand;
    p.target.pad_forces = in.quantities("target.pad_forces");
    if (p.target.pad_forces.empty())
        p.target.pad_forces = hand ? std::vector{100.0, 200.0} : std::vector{222.0, 500.0};
    p.prepare = acts_at(in, parts, "acts.prepare");
    p.visits = visits_of(in, parts);
    return p;
}

} // namespace clearstroke
