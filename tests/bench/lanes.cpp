// lanes: what samples of one layout have in common, step by step, that lanes of one instruction could share.
//
// Eight samples of the uncertain values, three strokes at every screw, each by its own steps. Two samples are alike in a
// step when their circuits have the same equations then: the same cells of line, gas in the same cells and volumes, the
// same ports and screws open. Tells how many of the eight lanes are filled on the average if alike samples step together,
// with their own lengths of step and waiting for each other at the ends of acts; and what it costs to keep every lump of
// line apart, so that the equations are the same for all. Run from the project's root.
#include <fmt/format.h>

#include <algorithm>
#include <ctime>
#include <random>
#include <set>
#include <string>
#include <vector>

#include "analysis/uncertain.hpp"
#include "scenarios/scenario.hpp"
#include "sim/run.hpp"
#include "sim/simulation.hpp"

namespace clearstroke {
namespace {

constexpr std::size_t lanes = 8;

using Steps = std::vector<std::string>; // what the equations of each step are made of

void add(const std::vector<Cell>& cells, std::string& out) {
    for (const Cell& c : cells) out += c.gas > 0.0 ? 'g' : 'l';
    out += '|';
}

std::string structure_of(const State& s) {
    std::string out;
    for (const auto& cells : s.lines) add(cells, out);
    if (s.hose) add(s.hose->cells, out);
    for (const VolumeState& v : s.volumes) out += v.gas > 0.0 ? 'g' : 'l';
    for (const ActuatorState& a : s.actuators)
        for (const char open : a.port_open) out += open ? 'o' : 's';
    for (const double turns : s.screw_turns) out += turns > 0.0 ? 'o' : 's';
    return out;
}

/// Steps of every act of three strokes at each screw.
std::vector<Steps> acts_of(const Case& c) {
    std::vector<Steps> acts(1);
    Simulation sim(c.network);
    State s = sim.start(c.contents);
    sim.observe([&](const State& now, Moment moment) {
        if (moment == Moment::step)
            acts.back().push_back(structure_of(now));
        else
            acts.emplace_back();
    });
    for (Visit v : c.procedure.visits) {
        v.strokes = 3;
        (void)sim.visit(s, v, c.procedure);
    }
    return acts;
}

std::vector<std::vector<Steps>> runs_of(const CaseFactory& factory, double share_of_band) {
    std::mt19937_64 random(1);
    const std::vector<Coordinate> coordinates = coordinates_of(factory);
    std::vector<std::vector<Steps>> runs;
    for (std::size_t l = 0; l < lanes; ++l) {
        std::vector<double> u(coordinates.size());
        std::ranges::generate(
            u, [&] { return 0.5 + share_of_band * (std::generate_canonical<double, 53>(random) - 0.5); });
        runs.push_back(acts_of(factory.make(values_at(factory, coordinates, u))));
    }
    return runs;
}

/// Lanes that are filled on the average, of eight.
double filled(const std::vector<std::vector<Steps>>& runs) {
    std::size_t steps = 0, together = 0, acts = 0;
    for (const auto& run : runs) acts = std::max(acts, run.size());
    for (std::size_t a = 0; a < acts; ++a)
        for (std::size_t i = 0;; ++i) {
            std::set<std::string> different;
            for (const auto& run : runs)
                if (a < run.size() && i < run[a].size()) {
                    different.insert(run[a][i]);
                    ++steps;
                }
            if (different.empty()) break;
            together += different.size();
        }
    return static_cast<double>(steps) / static_cast<double>(together);
}

/// Processor time of three strokes at each screw, best of five [s].
double seconds_of(const Case& c, bool contract) {
    Settings settings;
    settings.contract = contract;
    double best = 1e300;
    for (int i = 0; i < 5; ++i) {
        const std::clock_t began = std::clock();
        Simulation sim(c.network, settings);
        State s = sim.start(c.contents);
        for (Visit v : c.procedure.visits) {
            v.strokes = 3;
            (void)sim.visit(s, v, c.procedure);
        }
        best = std::min(best, static_cast<double>(std::clock() - began) / CLOCKS_PER_SEC);
    }
    return best;
}

} // namespace
} // namespace clearstroke

int main() {
    using namespace clearstroke;
    fmt::print("| lanes filled, of {} | whole bands | three tenths of them | a tenth | time with every lump "
               "apart |\n|---|---|---|---|---|\n",
               lanes);
    for (const auto& [name, condition] :
         {std::pair{"front_rear_split", "little air"}, std::pair{"two_screw_calipers", "little air"},
          std::pair{"front_rear_split", "dry"}, std::pair{"front_rear_split", "fluid change"}}) {
        const std::vector<std::string> overrides{std::string("condition=") + condition};
        const CaseFactory factory =
            read_scenario(std::string("scenarios/") + name + ".toml", overrides).factory;
        const Case usual = factory.make(usual_values(factory));
        fmt::print("| {}, {} | {:.2f} | {:.2f} | {:.2f} | {:.1f} times |\n", name, condition,
                   filled(runs_of(factory, 1.0)), filled(runs_of(factory, 0.3)),
                   filled(runs_of(factory, 0.1)), seconds_of(usual, false) / seconds_of(usual, true));
    }
}
