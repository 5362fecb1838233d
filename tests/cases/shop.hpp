#pragma once
/// Work on a shipped scenario, its parts called by their names.
#include <numeric>

#include "tests/cases/support.hpp"
#include "tests/scenarios/support.hpp"

namespace clearstroke::testing {

/// Liquid in every reservoir [m^3].
inline std::vector<double> levels(const State& s) {
    std::vector<double> out;
    for (const ReservoirState& r : s.reservoirs)
        out.push_back(std::accumulate(r.liquid.begin(), r.liquid.end(), 0.0));
    return out;
}

/// Acts on a shipped scenario's parts, by their names.
struct Shop {
    Case c;
    Job job;
    ScrewId here{0}; ///< screw of the strokes

    explicit Shop(const std::string& file, const std::vector<std::string>& changes = {})
        : c(usual_case(read_scenario("scenarios/" + file + ".toml", changes))), job(c.network, c.contents) {
        job.plan = c.procedure;
    }

    [[nodiscard]] ActuatorId actuator(const std::string& name) const {
        return {std::size_t(std::ranges::find(c.network.actuators, name, &Actuator::name) -
                            c.network.actuators.begin())};
    }
    [[nodiscard]] ScrewId screw(const std::string& name) const {
        return {
            std::size_t(std::ranges::find(c.network.screws, name, &Screw::name) - c.network.screws.begin())};
    }
    [[nodiscard]] LineId line(const std::string& name) const {
        return {std::size_t(&line_named(c, name) - c.network.lines.data())};
    }
    [[nodiscard]] std::size_t volume(const std::string& name) const {
        return std::size_t(&volume_named(c, name) - c.network.volumes.data());
    }
    [[nodiscard]] double air_in_line(const std::string& name) const {
        return job.sim.air(job.state).of_line[line(name).index];
    }
    [[nodiscard]] double air_in(const std::string& name) const { return job.state.volumes[volume(name)].gas; }

    /// Topped up, strokes of the pedals together at its screw, open meanwhile and closed before the release.
    void strokes(const std::vector<ActuatorId>& pedals, int count) {
        for (int i = 0; i < count; ++i) {
            job.act({TopUp{}, OpenScrew{here, {}}});
            for (const ActuatorId& pedal : pedals) job.act({Press{pedal, {}, {}, {}}});
            job.act({CloseScrew{here}});
            for (const ActuatorId& pedal : pedals) job.act({Release{pedal, {}, {}}});
        }
    }
};

} // namespace clearstroke::testing
