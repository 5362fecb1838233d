#include "analysis/cautions.hpp"

#include <algorithm>
#include <cctype>

namespace clearstroke {
namespace {

// One overload per act: a new act does not compile without its caution.
struct OfAct {
    Caution operator()(const OpenScrew&) const {
        return {"screw under pressure",
                "Fit hose and bottle first, hold a rag round the screw and face away. Slacken and tighten "
                "with a ring "
                "or flare spanner; small screws take 6 to 12 N m, more wrecks the seat."};
    }
    Caution operator()(const CloseScrew&) const {
        return {"closing a screw",
                "Nip it up, wipe and cap it, and look for wetness after the pressure test."};
    }
    Caution operator()(const Press&) const {
        return {"stroke short of full travel",
                "A used cylinder is stroked short of its full travel (a block under the pedal): further in, "
                "the cups "
                "run over rust they never met. Engine off, booster emptied by a few strokes first."};
    }
    Caution operator()(const Release&) const {
        return {"release",
                "Let the pedal or lever up slowly and keep hands clear of it: a snap draws air past threads "
                "and cups."};
    }
    Caution operator()(const Wait&) const {
        return {"waiting", "Do not walk away from an open screw: watch reservoir, bottle and floor."};
    }
    Caution operator()(const TopUp&) const {
        return {"topping up",
                "Wipe the cap first. Only fluid of the stated grade from a sealed container; bled fluid is "
                "full of air and never goes back. Not above the upper mark."};
    }
    Caution operator()(const TurnPart&) const {
        return {"turning or unbolting a caliper",
                "Put a spacer of the disc's thickness between the pads so that the pistons stay in, never "
                "hang the "
                "caliper by its hose, keep the hose free of twist, and refit to the maker's torque."};
    }
    Caution operator()(const PitchVehicle&) const {
        return {"tilting the vehicle", "Stands on firm level ground and chocks at the other wheels, never a "
                                       "jack alone; nobody beneath while it "
                                       "moves."};
    }
    Caution operator()(const Cap&) const {
        return {"opening a union, clamping", "Release the pressure, hold a rag round the union and face "
                                             "away; catch the fluid, plug both ends. Clamps "
                                             "need rounded jaws and go on rubber hose only, never on braided "
                                             "hose or pipe; take every one off again."};
    }
    Caution operator()(const HoseEnd&) const {
        return {"bottle and hose",
                "Stand the bottle where it cannot fall and tie the hose to it. With its end in air, an "
                "open screw lets air back in on every release."};
    }
};

constexpr Caution plain_acts = {
    "method", "Do one act at a time and say it aloud; with two people, one gives the words."};

Caution mixing(FluidFamily family) {
    constexpr std::string_view topic = "never mix fluids";
    switch (family) {
    case FluidFamily::silicone:
        return {topic,
                "Silicone (DOT 5) never with glycol fluids (DOT 3, 4, 5.1), nor the other way round; do not "
                "convert a circuit, and never use it with an anti-lock unit. Pour slowly: it holds air."};
    case FluidFamily::mineral:
        return {topic, "Mineral oil never with glycol or silicone fluids: each ruins the other's seals. Read "
                       "cap and can."};
    case FluidFamily::glycol:
        break;
    }
    return {topic,
            "Glycol fluids (DOT 3, 4, 5.1) never with silicone (DOT 5) or mineral oil. Read cap and can."};
}

Caution self_pumping(AntiLockUnit unit) {
    constexpr std::string_view topic = "anti-lock unit";
    switch (unit) {
    case AntiLockUnit::yes:
        return {topic, "Units that pump by themselves and accumulators: by the maker's routine only, "
                       "ignition off, pressure "
                       "let down first. Air in the shut part of the unit is not in these results."};
    case AntiLockUnit::no:
        return {topic, "Stated as without one. Accumulators and powered units: by the maker's routine only."};
    case AntiLockUnit::unknown:
        break;
    }
    return {
        topic,
        "Not stated whether there is one (anti_lock = yes, no). Units that pump by themselves and "
        "accumulators: by "
        "the maker's routine only, pressure let down first; air in their shut part is not in these results."};
}

void add(std::vector<Caution>& all, const Caution& caution) {
    if (std::ranges::find(all, caution.topic, &Caution::topic) == all.end()) all.push_back(caution);
}

void add(std::vector<Caution>& all, const std::vector<Act>& acts) {
    for (const Act& act : acts) add(all, caution_of(act));
}

} // namespace

Caution caution_of(const Act& act) { return std::visit(OfAct{}, act); }

Caution caution_of_method(std::string_view name) {
    constexpr std::string_view topic = "method";
    if (name == "one person, hose in bottle")
        return {topic, "The screw stays open: keep the hose end under the fluid and the bottle above the "
                       "screw all the time, or "
                       "air comes back. Grease on the thread keeps air from passing it."};
    if (name == "two people, closed before release")
        return {topic, "Agree on the words. The foot stays down until the other has said that the screw is "
                       "closed; hands out of "
                       "the way of the pedal."};
    if (name == "gravity")
        return {topic, "The circuit drains by itself: keep the reservoir filled and the cap loose, and do "
                       "not leave it."};
    return plain_acts;
}

std::vector<Caution> cautions_before(FluidFamily family, AntiLockUnit unit) {
    return {
        {"first of all",
         "The maker's instructions, local codes and licensed practice come first. Brakes are checked by a "
         "qualified person. What stands here is simulated, not measured on this vehicle."},
        {"eyes and skin",
         "Goggles and gloves. Rinse splashes with much water at once; fluid in the eye needs a doctor."},
        {"paint and linings",
         "Fluid strips paint and ruins linings: cover both, wash off at once, replace wetted linings."},
        mixing(family),
        {"stands and chocks", "Stands on firm ground and chocks at the wheels before any wheel comes off, "
                              "never a jack alone; nobody "
                              "beneath while the vehicle moves."},
        self_pumping(unit),
    };
}

std::vector<Caution> cautions_beside_and_after() {
    return {
        {"pushing pistons home",
         "Fluid rises in the reservoir and overflows: draw some off first. With an anti-lock unit by the "
         "maker's text, often with the screw open and the hose clamped."},
        {"tapping",
         "A soft hammer, lightly, on the body of the part; never on pipes, screws or the cylinder's ports."},
        {"pressure at the reservoir",
         "Not above the maker's limit; cap tied and shielded; vent it before anything is opened."},
        {"engine on", "For the check with booster: open air or an extractor, chocks, hand brake, gear out, "
                      "nobody in front."},
        {"do not move the vehicle",
         "Not until the pedal is firm, does not sink under a hard hold and nothing is wet; then at walking "
         "pace first."},
        {"disposal", "Keep used fluid apart, labelled and closed; by local rules, never into a drain, the "
                     "ground or other oil."},
    };
}

std::vector<Caution> cautions_of(const Case& c, AntiLockUnit unit, const std::vector<Act>& suggested) {
    const Procedure& plan = c.procedure;
    std::vector<Caution> all = cautions_before(c.network.conditions.fluid.family, unit);
    add(all, caution_of_method(plan.method.name));
    add(all, plan.prepare);
    for (const Visit& visit : plan.visits) add(all, visit.before);
    add(all, plan.method.arrive);
    add(all, plan.method.stroke);
    add(all, plan.method.leave);
    add(all, caution_of(TopUp{}));
    add(all, suggested);
    for (const Caution& caution : cautions_beside_and_after()) add(all, caution);
    return all;
}

std::string to_text(const Caution& caution) {
    std::string text{caution.topic};
    text[0] = static_cast<char>(std::toupper(static_cast<unsigned char>(text[0])));
    return text + ": " + std::string(caution.text);
}

} // namespace clearstroke
