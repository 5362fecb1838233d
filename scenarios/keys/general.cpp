#include "scenarios/schema.hpp"

namespace clearstroke {
namespace {

using enum KeyKind;
using enum SourceGrade;

constexpr std::string_view trade = "common practice";

constexpr KeyRow rows[] = {
    {"title", text, "", "Untitled", "", stated, "", "the question, in a sentence", "", "", ""},
    {"layout", choice, "", "front/rear", "front/rear | diagonal | motorcycle | clutch | explicit",
     common_practice, trade, "family of the shorthand; explicit: only the parts that the file lists",
     "follow the pipes", "", ""},
    {"fluid", choice, "", "DOT 4", "DOT 3 | DOT 4 | DOT 4 low viscosity | DOT 5.1 | DOT 5 | mineral oil",
     common_practice, trade, "grade of fluid", "read the reservoir cap and the can", "", ""},
    {"fluid_before", choice, "", "", "DOT 3 | DOT 4 | DOT 4 low viscosity | DOT 5.1 | DOT 5 | mineral oil",
     stated, "",
     "grade that stands in the circuit now, if it is another; grades that may not mix are refused",
     "read the reservoir cap and the workshop's record", "", ""},
    {"condition", choice, "", "", "full | little air | fluid change | drained | dry", stated, "",
     "state at the start; replaces what [work] and the parts say. little air: a share of each caliper, "
     "wheel cylinder or slave; fluid change: old fluid, no air; drained: emptied by itself; dry: new parts, "
     "never filled",
     "", "", ""},
    {"anti_lock", choice, "", "unknown", "yes | no | unknown", common_practice, trade,
     "whether an anti-lock unit is in the circuit; its shut part is not modelled unless listed, as a volume "
     "behind a shut valve",
     "look for the unit and its lamp", "", ""},
    {"method", choice, "", "one person",
     "one person | two people | gravity | one-way hose | pump and hold | reservoir pressure | vacuum | "
     "injection | long hold | small strokes | joint | prime in place | several screws | own",
     common_practice, trade,
     "how a screw is bled. one person: it stays open, hose end in the bottle; two people: closed before each "
     "release; gravity: open, and wait; the others on the page methods of the model book; own: the acts in "
     "[acts]",
     "", "", ""},
    {"bleed_order", texts, "", "", "", stated, "", "screws in the order that the file itself uses", "", "",
     ""},
    {"orders.{name}", texts, "", "", "", stated, "", "an order to compare, under its name", "", "", ""},
    {"sequence.together", texts, "", "", "", stated, "",
     "screws that every order takes in one go, a text for each group: \"RR inner, RR outer\"; \"wheels\": "
     "the "
     "screws of each wheel",
     "", "", ""},
    {"sequence.first", texts, "", "", "", stated, "", "screws that every order takes before all others", "",
     "", ""},
    {"sequence.last", texts, "", "", "", stated, "", "screws that every order takes after all others", "", "",
     ""},
    {"sequence.before", texts, "", "", "", stated, "",
     "screws that every order takes in this row, others between them or not: \"RR, RF\"", "", "", ""},

    {"conditions.temperature", quantity, "degC", "20 degC, 5 degC to 30 degC", "-40 degC to 120 degC",
     common_practice, trade, "of parts, fluid and air", "a thermometer beside the fluid that will be used",
     "", ""},
    {"conditions.ambient_pressure", quantity, "kPa", "101.325 kPa, 98 kPa to 103 kPa", "20 kPa to 120 kPa",
     published, "standard atmosphere", "of the air around, absolute", "barometer, not reduced to sea level",
     "", ""},
    {"conditions.altitude", quantity, "m", "", "-500 m to 9000 m", stated, "",
     "instead of ambient_pressure: height above sea level, standard atmosphere", "", "", ""},
    {"conditions.hottest", quantity, "degC", "", "0 degC to 400 degC", stated, "",
     "hottest that fluid gets at a wheel; a note then says how far it is from boiling",
     "paint or strips that keep the highest temperature, on the caliper", "", ""},
    {"conditions.water", quantity, "%", "", "0 % to 20 %", stated, "",
     "water in the fluid, by mass; not stated: as in the wet test of the grade",
     "boiling tester, or test strip", "", ""},
    {"conditions.pitch", quantity, "deg", "0 deg, -1 deg to 1 deg", "-60 deg to 60 deg", common_practice,
     trade, "of the vehicle, nose up positive", "spirit level on a sill", "", ""},
    {"conditions.roll", quantity, "deg", "0 deg, -1 deg to 1 deg", "-60 deg to 60 deg", common_practice,
     trade, "of the vehicle, right side down positive", "spirit level across a crossmember", "", ""},
    {"conditions.hand_brake_on", texts, "", "", "", stated, "",
     "parts whose free play the hand brake takes up while it stays on: drums, or calipers that it works",
     "pull it until the shoes drag, turn the wheel", "", ""},

    {"fluid_properties.surface_tension", quantity, "mN/m", "", "5 mN/m to 80 mN/m", from_memory,
     "library of fluids, +-15 %", "to air at 20 degC; decides whether a bubble rises in a thin pipe", "", "",
     ""},
    {"fluid_properties.bulk_modulus", quantity, "GPa", "", "0.2 GPa to 5 GPa", from_memory,
     "library of fluids, +-10 %", "of the air-free liquid at 20 degC and low pressure", "", "", ""},
    {"fluid_properties.viscosity_factor", quantity, "1", "1, 0.8 to 1.25", "0.05 to 20", derived,
     "spread between cans of one grade (ours)", "on the viscosity of the grade", "", "", ""},

    {"fluid_properties.dissolved_air", quantity, "%", "", "0 % to 50 %", published,
     "SAE J1705 app. A: glycol 5 % +-2 %, silicone 16 % +-3 %; mineral from memory",
     "free air in solution per volume of fluid at one atmosphere; read where bubbles.out_of_solution is "
     "stated",
     "", "", ""},

    {"bubbles.diameter", quantity, "mm", "", "0.005 mm to 3 mm", stated, "",
     "of small bubbles at ambient pressure; they go with the fluid and rise in cavities and reservoir in "
     "their time. Not "
     "stated: gas that arrives with fluid joins the pocket at once",
     "look through a clear hose at a rule", "", ""},
    {"bubbles.in_fluid", quantity, "%", "", "0 % to 24 %", stated, "",
     "share of small bubbles in the fluid of cavities and pipes at the start; default 0", "", "", ""},
    {"bubbles.poured", quantity, "%", "", "0 % to 24 %", stated, "",
     "share of small bubbles in fluid as it is poured into a reservoir, at the start and at each topping up; "
     "default 0",
     "stand some in a tall glass: what its level falls by", "", ""},
    {"bubbles.grip", quantity, "1", "", "0.001 to 2", stated, "",
     "of bubbles on walls: width of the foot over diameter, times the difference of the cosines of receding "
     "and "
     "advancing angle; 0.07, band 0.02 to 0.25, is our guess. Not stated: only a tap frees held_gas",
     "", "", ""},
    {"bubbles.out_of_solution", quantity, "s", "", "0.1 s to 100000 s", stated, "",
     "time constant with which air comes out of solution below ambient pressure; 30 s, band 3 s to 300 s, is "
     "our guess. "
     "Not stated: it stays in solution",
     "", "", ""},

    {"model.run_ahead", quantity, "1", "1, 0.5 to 1.2", "0 to 2.5", derived,
     "film law beyond its measured range (ours)",
     "factor on how much faster than the flow a gas plug runs, on C0 - 1", "", "", ""},
    {"model.drawdown", quantity, "1", "1, 0.5 to 1.5", "0 to 5", derived, "order-of-magnitude law (ours)",
     "factor on the height over which an opening draws gas down", "", "", ""},
    {"model.separation", quantity, "1", "1, 0.5 to 2", "0.05 to 20", from_memory,
     "tee literature, wide scatter", "factor on the gas that a tee's side branch takes", "", "", ""},
    {"model.stirred", quantity, "1", "0.5, 0.2 to 0.8", "0 to 1", derived,
     "between displaced and stirred (ours)", "share of a cavity's liquid that mixes", "", "", ""},
    {"model.gas_temperature_from", quantity, "mL", "0.3 mL, 0.1 mL to 1 mL", "0 mL to 1000 mL", derived,
     "conduction time against stroke time (ours)", "pockets above this size carry a temperature", "", "", ""},
    {"model.line_flow", choice, "", "quasi-steady", "quasi-steady | unsteady", derived, "ours",
     "unsteady: columns of liquid in pipes and hoses have inertia and turn turbulent; "
     "for screws opened under pressure, up to ten times slower",
     "", "", ""},
    {"model.lump_length", quantity, "m", "0.25 m", "0.005 m to 10 m", derived, "convergence trials (ours)",
     "length of line per numerical cell, at least two a line", "", "", ""},

    {"operator.push_speed", quantity, "mm/s", "40 mm/s, 20 mm/s to 60 mm/s", "0.1 mm/s to 1000 mm/s",
     common_practice, trade, "at the grip of a lever", "film a stroke beside a rule", "", "motorcycle"},
    {"operator.push_speed", quantity, "mm/s", "60 mm/s, 30 mm/s to 80 mm/s", "0.1 mm/s to 1000 mm/s",
     common_practice, trade, "at the pedal pad", "film a stroke beside a rule", "", ""},
    {"operator.release_speed", quantity, "mm/s", "100 mm/s, 40 mm/s to 200 mm/s", "0.1 mm/s to 2000 mm/s",
     common_practice, trade, "at pad or grip", "film a stroke beside a rule", "", ""},
    {"operator.force_limit", quantity, "N", "120 N, 60 N to 200 N", "1 N to 3000 N", common_practice, trade,
     "at the grip while bleeding", "luggage scale on the lever", "", "motorcycle"},
    {"operator.force_limit", quantity, "N", "250 N, 100 N to 500 N", "1 N to 3000 N", common_practice, trade,
     "at the pad while bleeding", "bathroom scale between foot and pad", "", ""},
    {"operator.stroke_share", quantity, "1", "0.8, 0.6 to 0.9", "0.02 to 1", common_practice,
     "a used cylinder is stroked short of its full travel",
     "share of the rod's full travel that a stroke uses", "block under the pedal, rule from the floor", "",
     ""},
    {"operator.hold", quantity, "s", "1 s, 0.5 s to 3 s", "0 s to 3600 s", common_practice, trade,
     "pressed, at the end of a stroke", "count aloud", "", ""},
    {"operator.dwell", quantity, "s", "2 s, 1 s to 5 s", "0 s to 3600 s", common_practice, trade,
     "released, before the next stroke", "count aloud", "", ""},
    {"operator.act_time", quantity, "s", "3 s, 2 s to 6 s", "0 s to 600 s", common_practice, trade,
     "to open or close a screw", "", "", ""},
    {"operator.move_time", quantity, "s", "90 s, 40 s to 240 s", "0 s to 3600 s", common_practice, trade,
     "to go to the next screw and fit the hose", "", "", ""},
    {"operator.watch", quantity, "s", "10 s, 5 s to 30 s", "0.1 s to 3600 s", common_practice, trade,
     "method gravity: between two looks at the hose", "", "", ""},
    {"operator.reservoir_pressure", quantity, "bar", "1 bar, 0.7 bar to 2 bar", "0.01 bar to 20 bar",
     common_practice, trade, "method reservoir pressure: gauge", "its gauge", "", ""},
    {"operator.vacuum", quantity, "bar", "0.6 bar, 0.4 bar to 0.7 bar", "0.01 bar to 0.99 bar",
     common_practice, trade, "method vacuum: suction at the hose", "its gauge", "", ""},
    {"operator.injection_pressure", quantity, "bar", "0.5 bar, 0.2 bar to 1 bar", "0.01 bar to 20 bar",
     common_practice, trade, "method injection: gauge, at the screw", "a gauge in the hose", "", ""},
    {"operator.pumps", count, "", "3", "0 to 100", common_practice, trade,
     "method pump and hold: strokes before the screw is opened", "", "", ""},
    {"operator.long_hold", quantity, "s", "8 h, 1 h to 12 h", "1 s to 1000000 s", common_practice, trade,
     "method long hold: pressed before the sudden release", "", "", ""},
    {"operator.small_share", quantity, "1", "0.1, 0.05 to 0.15", "0.005 to 1", common_practice, trade,
     "method small strokes: share of the travel, to just past the compensating port", "rule at the pad", "",
     ""},
    {"operator.turns", quantity, "1", "0.5, 0.25 to 0.75", "0.02 to 2", common_practice, trade,
     "a screw is opened by, in turns", "mark the spanner", "", ""},
    {"operator.top_up_below", quantity, "1", "0.5, 0.3 to 0.7", "0 to 1", published,
     "Army TM 10-3930-618-20: keep at least half full", "share of the reservoir at which it is topped up", "",
     "", ""},

    {"stop.clear_strokes", count, "", "2", "1 to 100", common_practice, trade,
     "strokes in a row without a visible bubble before a screw is left", "", "", ""},
    {"stop.hose_volumes", quantity, "1", "1, 0.5 to 2", "0 to 100", derived, "ours",
     "clear-hose volumes that must have passed before clear strokes count", "", "", ""},
    {"stop.new_colour", quantity, "1", "0", "0 to 1", derived, "ours",
     "share of new fluid seen in the hose before a screw is left; default 0.9 when the fluid is changed, "
     "else not looked at",
     "", "", ""},
    {"stop.most_strokes", count, "", "60", "1 to 5000", derived, "ours",
     "strokes at one screw before giving up", "", "", ""},

    {"target.excess", quantity, "mL", "0.1 mL", "0 mL to 100 mL", derived, "ours",
     "free air per circuit above what this method can't move", "", "", ""},
    {"target.pad_forces", quantities, "N", "", "1 N to 3000 N", published,
     "49 CFR 570.55(c): 222 N; 500 N as a hard stop",
     "forces at which travel is reported; default 222 N and 500 N, by hand 100 N and 200 N", "", "", ""},

    {"clear_hose.length", quantity, "m", "0.4 m, 0.3 m to 1 m", "0.01 m to 5 m", common_practice, trade,
     "from screw to bottle", "rule", "", ""},
    {"clear_hose.bore", quantity, "mm", "5 mm, 4 mm to 8 mm", "0.5 mm to 20 mm", common_practice, trade,
     "inside diameter", "drill shank that just enters", "", ""},
    {"clear_hose.fit_clearance", quantity, "mm", "0 mm, 0 mm to 0.02 mm", "0 mm to 1 mm", common_practice,
     trade, "radial, of a loose hose on the screw, past which air leaks into the hose; 0: tight", "tug at it",
     "", ""},
    {"clear_hose.end", choice, "", "submerged", "submerged | in air", common_practice, trade,
     "of the hose, in the bottle", "look", "", ""},
    {"clear_hose.bottle_level", quantity, "m", "0.1 m, -0.3 m to 0.2 m", "-2 m to 2 m", published,
     "Army TM 10-3930-633-12 and -671-24: bottle above the screw",
     "height of the bottle's fluid above the open screw", "rule", "", ""},
    {"clear_hose.visible_bubble", quantity, "mL", "0.01 mL, 0.001 mL to 0.05 mL", "1e-9 mL to 10 mL",
     common_practice, trade, "smallest bubble that is seen", "syringe bubbles of known size into the hose",
     "", ""},

    {"bleed_screw.thread", choice, "", "M8", "M6 | M7 | M8 | M10 | 1/4-28 | 5/16-24 | 3/8-24 | 7/16-20",
     common_practice, trade, "of all screws unless said; decides seat and drillings",
     "thread gauge on a spare", "", "motorcycle"},
    {"bleed_screw.thread", choice, "", "M10", "M6 | M7 | M8 | M10 | 1/4-28 | 5/16-24 | 3/8-24 | 7/16-20",
     common_practice, trade, "of all screws unless said; decides seat and drillings",
     "thread gauge on a spare", "", ""},
    {"bleed_screw.thread_clearance", quantity, "mm", "0.005 mm, 0 mm to 0.025 mm", "0 mm to 1 mm",
     common_practice, trade,
     "radial, past which air leaks in below ambient pressure; 0: sealed with grease or tape", "", "", ""},

    {"acts.prepare", texts, "", "", "", stated, "", "acts before the first visit, see the list of acts", "",
     "", ""},
    {"acts.arrive", texts, "", "", "", stated, "", "method own: acts on arrival at a screw", "", "", ""},
    {"acts.stroke", texts, "", "", "", stated, "", "method own: acts of one stroke", "", "", ""},
    {"acts.leave", texts, "", "", "", stated, "", "method own: acts on leaving a screw", "", "", ""},
    {"visits.{n}.screw", text, "", "", "", stated, "", "screw of a visit; [[visits]] replaces bleed_order",
     "", "", ""},
    {"visits.{n}.strokes", count, "", "", "1 to 5000", stated, "", "fixed count instead of the stop rule", "",
     "", ""},
    {"visits.{n}.method", choice, "", "",
     "one person | two people | gravity | one-way hose | pump and hold | reservoir pressure | vacuum | "
     "injection | long hold | small strokes | joint | prime in place | several screws",
     stated, "", "of this visit, instead of the general one", "", "", ""},
    {"visits.{n}.before", texts, "", "", "", stated, "", "acts before arrival, such as turning a part", "",
     "", ""},
};

} // namespace

std::span<const KeyRow> general_keys() { return rows; }

} // namespace clearstroke
