#include "scenarios/schema.hpp"

namespace clearstroke {
namespace {

using enum KeyKind;
using enum SourceGrade;

constexpr std::string_view trade = "common practice";
constexpr std::string_view memory = "typical values, from memory";
constexpr std::string_view on_casting = "cast on the body, or calliper across the bore";

// [master_cylinder] of cars and clutches; [lever] and [rear_pedal] of motorcycles: see other.cpp.
constexpr KeyRow rows[] = {
    {"master_cylinder.kind", choice, "", "single", "single", common_practice, trade, "of the cylinder", "",
     "", "clutch"},
    {"master_cylinder.kind", choice, "", "tandem", "tandem | twin | single", common_practice, trade,
     "tandem: two chambers in one bore; twin: two cylinders on a balance bar; single: one chamber for all "
     "wheels",
     "count cylinders and outlets", "", ""},
    {"master_cylinder.bore", quantity, "mm", "17.46 mm, 15.87 mm to 19.05 mm", "3 mm to 80 mm",
     common_practice, trade, "of the cylinder", on_casting, "", "clutch"},
    {"master_cylinder.bore", quantity, "mm", "22.22 mm, 19.05 mm to 25.4 mm", "3 mm to 80 mm",
     common_practice, trade, "of the cylinder; of both when they are twins", on_casting, "", ""},
    {"master_cylinder.primary_feeds", choice, "", "front", "front | rear", common_practice, trade,
     "tandem, front/rear: axle fed by the chamber at the push rod", "follow the pipes", "", ""},
    {"master_cylinder.rear_bore", quantity, "mm", "", "3 mm to 80 mm", stated, "",
     "twin cylinders: of the rear one, if it differs", on_casting, "", ""},
    {"master_cylinder.stroke", quantity, "mm", "30 mm, 25 mm to 36 mm", "2 mm to 200 mm", common_practice,
     trade, "full stroke of a single or twin cylinder", "push rod travel, bled off the car", "", ""},
    {"master_cylinder.stroke_primary", quantity, "mm", "18 mm, 14 mm to 22 mm", "2 mm to 200 mm", from_memory,
     memory, "tandem: full compression of the chamber at the push rod", "strip a spare", "", ""},
    {"master_cylinder.stroke_secondary", quantity, "mm", "16 mm, 14 mm to 22 mm", "2 mm to 200 mm",
     from_memory, memory, "tandem: full compression of the far chamber", "strip a spare", "", ""},
    {"master_cylinder.dead_volume", quantity, "mL", "1.5 mL, 0.5 mL to 3 mL", "0.05 mL to 200 mL",
     common_practice, trade, "left in a chamber at full stroke", "", "", ""},
    {"master_cylinder.cut_off", quantity, "mm", "1.5 mm, 1 mm to 2 mm", "0.05 mm to 20 mm", from_memory,
     memory, "travel at which a compensating port is shut",
     "push slowly, watch the jet in the reservoir stop", "", ""},
    {"master_cylinder.port", quantity, "mm", "0.7 mm, 0.5 mm to 1 mm", "0.1 mm to 10 mm", from_memory, memory,
     "diameter of the compensating port", "wire of known size", "", ""},
    {"master_cylinder.port_length", quantity, "mm", "1.5 mm, 1 mm to 3 mm", "0 mm to 50 mm", common_practice,
     trade, "length of the compensating port", "", "", ""},
    {"master_cylinder.preload_primary", quantity, "N", "100 N, 80 N to 120 N", "0 N to 2000 N", from_memory,
     "order of magnitude from memory; larger than the secondary so that both ports shut together (ours)",
     "return spring of the chamber at the push rod, or of a single one, at rest",
     "luggage scale on the push rod", "", ""},
    {"master_cylinder.preload_secondary", quantity, "N", "65 N, 40 N to 78 N", "0 N to 2000 N", from_memory,
     "order of magnitude from memory; smaller than the primary so that both ports shut together (ours)",
     "return spring of the far chamber at rest", "strip a spare", "", ""},
    {"master_cylinder.spring_rate", quantity, "N/mm", "2 N/mm, 1 N/mm to 4 N/mm", "0 N/mm to 200 N/mm",
     from_memory, memory, "of the return springs", "luggage scale and rule on the push rod", "", ""},
    {"master_cylinder.cup_cracking", quantity, "bar", "0.1 bar, 0.03 bar to 0.3 bar", "0 bar to 5 bar",
     common_practice, trade, "suction at which a cup lets fluid pass from the reservoir", "", "cup", ""},
    {"master_cylinder.cup_opening", quantity, "mm", "2 mm, 1 mm to 4 mm", "0.1 mm to 20 mm", common_practice,
     trade, "what an open cup and its feed holes leave, as the diameter of one hole", "", "cup", ""},
    {"master_cylinder.seal_friction", quantity, "N", "30 N, 10 N to 80 N", "0 N to 2000 N", common_practice,
     trade, "of the floating piston, or of the balance bar", "", "", ""},
    {"master_cylinder.rod_friction", quantity, "N", "30 N, 10 N to 80 N", "0 N to 2000 N", common_practice,
     trade, "of the piston at the push rod", "luggage scale on the push rod, pull less push", "", ""},
    {"master_cylinder.tilt", quantity, "deg", "0 deg, -3 deg to 5 deg", "-90 deg to 90 deg", common_practice,
     trade, "of the bore, outlet end up positive", "spirit level on the body", "", ""},
    {"master_cylinder.outlet_at", quantity, "o'clock", "3 o'clock, 12 o'clock to 4 o'clock",
     "-180 deg to 360 deg", common_practice, trade, "clock position of the outlets in the bore", "look", "",
     ""},
    {"master_cylinder.height", quantity, "m", "0.55 m, 0.4 m to 0.8 m", "-5 m to 20 m", common_practice,
     trade, "of the bore above ground", "rule, car level", "", "clutch"},
    {"master_cylinder.height", quantity, "m", "0.75 m, 0.6 m to 0.95 m", "-5 m to 20 m", common_practice,
     trade, "of the bore above ground", "rule, car level", "", ""},
    {"master_cylinder.balance", quantity, "1", "0.5, 0.4 to 0.6", "0.05 to 0.95", common_practice, trade,
     "twin cylinders: share of the rod force on the front one", "set on the bar", "", ""},
    {"master_cylinder.bar_travel", quantity, "mm", "5 mm, 3 mm to 10 mm", "0.1 mm to 100 mm", common_practice,
     trade, "twin cylinders: how far one may run ahead of the other", "rule", "", ""},

    {"pedal.ratio", quantity, "1", "4, 3 to 6.2", "1 to 20", common_practice, trade,
     "pad travel over push rod travel", "rule: pivot to pad over pivot to rod", "", ""},
    {"pedal.travel", quantity, "mm", "", "10 mm to 400 mm", stated, "",
     "available at the pad from rest to the floor; without it the reserve cannot be judged",
     "rule, pipes open", "", ""},
    {"pedal.free_play", quantity, "mm", "0.6 mm, 0.3 mm to 1 mm", "0 mm to 20 mm", common_practice, trade,
     "at the push rod before the piston moves", "feeler gauge, or pad play over the ratio", "", ""},

    {"reservoir.capacity", quantity, "mL", "120 mL, 60 mL to 200 mL", "1 mL to 20000 mL", common_practice,
     trade, "of the whole reservoir, full", "fill it from a measure", "", "clutch"},
    {"reservoir.capacity", quantity, "mL", "60 mL, 30 mL to 90 mL", "1 mL to 20000 mL", common_practice,
     trade, "of the whole reservoir, full", "fill it from a measure", "", "motorcycle"},
    {"reservoir.capacity", quantity, "mL", "250 mL, 200 mL to 400 mL", "1 mL to 20000 mL", common_practice,
     trade, "of the whole reservoir, full; of each one when there are two", "fill it from a measure", "", ""},
    {"reservoir.filled", quantity, "1", "0.9, 0.8 to 1", "0.01 to 1", common_practice, trade,
     "share of the capacity at the start and after a top-up", "look at the marks", "", ""},
    {"reservoir.depth", quantity, "mm", "60 mm, 40 mm to 90 mm", "2 mm to 1000 mm", common_practice, trade,
     "of the fluid when full; with the capacity it gives the surface", "rule", "", ""},
    {"reservoir.above_cylinder", quantity, "mm", "40 mm, 25 mm to 80 mm", "-2000 mm to 3000 mm",
     common_practice, trade, "height of the reservoir's floor above the bore", "rule", "", ""},
    {"reservoir.outlet_height", quantity, "mm", "5 mm, 0 mm to 15 mm", "0 mm to 900 mm", common_practice,
     trade, "of the outlets above the reservoir's floor; below it they draw air", "", "", ""},
    {"reservoir.outlet", quantity, "mm", "5 mm, 3 mm to 8 mm", "0.5 mm to 50 mm", common_practice, trade,
     "diameter of the outlets", "", "", ""},
    {"reservoir.divider", quantity, "mm", "25 mm, 15 mm to 35 mm", "0 mm to 900 mm", common_practice, trade,
     "tandem: height of the wall between the chambers above the floor", "look in with a lamp", "", ""},
};

} // namespace

std::span<const KeyRow> cylinder_keys() { return rows; }

} // namespace clearstroke
