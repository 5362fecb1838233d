#include "scenarios/schema.hpp"

namespace clearstroke {
namespace {

using enum KeyKind;
using enum SourceGrade;

constexpr std::string_view ours = "common practice, amounts ours";
constexpr std::string_view air = "starting air";

// Where air stands after the work. Shares are of a part's content; lengths are of pipe at the joint.
constexpr KeyRow rows[] = {
    {"work.renewed", texts, "", "", "", stated, "",
     "parts fitted new or refitted empty: a caliper, wheel cylinder, slave, hose, pipe, line, \"master "
     "cylinder\", "
     "\"reservoir\"; also \"front calipers\", \"rear hoses\", \"all hoses\" and the like",
     "", "", ""},
    {"work.opened", texts, "", "", "", stated, "",
     "parts whose joint was opened and closed again, fluid kept in as well as it goes", "", "", ""},
    {"work.fluid_change", truth, "", "false", "", stated, "", "old fluid is to be replaced", "", "", ""},
    {"work.reservoir_ran_dry", truth, "", "false", "", stated, "",
     "the reservoir emptied: air in the cylinder and in the pipes that leave it", "", "", ""},
    {"work.cylinder_primed", truth, "", "true", "", common_practice, ours,
     "a renewed or dry cylinder was bled on the bench or in place before its pipes were joined",
     "ask who fitted it", "", ""},
    {"work.air.{name}", quantity, "mL", "", "0 mL to 5000 mL", stated, "",
     "free air known to be in a part; replaces what would be derived for it", "", "", ""},

    {"work.air_in_renewed_part", quantity, "%", "60 %, 30 % to 100 %", "0 % to 100 %", common_practice, ours,
     "of the content of a renewed caliper, wheel cylinder or slave", "", air, ""},
    {"work.air_in_renewed_line", quantity, "%", "90 %, 60 % to 100 %", "0 % to 100 %", common_practice, ours,
     "of a renewed hose or pipe", "", air, ""},
    {"work.air_in_opened_part", quantity, "%", "5 %, 1 % to 15 %", "0 % to 100 %", common_practice, ours,
     "of the content of a part whose joint was opened", "", air, ""},
    {"work.air_beside_joint", quantity, "m", "0.15 m, 0.05 m to 0.4 m", "0 m to 100 m", common_practice, ours,
     "length of each line that drained at an opened joint or beside a renewed part", "", air, ""},
    {"work.air_in_primed_cylinder", quantity, "%", "3 %, 0 % to 10 %", "0 % to 100 %", common_practice, ours,
     "of each chamber of a cylinder that was primed", "", air, ""},
    {"work.air_in_unprimed_cylinder", quantity, "%", "90 %, 70 % to 100 %", "0 % to 100 %", common_practice,
     ours, "of each chamber of a cylinder that was not primed", "", air, ""},
    {"work.air_in_run_dry_cylinder", quantity, "%", "50 %, 20 % to 100 %", "0 % to 100 %", common_practice,
     ours, "of each chamber after the reservoir ran dry", "", air, ""},
    {"work.air_below_dry_reservoir", quantity, "m", "0.3 m, 0.05 m to 1 m", "0 m to 100 m", common_practice,
     ours, "length of each pipe that leaves the cylinder after the reservoir ran dry", "", air, ""},
    {"work.little_air", quantity, "%", "5 %, 2 % to 10 %", "0 % to 100 %", derived, "ours",
     "condition little air: of each caliper, wheel cylinder or slave", "", air, ""},
    {"work.air_in_drained_part", quantity, "%", "60 %, 40 % to 90 %", "0 % to 100 %", common_practice, ours,
     "condition drained: of calipers, wheel cylinders and slaves", "", air, ""},
    {"work.air_in_drained_line", quantity, "%", "80 %, 50 % to 100 %", "0 % to 100 %", common_practice, ours,
     "condition drained: of pipes and hoses, from their upper end", "", air, ""},
    {"work.air_moved_on", quantity, "1", "0, 0 to 0.4", "0 to 1", derived, "ours",
     "place of the air in a line: share of the way from the joint to the far end that it has moved since", "",
     "place of air", ""},

    {"contents.fresh_fraction", quantity, "1", "1", "0 to 1", stated, "",
     "share of new fluid in the circuit; default 1, in a fluid change 0", "", "", ""},
    {"contents.reservoir_fresh_fraction", quantity, "1", "1", "0 to 1", common_practice,
     "reservoir emptied and refilled first", "share of new fluid in the reservoirs at the start", "", "", ""},
};

} // namespace

std::span<const KeyRow> work_keys() { return rows; }

} // namespace clearstroke
