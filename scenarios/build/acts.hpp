#pragma once
/// Acts as a person writes them, and back.
///
///   "open", "open LF", "open 0.5 turns"     "close", "close LF"      "press", "press front lever"
///   "release", "release front lever"        "wait 10 s"              "top up"
///   "turn LF caliper to 90 deg"             "pitch 5 deg", "roll 5 deg"
///   "cap rear pipe", "uncap rear pipe"      "hose end in air", "hose end submerged"
#include <string>
#include <string_view>

#include "scenarios/build/parts.hpp"

namespace clearstroke {

inline constexpr std::string_view acts_allowed = "\"open [SCREW] [N turns]\", \"close [SCREW]\", \"press "
                                                 "[PEDAL]\", \"release [PEDAL]\", \"wait 10 s\", \"top up\", "
                                                 "\"turn PART to 90 deg\", \"pitch 5 deg\", \"roll 5 deg\", "
                                                 "\"cap LINE\", \"uncap LINE\", \"hose end in air\", "
                                                 "\"hose end submerged\"";

/// The act, or what is wrong with the text.
[[nodiscard]] std::variant<Act, std::string> read_act(std::string_view text, const Parts&);
[[nodiscard]] std::string write_act(const Act&, const Network&);

} // namespace clearstroke
