#pragma once
/// Acts as a person writes them, and back.
///
///   "open", "open LF", "open 0.5 turns", "open all"      "close", "close LF", "close all"
///   "press", "press front lever", "press, share 0.1, force 100 N, hold 8 h"
///   "release", "release front lever, speed 1 m/s, dwell 0.3 s"        "push home LF pistons"
///   "wait 10 s"      "top up"      "draw off"      "tap", "tap LF caliper"
///   "turn LF caliper to 90 deg"    "lift LF caliper by 0.4 m"         "pitch 5 deg", "roll 5 deg"
///   "cap rear pipe", "uncap rear pipe", "cap around", "uncap around"  "clamp LF hose", "unclamp LF hose"
///   "hold open front pipe", "let go front pipe"                       "reservoir pressure 1 bar"
///   "hose end in air", "hose end submerged", "hose off", "fill hose", "one-way hose", "plain hose"
///   "hose pressure -0.6 bar"
#include <string>
#include <string_view>

#include "scenarios/build/parts.hpp"

namespace clearstroke {

inline constexpr std::string_view acts_allowed =
    "\"open [SCREW | all] [N turns]\", \"close [SCREW | all]\", \"press [PEDAL][, share 0.5][, force 100 "
    "N][, hold 5 s]\", "
    "\"release [PEDAL][, speed 0.1 m/s][, dwell 2 s]\", \"push home PISTON\", \"wait 10 s\", \"top up\", "
    "\"draw off\", "
    "\"tap [PART]\", \"turn PART to 90 deg\", \"lift PART by 0.4 m\", \"pitch 5 deg\", \"roll 5 deg\", \"cap "
    "LINE\", "
    "\"uncap LINE\", \"cap around\", \"uncap around\", \"clamp LINE\", \"unclamp LINE\", \"hold open LINE\", "
    "\"let go LINE\", \"hose end in air\", \"hose end submerged\", \"hose off\", \"fill hose\", \"one-way "
    "hose\", "
    "\"plain hose\", \"hose pressure -0.6 bar\", \"reservoir pressure 1 bar\"";

/// The act, or what is wrong with the text.
[[nodiscard]] std::variant<Act, std::string> read_act(std::string_view text, const Parts&);
[[nodiscard]] std::string write_act(const Act&, const Network&);

} // namespace clearstroke
