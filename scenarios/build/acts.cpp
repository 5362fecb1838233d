#include "scenarios/build/acts.hpp"

#include <fmt/format.h>

#include "scenarios/io/quantity.hpp"

namespace clearstroke {
namespace {

using Read = std::variant<Act, std::string>;

/// What follows `word`; nothing when the text does not begin with it.
std::optional<std::string_view> after(std::string_view text, std::string_view word) {
    if (!text.starts_with(word)) return std::nullopt;
    text.remove_prefix(word.size());
    if (text.empty()) return text;
    if (text.front() != ' ') return std::nullopt;
    return text.substr(1);
}

Read no_part(std::string_view what, std::string_view name) {
    return fmt::format("there is no {} \"{}\"", what, name);
}

Read read_open(std::string_view rest, const Parts& parts) {
    OpenScrew act;
    if (rest.ends_with(" turns") || rest.ends_with(" turn")) {
        rest = rest.substr(0, rest.rfind(' '));
        const auto space = rest.rfind(' ');
        const auto number = rest.substr(space == std::string_view::npos ? 0 : space + 1);
        const auto turns = read_quantity(number, "1");
        if (turns.fault != QuantityFault::none || turns.value.usual <= 0.0)
            return fmt::format("\"{}\" is no number of turns", number);
        act.turns = turns.value.usual;
        rest = space == std::string_view::npos ? std::string_view{} : rest.substr(0, space);
    }
    if (!rest.empty() && !(act.screw = parts.screw(rest))) return no_part("screw", rest);
    return Act{act};
}

template <class OnPart, class Find> Read read_on(std::string_view rest, std::string_view what, Find find) {
    if (rest.empty()) return Act{OnPart{}};
    if (const auto id = find(rest)) return Act{OnPart{*id}};
    return no_part(what, rest);
}

Read read_turn(std::string_view rest, const Parts& parts) {
    const auto to = rest.rfind(" to ");
    if (to == std::string_view::npos) return std::string("does not say to which angle");
    const auto part = parts.volume(rest.substr(0, to));
    if (!part) return no_part("volume", rest.substr(0, to));
    const auto angle = read_quantity(rest.substr(to + 4), "deg");
    if (angle.fault != QuantityFault::none) return fmt::format("\"{}\" is no angle", rest.substr(to + 4));
    return Act{TurnPart{*part, angle.value.usual}};
}

Read read_attitude(std::string_view text) {
    PitchVehicle act;
    for (std::string_view rest = text; !rest.empty();) {
        const auto comma = rest.find(", ");
        const std::string_view one = rest.substr(0, comma);
        const auto pitch = after(one, "pitch"), roll = after(one, "roll");
        if (!pitch && !roll) return fmt::format("\"{}\" is neither pitch nor roll", one);
        const auto angle = read_quantity(pitch ? *pitch : *roll, "deg");
        if (angle.fault != QuantityFault::none) return fmt::format("\"{}\" has no angle", one);
        (pitch ? act.pitch : act.roll) = angle.value.usual;
        rest = comma == std::string_view::npos ? std::string_view{} : rest.substr(comma + 2);
    }
    return Act{act};
}

Read read_cap(std::string_view name, bool capped, const Parts& parts) {
    const auto line = parts.line(name);
    return line ? Read{Act{Cap{*line, capped}}} : no_part("line", name);
}

std::string on(std::string_view verb, std::string_view name) {
    return name.empty() ? std::string(verb) : fmt::format("{} {}", verb, name);
}

struct Writer {
    const Network& net;
    std::string screw(const std::optional<ScrewId>& s) const { return s ? net.screws[s->index].name : ""; }
    std::string actuator(const std::optional<ActuatorId>& a) const {
        return a ? net.actuators[a->index].name : "";
    }

    std::string operator()(const OpenScrew& a) const {
        return on("open", screw(a.screw)) + (a.turns ? fmt::format(" {} turns", *a.turns) : "");
    }
    std::string operator()(const CloseScrew& a) const { return on("close", screw(a.screw)); }
    std::string operator()(const Press& a) const { return on("press", actuator(a.actuator)); }
    std::string operator()(const Release& a) const { return on("release", actuator(a.actuator)); }
    std::string operator()(const Wait& a) const { return fmt::format("wait {} s", a.seconds); }
    std::string operator()(const TopUp&) const { return "top up"; }
    std::string operator()(const TurnPart& a) const {
        return fmt::format("turn {} to {} rad", net.volumes[a.volume.index].name, a.roll);
    }
    std::string operator()(const PitchVehicle& a) const {
        return fmt::format("pitch {} rad, roll {} rad", a.pitch, a.roll);
    }
    std::string operator()(const Cap& a) const {
        return on(a.capped ? "cap" : "uncap", net.lines[a.line.index].name);
    }
    std::string operator()(const HoseEnd& a) const {
        return a.submerged ? "hose end submerged" : "hose end in air";
    }
};

} // namespace

Read read_act(std::string_view text, const Parts& parts) {
    if (text == "top up") return Act{TopUp{}};
    if (text == "hose end in air") return Act{HoseEnd{false}};
    if (text == "hose end submerged") return Act{HoseEnd{true}};
    if (const auto rest = after(text, "open")) return read_open(*rest, parts);
    if (const auto rest = after(text, "close"))
        return read_on<CloseScrew>(*rest, "screw", [&](auto name) { return parts.screw(name); });
    if (const auto rest = after(text, "press"))
        return read_on<Press>(*rest, "pedal or lever", [&](auto name) { return parts.actuator(name); });
    if (const auto rest = after(text, "release"))
        return read_on<Release>(*rest, "pedal or lever", [&](auto name) { return parts.actuator(name); });
    if (const auto rest = after(text, "wait")) {
        const auto time = read_quantity(*rest, "s");
        if (time.fault != QuantityFault::none || time.value.usual < 0.0)
            return fmt::format("\"{}\" is no time", *rest);
        return Act{Wait{time.value.usual}};
    }
    if (const auto rest = after(text, "turn")) return read_turn(*rest, parts);
    if (text.starts_with("pitch ") || text.starts_with("roll ")) return read_attitude(text);
    if (const auto rest = after(text, "cap")) return read_cap(*rest, true, parts);
    if (const auto rest = after(text, "uncap")) return read_cap(*rest, false, parts);
    return fmt::format("\"{}\" is not an act", text);
}

std::string write_act(const Act& act, const Network& net) { return std::visit(Writer{net}, act); }

} // namespace clearstroke
