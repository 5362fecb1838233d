#include "scenarios/schema.hpp"

namespace clearstroke {
namespace {

using enum KeyKind;
using enum SourceGrade;

constexpr std::string_view memory = "typical values, from memory";

constexpr KeyRow rows[] = {
    {"booster.gain", quantity, "1", "5, 4 to 8", "1 to 30", from_memory, memory,
     "rod force out over rod force in while it helps", "", "", ""},
    {"booster.from", quantity, "N", "50 N, 20 N to 100 N", "0 N to 5000 N", from_memory, memory,
     "rod force at which it starts to help", "", "", ""},
    {"booster.run_out", quantity, "N", "2500 N, 1800 N to 4000 N", "0 N to 50000 N", from_memory, memory,
     "most help, at full vacuum", "", "", ""},
    {"booster.spent", quantity, "1", "0.3, 0.2 to 0.5", "0 to 1", from_memory, memory,
     "share of the vacuum that one application uses after the engine stopped",
     "count the assisted applications after stopping the engine", "", ""},

    {"faults.knocked_back.{name}", quantity, "mL", "", "0 mL to 100 mL", stated, "",
     "volume by which the pistons of this volume stand too far back; one stroke takes it up", "", "", ""},
    {"faults.stuck.{name}", quantity, "1", "", "0 to 1", stated, "",
     "share of the piston area of this volume that does not move: neither pads nor housing give there, no "
     "seal "
     "rolls, no slack is taken up; 1: all of its pistons",
     "a helper presses lightly, another looks which pistons move", "", ""},
    {"faults.leak.{name}", quantity, "mL/s/bar", "", "0 mL/s/bar to 1 mL/s/bar", stated, "",
     "weep of this volume to the outside", "", "", ""},
    {"faults.air_entry.{name}", quantity, "mL/s/bar", "", "0 mL/s/bar to 100 mL/s/bar", stated, "",
     "free air that a joint of this volume draws in per suction", "", "", ""},
    {"faults.bypass.{name}", quantity, "mL/s/bar", "", "0 mL/s/bar to 1 mL/s/bar", stated, "",
     "flow past the cup of this cylinder chamber, back to the reservoir", "", "", ""},
    {"faults.swollen.{name}", quantity, "1", "", "0 to 100", stated, "",
     "factor on the swelling of this hose or pipe", "", "", ""},
    {"faults.blocked_ports", texts, "", "", "", stated, "",
     "cylinder chambers whose compensating port stays shut", "", "", ""},
};

} // namespace

std::span<const KeyRow> fault_keys() { return rows; }

} // namespace clearstroke
