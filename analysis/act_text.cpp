#include "analysis/act_text.hpp"

#include <cmath>

#include <fmt/format.h>
#include <fmt/ranges.h>

#include "models/constants.hpp"

namespace clearstroke {
namespace {

double degrees(double angle) { return angle * 180.0 / pi; }

struct InWords {
    const Network& net;

    [[nodiscard]] std::string screw(const std::optional<ScrewId>& id) const {
        return id ? "screw " + net.screws[id->index].name : "the screw";
    }
    [[nodiscard]] std::string at(const std::optional<ActuatorId>& id) const {
        return id ? " " + net.actuators[id->index].name : "";
    }
    std::string operator()(const OpenScrew& a) const {
        return "open " + screw(a.screw) + (a.turns ? fmt::format(" {:.2f} turns", *a.turns) : "");
    }
    std::string operator()(const CloseScrew& a) const { return "close " + screw(a.screw); }
    std::string operator()(const OpenAll&) const { return "open every screw of the circuit"; }
    std::string operator()(const CloseAll&) const { return "close them"; }
    static std::string held(double seconds) {
        if (seconds <= 0.0) return ", no hold";
        return seconds < 600.0 ? fmt::format(" and hold {:.0f} s", seconds)
                               : fmt::format(" and hold {:.1f} h", seconds / 3600.0);
    }
    std::string operator()(const Press& a) const {
        return "press" + at(a.actuator) +
               (a.share ? fmt::format(" {:.0f} % of its travel", 100.0 * *a.share) : "") +
               (a.force ? fmt::format(" with up to {:.0f} N", *a.force) : "") +
               (a.hold ? held(*a.hold) : " and hold");
    }
    std::string operator()(const Release& a) const {
        return "release" + at(a.actuator) + (a.speed && *a.speed > 0.5 ? " suddenly" : "") +
               (a.dwell ? fmt::format(", wait {:.1f} s", *a.dwell) : "");
    }
    std::string operator()(const PushHome& a) const {
        return "push " + net.actuators[a.actuator.index].name + " home";
    }
    std::string operator()(const DrawOff&) const { return "draw off above the mark"; }
    std::string operator()(const Tap& a) const {
        return a.volume ? "tap " + net.volumes[a.volume->index].name : "tap every part";
    }
    std::string operator()(const LiftPart& a) const {
        return a.lift == 0.0 ? "put " + net.volumes[a.volume.index].name + " back"
                             : fmt::format("unbolt {} and hold it {:.2f} m {} its place",
                                           net.volumes[a.volume.index].name, std::abs(a.lift),
                                           a.lift > 0.0 ? "above" : "below");
    }
    std::string operator()(const CapAround& a) const {
        return a.capped ? "cap the lines that leave this part" : "reconnect them";
    }
    std::string operator()(const Clamp& a) const {
        return fmt::format("{} {}", a.clamped ? "clamp" : "unclamp", net.lines[a.line.index].name);
    }
    std::string operator()(const HoldValve& a) const {
        return fmt::format("{} the valve of {}{}", a.open ? "hold" : "let go", net.lines[a.line.index].name,
                           a.open ? " open" : "");
    }
    std::string operator()(const HoseOff&) const { return "take the hose off"; }
    std::string operator()(const FillHose&) const { return "fit the hose full of fresh fluid"; }
    std::string operator()(const OneWayHose& a) const {
        return a.fitted ? "fit the one-way valve to the hose" : "take the one-way valve off";
    }
    static std::string pressure(double gauge, const char* where) {
        if (gauge == 0.0) return fmt::format("vent the {}", where);
        return fmt::format("put {:.2f} bar of {} on the {}", std::abs(gauge) / 1e5,
                           gauge > 0.0 ? "pressure" : "vacuum", where);
    }
    std::string operator()(const HosePressure& a) const { return pressure(a.gauge, "hose"); }
    std::string operator()(const ReservoirPressure& a) const { return pressure(a.gauge, "reservoir"); }
    std::string operator()(const Wait& a) const { return fmt::format("wait {:.0f} s", a.seconds); }
    std::string operator()(const TopUp&) const { return "top up"; }
    std::string operator()(const TurnPart& a) const {
        return fmt::format("turn {} to {:.0f} degrees", net.volumes[a.volume.index].name, degrees(a.roll));
    }
    std::string operator()(const PitchVehicle& a) const {
        return fmt::format("tilt the vehicle: nose {:.0f} degrees up, right side {:.0f} degrees down",
                           degrees(a.pitch), degrees(a.roll));
    }
    std::string operator()(const Cap& a) const {
        return fmt::format("{} {}", a.capped ? "cap" : "reconnect", net.lines[a.line.index].name);
    }
    std::string operator()(const HoseEnd& a) const {
        return a.submerged ? "hose end under the fluid" : "hose end in air";
    }
};

} // namespace

std::string describe(const Network& net, const Act& act) { return std::visit(InWords{net}, act); }

std::string describe(const Network& net, const std::vector<Act>& acts) {
    if (acts.empty()) return "nothing";
    std::vector<std::string> words;
    for (const Act& act : acts) words.push_back(describe(net, act));
    return fmt::format("{}", fmt::join(words, ", "));
}

std::vector<std::string> before_screw(const Network& net, const Procedure& plan, ScrewId screw) {
    std::vector<std::string> words;
    for (const Visit& visit : plan.visits) {
        if (visit.screw != screw) continue;
        for (const Act& act : visit.before) words.push_back(describe(net, act));
        if (visit.method)
            words.push_back(fmt::format("take the method {}, each stroke: {}", visit.method->name,
                                        describe(net, visit.method->stroke)));
    }
    return words;
}

} // namespace clearstroke
