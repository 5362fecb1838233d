// What can only go one way.
#include "sim/pedal.hpp"
#include "tests/properties/property.hpp"
#include "tests/properties/random_circuit.hpp"

namespace clearstroke {
namespace {

using namespace testing;

PROPERTY(Monotone, MoreAirInOnePlaceNeverMakesTheStillPedalFirmer, 40, (const Draft& d)) {
    Circuit c = circuit_of(d);
    const std::size_t where = 1 + *rc::gen::inRange<std::size_t>(0, d.branches.size());
    const double more = 1e-8 * *rc::gen::inRange(1, 500), force = *rc::gen::inRange(20, 500);
    const Simulation sim(c.network);
    const double before = pedal_at(sim, sim.start(c.contents), {0}, force).pad_travel;
    c.contents.volume_gas[where] =
        std::min(c.contents.volume_gas[where] + more, 0.9 * c.network.volumes[where].content);
    RC_ASSERT(pedal_at(sim, sim.start(c.contents), {0}, force).pad_travel >= before - 1e-9);
}

PROPERTY(Monotone, MoreForceNeverShortensTheTravel, 40, (const Draft& d)) {
    const Circuit c = circuit_of(d);
    const Simulation sim(c.network);
    const State s = sim.start(c.contents);
    const int force = *rc::gen::inRange(10, 500);
    RC_ASSERT(pedal_at(sim, s, {0}, force + *rc::gen::inRange(1, 100)).pad_travel >=
              pedal_at(sim, s, {0}, force).pad_travel - 1e-9);
}

/// Volume drawn by gravity through the first screw in 2 s, all full of liquid.
double by_gravity(const Draft& d) {
    const Circuit c = circuit_of(d);
    Simulation sim(c.network);
    State s = sim.start(full(c.network));
    RC_ASSERT(sim.act(s, OpenScrew{ScrewId{0}, {}}, Operator{}).usable());
    RC_ASSERT(sim.advance(s, 2.0).usable());
    const double before = s.ledger.drawn;
    RC_ASSERT(sim.advance(s, 2.0).usable());
    return s.ledger.drawn - before;
}

PROPERTY(Monotone, AWiderFullLineNeverPassesLess, 25, (Draft d)) {
    const double before = by_gravity(d);
    d.branches[0].bore_um += *rc::gen::inRange(1, 1000);
    RC_ASSERT(by_gravity(d) >= before * (1.0 - 1e-6));
}

PROPERTY(Monotone, ALongerFullLineNeverPassesMore, 25, (Draft d)) {
    const double before = by_gravity(d);
    d.branches[0].length_cm += *rc::gen::inRange(1, 200);
    RC_ASSERT(by_gravity(d) <= before * (1.0 + 1e-6));
}

} // namespace
} // namespace clearstroke
