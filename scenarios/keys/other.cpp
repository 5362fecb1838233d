#include "scenarios/schema.hpp"

namespace clearstroke {
namespace {

using enum KeyKind;
using enum SourceGrade;

constexpr std::string_view trade = "common practice";
constexpr std::string_view rule = "rule from the ground, vehicle level";

constexpr KeyRow rows[] = {
    {"motorcycle.front_discs", count, "", "2", "1 to 2", common_practice, trade,
     "discs, and calipers, on the front wheel", "count", "", "motorcycle"},
    {"motorcycle.rear", truth, "", "true", "", common_practice, trade,
     "a hydraulic rear brake with its own cylinder", "look", "", "motorcycle"},
    {"lever.bore", quantity, "mm", "16 mm, 14 mm to 19 mm", "3 mm to 80 mm", common_practice, trade,
     "of the cylinder on the handlebar", "cast on the body", "", "motorcycle"},
    {"lever.stroke", quantity, "mm", "13 mm, 10 mm to 16 mm", "1 mm to 200 mm", common_practice, trade,
     "full stroke of its piston", "", "", "motorcycle"},
    {"lever.ratio", quantity, "1", "5, 3.5 to 6", "1 to 20", common_practice, trade,
     "grip travel over piston travel", "rule: pivot to grip over pivot to piston", "", "motorcycle"},
    {"lever.travel", quantity, "mm", "", "10 mm to 400 mm", stated, "", "available at the grip, rest to bar",
     "rule", "", "motorcycle"},
    {"lever.height", quantity, "m", "1.02 m, 0.85 m to 1.15 m", "-5 m to 20 m", common_practice, trade,
     "of the cylinder above ground", rule, "", "motorcycle"},
    {"lever.tilt", quantity, "deg", "0 deg, -10 deg to 10 deg", "-90 deg to 90 deg", common_practice, trade,
     "of the bore, outlet end up positive; turning the bar changes it", "spirit level on the body", "",
     "motorcycle"},
    {"rear_pedal.bore", quantity, "mm", "14 mm, 12.7 mm to 16 mm", "3 mm to 80 mm", common_practice, trade,
     "of the rear cylinder", "cast on the body", "", "motorcycle"},
    {"rear_pedal.stroke", quantity, "mm", "12 mm, 10 mm to 14 mm", "1 mm to 200 mm", common_practice, trade,
     "full stroke of its piston", "", "", "motorcycle"},
    {"rear_pedal.ratio", quantity, "1", "4, 3 to 6", "1 to 20", common_practice, trade,
     "pad travel over piston travel", "rule: pivot to pad over pivot to rod", "", "motorcycle"},
    {"rear_pedal.travel", quantity, "mm", "", "10 mm to 400 mm", stated, "", "available at the pad", "rule",
     "", "motorcycle"},
    {"rear_pedal.height", quantity, "m", "0.4 m, 0.3 m to 0.5 m", "-5 m to 20 m", common_practice, trade,
     "of the rear cylinder above ground", rule, "", "motorcycle"},
    {"rear_pedal.tilt", quantity, "deg", "60 deg, 0 deg to 90 deg", "-90 deg to 90 deg", common_practice,
     trade, "of the bore, outlet end up positive", "spirit level on the body", "", "motorcycle"},
    {"rear_pedal.reservoir_above", quantity, "mm", "100 mm, 50 mm to 200 mm", "-2000 mm to 3000 mm",
     common_practice, trade, "height of the rear reservoir's floor above the bore", rule, "", "motorcycle"},

    {"slave.bore", quantity, "mm", "20.64 mm, 19.05 mm to 25.4 mm", "2 mm to 200 mm", common_practice, trade,
     "of the slave cylinder", "cast on the body", "", "clutch"},
    {"slave.stroke", quantity, "mm", "12 mm, 8 mm to 16 mm", "0.1 mm to 200 mm", common_practice, trade,
     "travel of its piston while the clutch releases", "rule on the push rod", "", "clutch"},
    {"slave.dead_length", quantity, "mm", "12 mm, 5 mm to 25 mm", "0.1 mm to 500 mm", common_practice, trade,
     "of the bore behind the piston at rest; grows as the driven plate wears", "", "", "clutch"},
    {"slave.spring_from", quantity, "bar", "3 bar, 1 bar to 5 bar", "0 bar to 100 bar", common_practice,
     trade, "gauge pressure at which it starts to move", "", "clutch springs", "clutch"},
    {"slave.spring_to", quantity, "bar", "22 bar, 14 bar to 35 bar", "0.1 bar to 400 bar", common_practice,
     trade, "gauge pressure at full release", "", "clutch springs", "clutch"},
    {"slave.give", quantity, "um/bar", "10 um/bar, 5 um/bar to 20 um/bar", "0 um/bar to 1000 um/bar",
     from_memory, "fork and housing, from memory", "further travel for each bar", "", "", "clutch"},
    {"slave.tilt", quantity, "deg", "0 deg, -20 deg to 20 deg", "-90 deg to 90 deg", common_practice, trade,
     "of the bore, open end up positive", "spirit level on the body", "", "clutch"},
    {"slave.screw_at", quantity, "o'clock", "12 o'clock, -30 deg to 30 deg", "-180 deg to 360 deg",
     common_practice, trade, "clock position of the screw's drilling", "look at the part", "", "clutch"},
    {"slave.screw_below_crown", quantity, "mm", "1 mm, 0 mm to 3 mm", "0 mm to 100 mm", common_practice,
     trade, "from the wall of the bore to the top of the screw's drilling", "strip a spare", "", "clutch"},
    {"slave.port_at", quantity, "o'clock", "3 o'clock, 1 o'clock to 5 o'clock", "-180 deg to 360 deg",
     common_practice, trade, "clock position of the hose's drilling", "look at the part", "", "clutch"},
};

} // namespace

std::span<const KeyRow> other_layout_keys() { return rows; }

} // namespace clearstroke
