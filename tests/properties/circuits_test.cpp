// What holds whatever the circuit: balances, repeatability, resuming, mirror images, numbering, splitting.
#include "tests/properties/property.hpp"
#include "tests/properties/random_circuit.hpp"

namespace clearstroke {
namespace {

using namespace testing;

constexpr double balance_bound = 1e-12;

/// `strokes` strokes at every screw in turn.
void bleed_all(Simulation& sim, State& s, const Method& method, int strokes) {
    Procedure p;
    p.method = method;
    for (std::size_t i = 0; i < sim.network().screws.size(); ++i) {
        const VisitRecord v = sim.visit(s, {ScrewId{i}, strokes, {}}, p);
        RC_ASSERT(v.status.usable());
    }
}

/// What two runs are compared by: free air and liquid, pressures.
std::vector<double> fingerprint(const Simulation& sim, const State& s) {
    std::vector<double> out{s.t, s.ledger.liquid_out, s.ledger.gas_out, s.ledger.drawn};
    const AirInside air = sim.air(s);
    out.insert(out.end(), air.of_volume.begin(), air.of_volume.end());
    out.insert(out.end(), air.of_line.begin(), air.of_line.end());
    for (const double p : sim.pressures(s)) out.push_back(p);
    return out;
}

void conserves(const Draft& d, const Method& method) {
    const Circuit c = circuit_of(d);
    Simulation sim(c.network);
    State s = sim.start(c.contents);
    bleed_all(sim, s, method, 2);
    RC_ASSERT(sim.balance(s).liquid <= balance_bound);
    RC_ASSERT(sim.balance(s).gas <= balance_bound);
    for (const VolumeState& v : s.volumes) RC_ASSERT(v.liquid >= 0.0 && v.gas >= 0.0 && v.pressure > 0.0);
    for (const auto& line : s.lines)
        for (const Cell& cell : line) RC_ASSERT(cell.liquid >= 0.0 && cell.gas >= 0.0 && cell.pressure > 0.0);
}

PROPERTY(Circuits, ConserveBothPhasesWithTheScrewOpen, 25, (const Draft& d)) {
    conserves(d, one_person_hose_in_bottle());
}
PROPERTY(Circuits, ConserveBothPhasesWithTheScrewShutInBetween, 25, (const Draft& d)) {
    conserves(d, two_people_closed_before_release());
}
PROPERTY(Circuits, ConserveBothPhasesByGravity, 15, (const Draft& d)) { conserves(d, gravity()); }

PROPERTY(Circuits, ResumeFromACopyWithTheSameBits, 8, (const Draft& d)) {
    const Circuit c = circuit_of(d);
    Simulation sim(c.network), other(c.network);
    State s = sim.start(c.contents);
    bleed_all(sim, s, one_person_hose_in_bottle(), 1);
    State again = s, elsewhere = s;
    bleed_all(sim, s, one_person_hose_in_bottle(), 1);
    bleed_all(sim, again, one_person_hose_in_bottle(), 1);
    bleed_all(other, elsewhere, one_person_hose_in_bottle(), 1);
    RC_ASSERT(fingerprint(sim, again) == fingerprint(sim, s));
    RC_ASSERT(fingerprint(other, elsewhere) == fingerprint(sim, s));
}

/// One screw bled; the air left per branch in the draft's order, then all air and what was delivered. Whether
/// gas at rest stands just before or just behind the inlet of its caliper hangs on the choice of steps and is
/// left out.
std::vector<double> one_visit(const Circuit& c, std::size_t screw, const std::vector<std::size_t>& order,
                              double tolerance = Settings{}.tolerance) {
    Settings settings;
    settings.tolerance = tolerance;
    Simulation sim(c.network, settings);
    State s = sim.start(c.contents);
    Procedure p;
    p.method = two_people_closed_before_release();
    RC_ASSERT(sim.visit(s, {ScrewId{screw}, 3, {}}, p).status.usable());
    const AirInside air = sim.air(s);
    std::vector<double> out;
    for (const std::size_t i : order) out.push_back(air.of_volume[i + 1] + air.of_line[i + 1]);
    out.push_back(air.total);
    out.push_back(s.ledger.liquid_out);
    return out;
}

PROPERTY(Circuits, DoNotDependOnNumbering, 12, (const Draft& d)) {
    Draft reversed = d;
    std::ranges::reverse(reversed.branches);
    std::vector<std::size_t> order(d.branches.size());
    for (std::size_t i = 0; i < order.size(); ++i) order[i] = i;
    const std::vector<double> one = one_visit(circuit_of(d), 0, order);
    std::ranges::reverse(order);
    const std::vector<double> two = one_visit(circuit_of(reversed), d.branches.size() - 1, order);
    constexpr double resolution = 5e-9; // a twentieth of the target: sums in another order choose other steps
    for (std::size_t i = 0; i < one.size(); ++i) RC_ASSERT(std::abs(one[i] - two[i]) <= resolution);
}

PROPERTY(Circuits, AreTheSameInTheMirror, 8, (const Draft& d)) {
    Circuit right = circuit_of(d);
    for (Volume& v : right.network.volumes) v.outboard = v.name == "chamber" ? 0.0 : 0.7;
    Circuit left = right;
    for (Volume& v : left.network.volumes) v.outboard = -v.outboard;
    Simulation sim_right(right.network), sim_left(left.network);
    State a = sim_right.start(right.contents), b = sim_left.start(left.contents);
    bleed_all(sim_right, a, two_people_closed_before_release(), 2);
    bleed_all(sim_left, b, two_people_closed_before_release(), 2);
    RC_ASSERT(fingerprint(sim_right, a) == fingerprint(sim_left, b));
}

// A pipe may be described as two that meet at a union; the second branch of the draft here.
PROPERTY(Circuits, AreTheSameWithALineSplitInTwo, 6, (const Draft& d)) {
    Circuit whole = circuit_of(d), split = whole;
    Network& n = split.network;
    const double tee = n.junctions[0].height, low = n.volumes[2].height;
    n.junctions.push_back({"union", 0.5 * (tee + low), 0.0, 0.0});
    Line second = n.lines[2];
    n.lines[2].length *= 0.5;
    n.lines[2].lumps /= 2;
    second.name = second.place = "second half";
    second.length *= 0.5;
    second.lumps /= 2;
    second.from = n.lines[2].to = JunctionId{1};
    second.to = whole.network.lines[2].to;
    n.lines.push_back(second);
    split.contents.line_gas.emplace_back();
    if (!whole.contents.line_gas[2].empty()) {
        const double half = whole.contents.line_gas[2][0].end - 0.5;
        split.contents.line_gas[2] = {{1.0 - 2.0 * half, 1.0}};
        split.contents.line_gas.back() = {{0.0, 2.0 * half}};
    }
    constexpr double fine = 1e-3; // at the usual one gas in a shut branch may wander by more than a target
    const std::vector<double> one = one_visit(whole, 1, {0, 1}, fine),
                              two = one_visit(split, 1, {0, 1}, fine);
    const double all = std::max(split.contents.volume_gas[2], 1e-6);
    RC_ASSERT(std::abs(one[2] - two[2]) <= 2e-2 * all);
    RC_ASSERT(std::abs(one[3] - two[3]) <= 5e-3 * one[3]);
}

} // namespace
} // namespace clearstroke
