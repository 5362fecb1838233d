#include "analysis/act_text.hpp"

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
    std::string operator()(const Press& a) const { return "press" + at(a.actuator) + " and hold"; }
    std::string operator()(const Release& a) const { return "release" + at(a.actuator); }
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

} // namespace clearstroke
