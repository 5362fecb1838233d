#include "scenarios/build/acts.hpp"

#include <algorithm>

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
    if (rest == "all") return Act{OpenAll{}};
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

std::optional<double> quantity(std::string_view text, std::string_view unit) {
    const auto read = read_quantity(text, unit);
    return read.fault == QuantityFault::none ? std::optional(read.value.usual) : std::nullopt;
}

/// A pedal or lever and what is said of the stroke: "front lever, hold 5 s".
struct Setting {
    std::string_view word, unit;
    std::optional<double>* value;
};
std::optional<std::string> read_stroke(std::string_view rest, const Parts& parts,
                                       std::optional<ActuatorId>& actuator,
                                       std::initializer_list<Setting> settings) {
    for (bool first = true; !rest.empty() || first; first = false) {
        const auto comma = rest.find(", ");
        std::string_view one = rest.substr(0, comma);
        rest = comma == std::string_view::npos ? std::string_view{} : rest.substr(comma + 2);
        if (first && one.empty()) continue;
        if (first && (actuator = parts.actuator(one))) continue;
        const auto* setting =
            std::ranges::find_if(settings, [&](const Setting& s) { return after(one, s.word).has_value(); });
        if (setting == settings.end())
            return first ? fmt::format("there is no pedal or lever \"{}\"", one)
                         : fmt::format("\"{}\" says nothing about a stroke", one);
        *setting->value = quantity(*after(one, setting->word), setting->unit);
        if (!*setting->value || **setting->value < 0.0)
            return fmt::format("\"{}\" is no {}", one, setting->word);
    }
    return std::nullopt;
}

Read read_press(std::string_view rest, const Parts& parts) {
    Press act;
    const auto wrong =
        read_stroke(rest, parts, act.actuator,
                    {{"share", "1", &act.share}, {"force", "N", &act.force}, {"hold", "s", &act.hold}});
    if (wrong) return *wrong;
    if (act.share && !(*act.share > 0.0 && *act.share <= 1.0))
        return std::string("the share of a stroke lies between 0 and 1");
    return Act{act};
}

Read read_release(std::string_view rest, const Parts& parts) {
    Release act;
    const auto wrong =
        read_stroke(rest, parts, act.actuator, {{"speed", "m/s", &act.speed}, {"dwell", "s", &act.dwell}});
    if (wrong) return *wrong;
    if (act.speed && *act.speed <= 0.0) return std::string("a pedal does not come back at no speed");
    return Act{act};
}

/// "LF caliper to 90 deg", "LF caliper by 0.4 m".
Read read_move(std::string_view rest, std::string_view word, std::string_view unit, const Parts& parts) {
    const auto at = rest.rfind(word);
    if (at == std::string_view::npos)
        return std::string(unit == "m" ? "does not say by how much" : "does not say to which angle");
    const auto part = parts.volume(rest.substr(0, at));
    if (!part) return no_part("volume", rest.substr(0, at));
    const std::string_view amount = rest.substr(at + word.size());
    const auto value = quantity(amount, unit);
    if (!value) return fmt::format("\"{}\" is no {}", amount, unit == "m" ? "length" : "angle");
    return unit == "m" ? Act{LiftPart{*part, *value}} : Act{TurnPart{*part, *value}};
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

/// An act on a line that is done or undone.
template <class OnLine> Read read_on_line(std::string_view name, bool on, const Parts& parts) {
    const auto line = parts.line(name);
    return line ? Read{Act{OnLine{*line, on}}} : no_part("line", name);
}

Read read_pressure(std::string_view text, bool hose) {
    const auto gauge = quantity(text, "bar");
    if (!gauge || *gauge <= -1e5) return fmt::format("\"{}\" is no gauge pressure above -1 bar", text);
    return hose ? Act{HosePressure{*gauge}} : Act{ReservoirPressure{*gauge}};
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
    std::string operator()(const OpenAll&) const { return "open all"; }
    std::string operator()(const CloseAll&) const { return "close all"; }
    static std::string setting(const char* word, const std::optional<double>& value, const char* unit) {
        return value ? fmt::format(", {} {}", word, exact(*value, unit)) : "";
    }
    std::string operator()(const Press& a) const {
        return on("press", actuator(a.actuator)) + setting("share", a.share, "1") +
               setting("force", a.force, "N") + setting("hold", a.hold, "s");
    }
    std::string operator()(const Release& a) const {
        return on("release", actuator(a.actuator)) + setting("speed", a.speed, "m/s") +
               setting("dwell", a.dwell, "s");
    }
    std::string operator()(const PushHome& a) const {
        return "push home " + net.actuators[a.actuator.index].name;
    }
    std::string operator()(const Wait& a) const { return fmt::format("wait {} s", a.seconds); }
    std::string operator()(const TopUp&) const { return "top up"; }
    std::string operator()(const DrawOff&) const { return "draw off"; }
    std::string operator()(const Tap& a) const {
        return a.volume ? "tap " + net.volumes[a.volume->index].name : "tap";
    }
    std::string operator()(const LiftPart& a) const {
        return fmt::format("lift {} by {} m", net.volumes[a.volume.index].name, a.lift);
    }
    std::string operator()(const TurnPart& a) const {
        return fmt::format("turn {} to {} rad", net.volumes[a.volume.index].name, a.roll);
    }
    std::string operator()(const PitchVehicle& a) const {
        return fmt::format("pitch {} rad, roll {} rad", a.pitch, a.roll);
    }
    std::string operator()(const Cap& a) const {
        return on(a.capped ? "cap" : "uncap", net.lines[a.line.index].name);
    }
    std::string operator()(const CapAround& a) const { return a.capped ? "cap around" : "uncap around"; }
    std::string operator()(const Clamp& a) const {
        return on(a.clamped ? "clamp" : "unclamp", net.lines[a.line.index].name);
    }
    std::string operator()(const HoldValve& a) const {
        return on(a.open ? "hold open" : "let go", net.lines[a.line.index].name);
    }
    std::string operator()(const HoseOff&) const { return "hose off"; }
    std::string operator()(const FillHose&) const { return "fill hose"; }
    std::string operator()(const OneWayHose& a) const { return a.fitted ? "one-way hose" : "plain hose"; }
    std::string operator()(const HosePressure& a) const {
        return fmt::format("hose pressure {} Pa", a.gauge);
    }
    std::string operator()(const ReservoirPressure& a) const {
        return fmt::format("reservoir pressure {} Pa", a.gauge);
    }
    std::string operator()(const HoseEnd& a) const {
        return a.submerged ? "hose end submerged" : "hose end in air";
    }
};

} // namespace

namespace {

/// Acts that say nothing about a part.
std::optional<Act> plain_act(std::string_view text) {
    if (text == "top up") return TopUp{};
    if (text == "draw off") return DrawOff{};
    if (text == "tap") return Tap{};
    if (text == "open all") return OpenAll{};
    if (text == "close all") return CloseAll{};
    if (text == "hose end in air") return HoseEnd{false};
    if (text == "hose end submerged") return HoseEnd{true};
    if (text == "hose off") return HoseOff{};
    if (text == "fill hose") return FillHose{};
    if (text == "one-way hose") return OneWayHose{true};
    if (text == "plain hose") return OneWayHose{false};
    if (text == "cap around") return CapAround{true};
    if (text == "uncap around") return CapAround{false};
    return std::nullopt;
}

Read read_wait(std::string_view text) {
    const auto time = quantity(text, "s");
    return time && *time >= 0.0 ? Read{Act{Wait{*time}}} : fmt::format("\"{}\" is no time", text);
}

} // namespace

Read read_act(std::string_view text, const Parts& parts) {
    if (const auto plain = plain_act(text)) return *plain;
    if (const auto rest = after(text, "open")) return read_open(*rest, parts);
    if (const auto rest = after(text, "close"))
        return read_on<CloseScrew>(*rest, "screw", [&](auto name) { return parts.screw(name); });
    if (text.starts_with("press, ")) return read_press(text.substr(5), parts);
    if (text.starts_with("release, ")) return read_release(text.substr(7), parts);
    if (const auto rest = after(text, "press")) return read_press(*rest, parts);
    if (const auto rest = after(text, "release")) return read_release(*rest, parts);
    if (const auto rest = after(text, "push home")) {
        const auto id = parts.actuator(*rest);
        return id ? Read{Act{PushHome{*id}}} : no_part("piston", *rest);
    }
    if (const auto rest = after(text, "wait")) return read_wait(*rest);
    if (const auto rest = after(text, "tap")) {
        const auto id = parts.volume(*rest);
        return id ? Read{Act{Tap{*id}}} : no_part("volume", *rest);
    }
    if (const auto rest = after(text, "turn")) return read_move(*rest, " to ", "deg", parts);
    if (const auto rest = after(text, "lift")) return read_move(*rest, " by ", "m", parts);
    if (text.starts_with("pitch ") || text.starts_with("roll ")) return read_attitude(text);
    if (const auto rest = after(text, "cap")) return read_on_line<Cap>(*rest, true, parts);
    if (const auto rest = after(text, "uncap")) return read_on_line<Cap>(*rest, false, parts);
    if (const auto rest = after(text, "clamp")) return read_on_line<Clamp>(*rest, true, parts);
    if (const auto rest = after(text, "unclamp")) return read_on_line<Clamp>(*rest, false, parts);
    if (const auto rest = after(text, "hold open")) return read_on_line<HoldValve>(*rest, true, parts);
    if (const auto rest = after(text, "let go")) return read_on_line<HoldValve>(*rest, false, parts);
    if (const auto rest = after(text, "hose pressure")) return read_pressure(*rest, true);
    if (const auto rest = after(text, "reservoir pressure")) return read_pressure(*rest, false);
    return fmt::format("\"{}\" is not an act", text);
}

std::string write_act(const Act& act, const Network& net) { return std::visit(Writer{net}, act); }

} // namespace clearstroke
