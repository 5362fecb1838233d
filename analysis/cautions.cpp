#include "analysis/cautions.hpp"

#include <algorithm>
#include <cctype>

namespace clearstroke {
namespace {

// One overload per act: a new act does not compile without its caution.
struct OfAct {
    Caution operator()(const OpenScrew&) const {
        return {
            "screw under pressure",
            "Fit hose and bottle first, hold a rag round the screw and face away. Slacken and tighten with a "
            "ring or flare spanner; tighten to the maker's figure, more wrecks the seat.",
            "rag round the screw, face away"};
    }
    Caution operator()(const CloseScrew&) const {
        return {"closing a screw",
                "Nip it up, wipe and cap it, and look for wetness after the pressure test.",
                "nip the screw up gently"};
    }
    Caution operator()(const Press&) const {
        return {
            "stroke short of full travel",
            "A used cylinder is stroked short of its full travel (a block under the pedal): further in, the "
            "cups run over rust they never met. Engine off, booster emptied by a few strokes first.",
            "block under the pedal, engine off"};
    }
    Caution operator()(const Release&) const {
        return {
            "release",
            "Let the pedal or lever up slowly and keep hands clear of it: a snap draws air past threads and "
            "cups.",
            "let up slowly"};
    }
    Caution operator()(const Wait&) const {
        return {"waiting", "Do not walk away from an open screw: watch reservoir, bottle and floor.",
                "never leave an open screw"};
    }
    Caution operator()(const TopUp&) const {
        return {
            "topping up",
            "Wipe the cap first. Only fluid of the stated grade from a sealed container; bled fluid is full "
            "of air and never goes back. Not above the upper mark.",
            "fresh sealed fluid only"};
    }
    Caution operator()(const TurnPart&) const {
        return {
            "turning or unbolting a caliper",
            "Put a spacer of the disc's thickness between the pads so that the pistons stay in, never hang "
            "the caliper by its hose, keep the hose free of twist, and refit to the maker's torque.",
            "spacer between the pads, never hang it by the hose"};
    }
    Caution operator()(const PitchVehicle&) const {
        return {
            "tilting the vehicle",
            "Stands on firm level ground and chocks at the other wheels, never a jack alone; nobody beneath "
            "while it moves.",
            "nobody beneath while it tilts"};
    }
    Caution operator()(const OpenAll&) const {
        return {"several screws open",
                "Every open screw needs its hose and bottle: one without lets air in on the release. The "
                "reservoir empties as "
                "many times faster.",
                "a hose on every open screw"};
    }
    Caution operator()(const CloseAll&) const {
        return {"closing several screws", "Count them: all shut and capped before the pedal comes up.",
                "count the screws shut"};
    }
    Caution operator()(const PushHome&) const {
        return {"pushing pistons home",
                "Fluid rises in the reservoir and overflows: draw some off first. With an anti-lock unit by "
                "the maker's text, "
                "often with the screw open and the hose clamped. A spacer keeps the other pistons in.",
                "pushing pistons home overflows the reservoir"};
    }
    Caution operator()(const DrawOff&) const {
        return {"drawing off",
                "A clean syringe kept for this fluid. What is drawn off is used fluid; do not uncover the "
                "outlets.",
                "draw off with a clean syringe"};
    }
    Caution operator()(const LiftPart&) const {
        return {"holding a part up",
                "Never above the fluid in the reservoir with a screw open: it would drain and draw air. "
                "Support its weight, "
                "never by the hose; spacer between the pads; refit to the maker's torque.",
                "not above the reservoir, never by the hose"};
    }
    Caution operator()(const Cap&) const {
        return {"opening a union",
                "Release the pressure, hold a rag round the union and face away; catch the fluid, plug both "
                "ends. Two spanners, "
                "the thread started by hand, and the joint looked at under pressure afterwards.",
                "unions: pressure off, rag, face away"};
    }
    Caution operator()(const CapAround&) const {
        return {"plugging a cylinder's outlets",
                "A plug in every outlet before the rod moves, the cylinder held firmly, short slow strokes. "
                "Join the pipes one by "
                "one, each while fluid wells out, and look at the joints under pressure afterwards.",
                "plug every outlet, rejoin them wet"};
    }
    Caution operator()(const Clamp&) const {
        return {"clamping a hose",
                "Only where the hose's maker allows it: rounded jaws, rubber hose only, never braided hose "
                "or pipe, never with a "
                "hard push; take every clamp off again and look at the hose.",
                "clamp rubber hose only, take it off again"};
    }
    Caution operator()(const HoldValve&) const {
        return {"holding a valve open",
                "With the tool or clip made for it, never forced; take it off before the vehicle moves. The "
                "valves of an "
                "anti-lock unit are worked by its maker's routine alone.",
                "take the valve tool off again"};
    }
    Caution operator()(const HoseOff&) const {
        return {"screw without its hose",
                "Fluid squirts: rag round the screw, eyes covered, nobody in line. An open screw lets air in "
                "as soon as the "
                "pressure is gone.",
                "no hose: rag, eyes, shut before release"};
    }
    Caution operator()(const FillHose&) const {
        return {
            "filled hose",
            "Fill it with fresh fluid to the very end and hold the end up: its air would go into the brake.",
            "no air in the filled hose"};
    }
    Caution operator()(const OneWayHose&) const {
        return {
            "one-way valve",
            "Try it first: blow, it passes; suck, it holds. Dirt holds it open and then it is a plain hose.",
            "try the one-way valve first"};
    }
    Caution operator()(const HosePressure&) const {
        return {"vacuum or pressure at the screw",
                "Vacuum: bubbles past the thread are not from the circuit; keep the trap upright. Injection: "
                "gently, the "
                "reservoir fills and overflows; never against a shut compensating port.",
                "watch the reservoir's level"};
    }
    Caution operator()(const ReservoirPressure&) const {
        return {"pressure at the reservoir",
                "Not above the maker's limit; cap tied and shielded; vent it before anything is opened.",
                "pressure: maker's limit, vent first"};
    }
    Caution operator()(const Tap&) const {
        return {"tapping",
                "A soft hammer, lightly, on the body of the part; never on pipes, screws or the cylinder's "
                "ports.",
                "tap with a soft hammer only"};
    }
    Caution operator()(const HoseEnd&) const {
        return {"bottle and hose",
                "Stand the bottle where it cannot fall and tie the hose to it. With its end in air, an open "
                "screw lets air back in on every release.",
                "tie the hose to the bottle"};
    }
};

constexpr std::string_view method_topic = "method";

Caution mixing(FluidFamily family) {
    constexpr std::string_view topic = "never mix fluids";
    switch (family) {
    case FluidFamily::silicone:
        return {topic,
                "Silicone (DOT 5) never with glycol fluids (DOT 3, 4, 5.1), nor the other way round; do not "
                "convert a circuit, and never use it with an anti-lock unit. Pour slowly: it holds air.",
                "silicone never with DOT 3, 4, 5.1"};
    case FluidFamily::mineral:
        return {
            topic,
            "Mineral oil never with glycol or silicone fluids: each ruins the other's seals. Read cap and "
            "can.",
            "mineral oil never with brake fluid"};
    case FluidFamily::glycol:
        break;
    }
    return {topic,
            "Glycol fluids (DOT 3, 4, 5.1) never with silicone (DOT 5) or mineral oil. Read cap and can.",
            "never silicone (DOT 5) or mineral oil"};
}

Caution self_pumping(AntiLockUnit unit) {
    constexpr std::string_view topic = "anti-lock unit";
    switch (unit) {
    case AntiLockUnit::yes:
        return {
            topic,
            "Units that pump by themselves and accumulators: by the maker's routine only, ignition off, "
            "pressure let down first. Air in the shut part of the unit is in these results only where the "
            "layout lists that part.",
            "anti-lock unit: maker's routine only"};
    case AntiLockUnit::no:
        return {topic, "Stated as without one. Accumulators and powered units: by the maker's routine only.",
                "accumulators: maker's routine only"};
    case AntiLockUnit::unknown:
        break;
    }
    return {
        topic,
        "Not stated whether there is one: look before work begins. Units that pump by themselves and "
        "accumulators: by the maker's routine only, pressure let down first; air in their shut part is in "
        "these results only where the layout lists that part.",
        "anti-lock unit not stated; if fitted, maker's routine only"};
}

constexpr Caution hand_brake_on{
    "hand brake on",
    "The vehicle stands on stands, with chocks at wheels that the hand brake does not hold; it is not moved "
    "until the work is done and tested. Say that it is on, and let it off before shoes are adjusted.",
    "hand brake on: chocks too, do not move it"};

void add(std::vector<Caution>& all, const Caution& caution) {
    if (std::ranges::find(all, caution.topic, &Caution::topic) == all.end()) all.push_back(caution);
}

void add(std::vector<Caution>& all, const std::vector<Act>& acts) {
    for (const Act& act : acts) add(all, caution_of(act));
}

} // namespace

Caution caution_of(const Act& act) { return std::visit(OfAct{}, act); }

Caution caution_of_method(std::string_view name) {
    if (name.starts_with("one person"))
        return {
            method_topic,
            "The screw stays open: keep the hose end under the fluid and the bottle above the screw all the "
            "time, or air comes back. Grease on the thread keeps air from passing it.",
            "hose end under the fluid, bottle above the screw"};
    if (name.starts_with("two people"))
        return {method_topic,
                "Agree on the words. The foot stays down until the other has said that the screw is closed; "
                "hands out of the way of the pedal.",
                "foot down until \"closed\""};
    struct OfMethod {
        std::string_view name, text, brief;
    };
    static constexpr OfMethod others[] = {
        {"gravity",
         "The circuit drains by itself: keep the reservoir filled and its cap loose, and do not leave it.",
         "never let the reservoir run dry"},
        {"one-way hose",
         "The valve stands in for the second person: try it first, keep the hose end under the fluid all the "
         "same.",
         "try the valve, hose end under the fluid"},
        {"pump and hold",
         "The screw opens under stored pressure: it squirts. A short opening, eyes covered, foot kept down "
         "until it is shut.",
         "opens under pressure: eyes covered"},
        {"reservoir pressure",
         "The level sinks unseen under the cap: reckon what leaves, stop and vent before the outlets are "
         "bare. A tank "
         "of its own fluid only.",
         "reckon the level, vent before opening the cap"},
        {"vacuum",
         "Bubbles are no measure: the thread leaks air as soon as the screw is open. Judge by the pedal.",
         "bubbles may be the thread's"},
        {"injection",
         "Old fluid and dirt go up into cylinder and reservoir: flush first, draw off as the level rises.",
         "dirt goes up: flush first"},
        {"long hold",
         "The held pedal keeps the port shut: nothing leaves until the release. Cover the reservoir, fluid "
         "spurts; "
         "never with the brake lights' battery left on.",
         "cover the reservoir at the release"},
        {"small strokes",
         "Stay short of where the pedal gets firm, reservoir cap off but covered: fluid spurts from the "
         "port.",
         "short strokes, cover the reservoir"},
        {"joint",
         "A union has no seat to close gently: crack it, never unscrew it, and tighten with two spanners.",
         "crack the union, two spanners"},
        {"prime in place",
         "Plugs in every outlet, cylinder held firmly, short slow strokes with a blunt rod; eyes covered.",
         "plug every outlet, eyes covered"},
        {"several screws",
         "As many hoses and bottles as screws, and one who counts them shut before the pedal comes up.",
         "a hose on every screw, count them shut"},
    };
    for (const OfMethod& m : others)
        if (name == m.name) return {method_topic, m.text, m.brief};
    return {method_topic, "Do one act at a time and say it aloud; with two people, one gives the words.",
            "one act at a time"};
}

std::vector<Caution> cautions_before(FluidFamily family, AntiLockUnit unit) {
    return {
        {"first of all",
         "The maker's instructions, local codes and licensed practice come first. Brakes are checked by a "
         "qualified person. What stands here is simulated, not measured on this vehicle.",
         "maker's instructions, local codes and licensed practice first"},
        {"eyes and skin",
         "Goggles and gloves. Rinse splashes with much water at once; fluid in the eye needs a doctor.",
         "goggles and gloves"},
        {"paint and linings",
         "Fluid strips paint and ruins linings: cover both, wash off at once, replace wetted linings.",
         "no fluid on paint and linings"},
        mixing(family),
        {"stands and chocks",
         "Stands on firm ground and chocks at the wheels before any wheel comes off, never a jack alone; "
         "nobody "
         "beneath while the vehicle moves.",
         "stands and chocks"},
        self_pumping(unit),
    };
}

std::vector<Caution> cautions_after() {
    return {
        {"engine on",
         "For the check with booster: open air or an extractor, chocks, hand brake, gear out, nobody in "
         "front.",
         "engine on: ventilation, chocks"},
        {"do not move the vehicle",
         "Not until the pedal is firm, does not sink under a hard hold and nothing is wet; then at walking "
         "pace "
         "first.",
         "do not move it until the pedal is firm"},
        {"disposal",
         "Keep used fluid apart, labelled and closed; by local rules, never into a drain, the ground or "
         "other oil.",
         "used fluid by local rules"},
    };
}

std::vector<Caution> cautions_of(const Case& c, AntiLockUnit unit, const std::vector<Act>& suggested) {
    const Procedure& plan = c.procedure;
    std::vector<Caution> all = cautions_before(c.network.conditions.fluid.family, unit);
    if (std::ranges::any_of(c.network.volumes, &Volume::hand_brake_on)) add(all, hand_brake_on);
    add(all, caution_of_method(plan.method.name));
    add(all, plan.prepare);
    for (const Visit& visit : plan.visits) {
        add(all, visit.before);
        if (visit.method)
            for (const auto* acts : {&visit.method->arrive, &visit.method->stroke, &visit.method->leave})
                add(all, *acts);
    }
    add(all, plan.method.arrive);
    add(all, plan.method.stroke);
    add(all, plan.method.leave);
    add(all, caution_of(TopUp{}));
    add(all, suggested);
    for (const Caution& caution : cautions_after()) add(all, caution);
    return all;
}

std::string to_text(const Caution& caution) {
    std::string text{caution.topic};
    text[0] = static_cast<char>(std::toupper(static_cast<unsigned char>(text[0])));
    return text + ": " + std::string(caution.text);
}

} // namespace clearstroke
