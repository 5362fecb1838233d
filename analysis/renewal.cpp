#include "analysis/renewal.hpp"

#include "analysis/plan_run.hpp"

namespace clearstroke {
namespace {

/// Strokes of a visit after which its wheel first holds `wanted`; the visit's count where it never does.
int strokes_until(Simulation& sim, State trial, const Visit& visit, const Procedure& work, double wanted) {
    const Network& net = sim.network();
    const std::string& wheel = net.screws[visit.screw.index].wheel;
    int made = 0, enough = 0;
    sim.observe([&](const State& s, Moment moment) {
        if (moment != Moment::stroke) return;
        ++made;
        if (enough == 0 && fresh_at(net, wheel, sim.fresh_of_volume(s)).value_or(1.0) >= wanted)
            enough = made;
    });
    (void)sim.visit(trial, visit, work);
    sim.observe({});
    return enough > 0 ? enough : made;
}

} // namespace

std::optional<double> fresh_at(const Network& net, const std::string& wheel,
                               const std::vector<double>& fresh) {
    double content = 0.0, renewed = 0.0;
    for (std::size_t v = 0; v < net.volumes.size(); ++v)
        if (net.volumes[v].place == wheel) {
            content += net.volumes[v].content;
            renewed += net.volumes[v].content * fresh[v];
        }
    return content > 0.0 ? std::optional(renewed / content) : std::nullopt;
}

std::vector<RenewalVisit> renew(const Case& c, double wanted) {
    Simulation sim(c.network);
    Prepared ready = prepare(sim, c);
    std::vector<RenewalVisit> out;
    if (!ready.status.usable()) return out;
    for (Visit visit : c.procedure.visits) {
        const std::string& wheel = c.network.screws[visit.screw.index].wheel;
        const auto share = [&] {
            return fresh_at(c.network, wheel, sim.fresh_of_volume(ready.state)).value_or(1.0);
        };
        if (share() >= wanted) continue;
        visit.strokes = c.procedure.stop.most_strokes;
        visit.strokes = strokes_until(sim, ready.state, visit, c.procedure, wanted);
        const VisitRecord made = sim.visit(ready.state, visit, c.procedure);
        out.push_back({visit.screw, static_cast<int>(made.strokes.size()), made.fluid_drawn, share()});
        if (!made.status.usable()) break;
    }
    return out;
}

} // namespace clearstroke
