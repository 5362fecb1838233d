#include "scenarios/schema.hpp"

namespace clearstroke {
namespace {

using enum KeyKind;
using enum SourceGrade;

constexpr std::string_view trade = "common practice";
constexpr std::string_view memory = "sum of seal, pads and housing, from memory";
constexpr std::string_view look = "look at the part, from outboard";

// A wheel takes the key of its own ([calipers.LF]) before that of its axle ([calipers.front]).
constexpr KeyRow rows[] = {
    {"calipers.{corner}.kind", choice, "", "sliding", "sliding | fixed", common_practice, trade,
     "sliding: pistons on one side; fixed: two halves joined by a crossover", "look", "", ""},
    {"calipers.{corner}.pistons", count, "", "2", "1 to 12", common_practice, trade,
     "of a sliding caliper, or of each half of a fixed one", "count", "", "motorcycle"},
    {"calipers.{corner}.pistons", count, "", "1", "1 to 12", common_practice, trade,
     "of a sliding caliper, or of each half of a fixed one", "count", "", ""},
    {"calipers.front.bore", quantity, "mm", "27 mm, 25 mm to 34 mm", "2 mm to 200 mm", common_practice, trade,
     "of each front piston", "calliper on a piston", "", "motorcycle"},
    {"calipers.rear.bore", quantity, "mm", "30 mm, 25 mm to 38 mm", "2 mm to 200 mm", common_practice, trade,
     "of each rear piston", "calliper on a piston", "", "motorcycle"},
    {"calipers.front.bore", quantity, "mm", "54 mm, 48 mm to 60 mm", "2 mm to 200 mm", common_practice, trade,
     "of each front piston", "calliper on a piston", "", ""},
    {"calipers.{corner}.bore", quantity, "mm", "38 mm, 34 mm to 44 mm", "2 mm to 200 mm", common_practice, trade,
     "of each piston", "calliper on a piston", "", ""},
    {"calipers.{corner}.bores", quantities, "mm", "", "2 mm to 200 mm", stated, "",
     "instead of bore and pistons: each piston of one side; the largest bore holds the pocket", "calliper on a piston", "",
     ""},
    {"calipers.{corner}.gap", quantity, "mm", "4 mm, 1 mm to 12 mm", "0.05 mm to 100 mm", common_practice, trade,
     "behind each piston: small with new pads, large with worn ones", "pad thickness new less now", "", ""},
    {"calipers.{corner}.passages", quantity, "mL", "1 mL, 0.3 mL to 2 mL", "0 mL to 200 mL", common_practice, trade,
     "drillings of one side", "", "", "motorcycle"},
    {"calipers.{corner}.passages", quantity, "mL", "2 mL, 0.5 mL to 4 mL", "0 mL to 200 mL", common_practice, trade,
     "drillings of one side", "", "", ""},
    {"calipers.{corner}.screws", texts, "", "", "", stated, "",
     "bleed screws: [\"inner\"], [\"outer\"] or both; a fixed caliper has the outer one unless said", "count", "", ""},
    {"calipers.{corner}.screw_at", quantity, "o'clock", "12 o'clock, -15 deg to 15 deg", "-180 deg to 360 deg",
     common_practice, trade, "clock position where the screw's drilling enters the bore", look, "", ""},
    {"calipers.{corner}.screw_below_crown", quantity, "mm", "3 mm, 1 mm to 6 mm", "0 mm to 100 mm", common_practice,
     trade, "from the wall of the bore to the top of the screw's drilling", "strip a spare", "", ""},
    {"calipers.{corner}.screw_drilling", quantity, "mm", "3 mm, 2 mm to 4 mm", "0.2 mm to 20 mm", common_practice, trade,
     "diameter of that drilling", "strip a spare", "", ""},
    {"calipers.{corner}.port_at", quantity, "o'clock", "3 o'clock, 1 o'clock to 5 o'clock", "-180 deg to 360 deg",
     common_practice, trade, "clock position where the hose's drilling enters the bore", look, "", ""},
    {"calipers.{corner}.port_drilling", quantity, "mm", "5 mm, 3 mm to 6 mm", "0.2 mm to 20 mm", common_practice, trade,
     "diameter of that drilling", "strip a spare", "", ""},
    {"calipers.{corner}.tilt", quantity, "deg", "0 deg, -5 deg to 5 deg", "-90 deg to 90 deg", common_practice, trade,
     "of the bore, open end up positive", "spirit level", "", ""},
    {"calipers.{corner}.crossover_at", quantity, "o'clock", "6 o'clock, 12 o'clock to 6 o'clock", "-180 deg to 360 deg",
     common_practice, trade, "fixed: clock position where the crossover enters the halves", look, "", ""},
    {"calipers.{corner}.crossover_length", quantity, "mm", "200 mm, 150 mm to 250 mm", "5 mm to 5000 mm",
     common_practice, trade, "fixed: length of the crossover", "a string laid along it", "", ""},
    {"calipers.{corner}.crossover_bore", quantity, "mm", "3.35 mm, 3 mm to 6 mm", "0.2 mm to 20 mm", common_practice,
     trade, "fixed: inside diameter of the crossover", "drill shank that just enters", "", ""},
    {"calipers.{corner}.crossover_height", quantity, "mm", "", "-1000 mm to 1000 mm", stated, "",
     "fixed: of the crossover's middle above the bore centre; default: straight across", "rule", "", ""},
    {"calipers.{corner}.hose_side", choice, "", "inner", "inner | outer", common_practice, trade,
     "fixed: half that the hose enters", "look", "", ""},
    {"calipers.{corner}.height", quantity, "m", "", "-5 m to 20 m", stated, "",
     "of the bore's middle above ground; default heights.front_wheels or rear_wheels", "rule from the ground", "", ""},
    {"calipers.{corner}.thread", choice, "", "", "M6 | M7 | M8 | M10 | 1/4-28 | 5/16-24 | 3/8-24 | 7/16-20", stated, "",
     "of its screws; default bleed_screw.thread", "thread gauge on a spare", "", ""},
    {"calipers.{corner}.settling", quantity, "mm", "0.25 mm, 0.12 mm to 0.4 mm", "0 mm to 10 mm", from_memory, memory,
     "travel of the pistons in which seals roll and pads settle, at low pressure", "", "caliper give", ""},
    {"calipers.{corner}.settling_pressure", quantity, "bar", "4 bar, 2 bar to 10 bar", "0.05 bar to 200 bar",
     from_memory, memory, "gauge pressure at half of the settling", "", "", ""},
    {"calipers.{corner}.roll_back", quantity, "bar", "1 bar, 0.3 bar to 2 bar", "0 bar to 50 bar", common_practice,
     "order of 0.1 mm at the piston", "half-width of the play by which seals keep volume when pressure falls", "", "", ""},
    {"calipers.{corner}.give", quantity, "um/bar", "5 um/bar, 2.5 um/bar to 10 um/bar", "0 um/bar to 1000 um/bar",
     from_memory, memory, "further travel of the pistons for each bar: pads and housing", "", "caliper give", ""},

    {"drums.{corner}.bore", quantity, "mm", "19.05 mm, 15.87 mm to 25.4 mm", "2 mm to 200 mm", common_practice, trade,
     "of the wheel cylinder", "cast on the body", "", ""},
    {"drums.{corner}.slack", quantity, "mm", "1 mm, 0.5 mm to 1.5 mm", "0 mm to 50 mm", common_practice, trade,
     "travel of each of the two pistons before the shoes touch", "feeler gauge between shoe and drum", "", ""},
    {"drums.{corner}.spring_from", quantity, "bar", "3 bar, 2 bar to 5 bar", "0 bar to 100 bar", common_practice, trade,
     "gauge pressure at which the shoes leave their rest", "", "shoe springs", ""},
    {"drums.{corner}.spring_to", quantity, "bar", "6 bar, 5.5 bar to 9 bar", "0.1 bar to 200 bar", common_practice, trade,
     "gauge pressure at which the shoes touch", "", "shoe springs", ""},
    {"drums.{corner}.gap", quantity, "mm", "12 mm, 6 mm to 20 mm", "0.2 mm to 200 mm", common_practice, trade,
     "between the two pistons at rest", "strip a spare", "", ""},
    {"drums.{corner}.give", quantity, "um/bar", "8 um/bar, 4 um/bar to 16 um/bar", "0 um/bar to 1000 um/bar",
     from_memory, "shoes and drum, from memory", "further travel of each piston for each bar", "", "", ""},
    {"drums.{corner}.settling", quantity, "mm", "0.1 mm, 0.05 mm to 0.2 mm", "0 mm to 10 mm", from_memory,
     "cups and linings, from memory", "travel in which cups and linings settle", "", "", ""},
    {"drums.{corner}.settling_pressure", quantity, "bar", "4 bar, 2 bar to 10 bar", "0.05 bar to 200 bar", from_memory,
     "cups and linings, from memory", "gauge pressure at half of the settling", "", "", ""},
    {"drums.{corner}.screw_at", quantity, "o'clock", "12 o'clock, -10 deg to 10 deg", "-180 deg to 360 deg",
     common_practice, trade, "clock position of the screw's drilling", look, "", ""},
    {"drums.{corner}.screw_below_crown", quantity, "mm", "1 mm, 0 mm to 2 mm", "0 mm to 100 mm", common_practice, trade,
     "from the wall of the bore to the top of the screw's drilling", "strip a spare", "", ""},
    {"drums.{corner}.port_at", quantity, "o'clock", "3 o'clock, 1 o'clock to 5 o'clock", "-180 deg to 360 deg",
     common_practice, trade, "clock position of the hose's drilling", look, "", ""},
};

}  // namespace

std::span<const KeyRow> wheel_keys() { return rows; }

}  // namespace clearstroke
