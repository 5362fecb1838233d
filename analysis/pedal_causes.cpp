#include "analysis/pedal_causes.hpp"

#include <algorithm>

#include <fmt/format.h>

namespace clearstroke {
namespace {

constexpr double weak_seal_from = 1e4,
                 weak_seal_to = 2e5;   // gauge over which a seal rolls back further [Pa], ours
constexpr double most_of_a_part = 0.9; // share that air can fill

struct Row {
    Cause cause;
    std::string_view name, cure;
    AmountRange amounts;
    bool dangerous;
    std::array<double, 3> bubbles; ///< none, declined, did not decline
    double wet;
};

constexpr Row rows[] = {
    {Cause::none, "no fault", "none needed", {}, false, {0.90, 0.09, 0.01}, 0.02},
    {Cause::air,
     "air",
     "bleed that place; if nothing comes, it is air that this procedure can't move: see `orders` and turn or "
     "unbolt the part",
     {0.5e-6, 10e-6},
     false,
     {0.35, 0.60, 0.05},
     0.02},
    {Cause::air_entry,
     "a joint that draws air",
     "renew the seal or joint there, then bleed again",
     {0.5e-6, 10e-6},
     true,
     {0.03, 0.12, 0.85},
     0.10},
    {Cause::slack,
     "shoe slack",
     "adjust the shoes until they just drag; look at the adjusters",
     {0.5e-6, 10e-6},
     false,
     {0.90, 0.09, 0.01},
     0.02},
    {Cause::roll_back,
     "pistons drawn back at every release",
     "free piston and slides, renew the piston seal; look for a disc that flexes or runs out",
     {0.5e-6, 8e-6},
     false,
     {0.90, 0.09, 0.01},
     0.02},
    {Cause::knock_back,
     "pistons knocked back once",
     "pump until firm; if it comes back after driving, look at wheel bearings and disc run-out",
     {0.5e-6, 8e-6},
     false,
     {0.90, 0.09, 0.01},
     0.02},
    {Cause::hose, "a hose that swells", "renew the hose", {4.0, 20.0}, false, {0.90, 0.09, 0.01}, 0.02},
    {Cause::bypass,
     "cup bypass in the cylinder",
     "renew or rebuild the master cylinder",
     {5e-15, 5e-13},
     true,
     {0.85, 0.10, 0.05},
     0.03},
    {Cause::leak,
     "an external leak",
     "find the wet place and renew that part; top up and bleed",
     {5e-15, 5e-13},
     true,
     {0.75, 0.15, 0.10},
     0.85},
    {Cause::blocked_port,
     "a compensating port that stays shut",
     "give the push rod its play; clear or renew the cylinder",
     {},
     true,
     {0.90, 0.09, 0.01},
     0.02},
    {Cause::booster_out,
     "the booster does not help",
     "look at vacuum hose, one-way valve and booster",
     {0.7, 1.0},
     true,
     {0.90, 0.09, 0.01},
     0.02},
};
static_assert(std::size(rows) == causes_in_all);

const Row& row(Cause cause) { return rows[static_cast<std::size_t>(cause)]; }

const std::string& place_of(const Network& net, const PedalPart& p) {
    return p.line ? net.lines[p.index].place : net.volumes[p.index].place;
}

double content(const Network& net, const PedalPart& p) {
    if (!p.line) return net.volumes[p.index].content;
    const Line& l = net.lines[p.index];
    return content_of(l);
}

class Listing {
public:
    Listing(const Network& net, const PedalModel& model) : net_(net), model_(model) {}
    std::vector<Suspect> suspects{{Cause::none, "", {}, 0.0}};

    void all() {
        for (std::size_t c = 0; c < model_.circuits.size(); ++c) circuit(c);
        if (model_.actuator.booster.gain > 1.0) suspects.push_back({Cause::booster_out, "", {}, 0.0});
    }

private:
    const Network& net_;
    const PedalModel& model_;

    void circuit(std::size_t c) {
        const PedalCircuit& circuit = model_.circuits[c];
        const std::string& chamber = net_.volumes[circuit.piston.chamber.index].name;
        for (std::size_t i = 0; i < circuit.parts.size(); ++i) {
            const PedalPart& p = circuit.parts[i];
            const bool cylinder = !p.line && p.index == circuit.piston.chamber.index;
            const std::string& place = cylinder ? chamber : place_of(net_, p);
            add(Cause::air, place, {c, i}, content(net_, p));
            if (p.line && net_.lines[p.index].elastic_hose)
                add(Cause::hose, net_.lines[p.index].name, {c, i});
            if (p.line || cylinder) continue;
            add(Cause::air_entry, place, {c, i}, content(net_, p));
            if (p.walls.take_up_volume > 0.0) {
                add(Cause::slack, place, {c, i});
            } else {
                add(Cause::roll_back, place, {c, i});
                add(Cause::knock_back, place, {c, i});
            }
        }
        const std::size_t last = circuit.parts.size() - 1;
        add(Cause::bypass, chamber, {c, last});
        add(Cause::leak, "the circuit of the " + chamber, {c, last});
        add(Cause::blocked_port, chamber, {c, last});
    }

    /// Parts of one place are one suspect.
    void add(Cause cause, const std::string& place, PartAt at, double room = 0.0) {
        for (Suspect& s : suspects)
            if (s.cause == cause && s.place == place && s.parts.front().circuit == at.circuit) {
                s.parts.push_back(at);
                s.room += most_of_a_part * room;
                return;
            }
        suspects.push_back({cause, place, {at}, most_of_a_part * room});
    }
};

} // namespace

std::string_view name_of(Cause cause) { return row(cause).name; }
std::string_view cure_of(Cause cause) { return row(cause).cure; }
bool dangerous(Cause cause) { return row(cause).dangerous; }
AmountRange amounts_of(Cause cause) { return row(cause).amounts; }

double chance_of(Bubbles seen, Cause cause) { return row(cause).bubbles[static_cast<std::size_t>(seen)]; }
double chance_of_wet(bool wet, Cause cause) { return wet ? row(cause).wet : 1.0 - row(cause).wet; }

std::string Suspect::name() const {
    return place.empty() ? std::string(name_of(cause)) : fmt::format("{}, {}", name_of(cause), place);
}

std::vector<Suspect> suspects_of(const Network& net, const PedalModel& model) {
    Listing listing(net, model);
    listing.all();
    return std::move(listing.suspects);
}

AmountRange amounts_in(const Suspect& s) {
    AmountRange out = amounts_of(s.cause);
    if (s.room > 0.0) out.high = std::clamp(s.room, out.low, out.high);
    return out;
}

void afflict(PedalModel& model, const Suspect& s, double amount) {
    const double share = s.parts.empty() ? amount : amount / static_cast<double>(s.parts.size());
    for (const PartAt& at : s.parts) {
        PedalCircuit& circuit = model.circuits[at.circuit];
        PedalPart& p = circuit.parts[at.part];
        switch (s.cause) {
        case Cause::air_entry:
            p.air_entry += air_entry_while_pumping;
            [[fallthrough]];
        case Cause::air:
            p.gas += share;
            break;
        case Cause::slack:
            p.walls.take_up_volume += share;
            break;
        case Cause::roll_back:
            p.walls.take_up_volume += share;
            p.walls.take_up_from = weak_seal_from;
            p.walls.take_up_to = weak_seal_to;
            break;
        case Cause::knock_back:
            p.knocked_back += share;
            break;
        case Cause::hose:
            p.walls.compliance *= amount;
            p.walls.settling_volume *= amount;
            break;
        case Cause::bypass:
            circuit.piston.bypass += amount;
            break;
        case Cause::leak:
            p.leak += share;
            break;
        case Cause::blocked_port:
            circuit.piston.port_blocked = true;
            break;
        case Cause::none:
        case Cause::booster_out:
            break;
        }
    }
    if (s.cause == Cause::booster_out) model.actuator.booster.run_out *= 1.0 - amount;
}

} // namespace clearstroke
