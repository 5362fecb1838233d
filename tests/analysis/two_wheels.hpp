#pragma once
/// A small circuit for the analyses: one cylinder, a tee, a far and a near wheel. Sizes invented, of the
/// usual order.
#include "analysis/orders.hpp"
#include "tests/sim/small_circuits.hpp"

namespace clearstroke::small {

/// Air [m^3] in the far and in the near caliper.
inline Case two_wheels(double far_air, double near_air) {
    Case c;
    c.network = testing::one_wheel();
    Network& net = c.network;
    net.volumes[1].name = net.volumes[1].place = "far caliper";
    net.volumes.push_back(testing::caliper("near caliper", 54e-3, 10e-3, 0.30));
    net.junctions = {{"tee", 0.5, 0.0, 0.0}};
    net.lines = {testing::pipe("trunk", 0.5, 3.3e-3, PortRef{{0}, 1}, JunctionId{0}, 2),
                 testing::pipe("far pipe", 1.5, 3.3e-3, JunctionId{0}, PortRef{{1}, 0}, 4),
                 testing::pipe("near pipe", 0.5, 3.3e-3, JunctionId{0}, PortRef{{2}, 0}, 2)};
    net.screws = {testing::screw("far", {1}), testing::screw("near", {2})};
    net.screws[0].wheel = "far caliper";
    net.screws[1].wheel = "near caliper";
    for (Screw& screw : net.screws) screw.thread_clearance = 0.0;
    c.contents = testing::full(net);
    c.contents.volume_gas = {0.0, far_air, near_air};
    c.procedure.method = two_people_closed_before_release();
    c.procedure.visits = {{ScrewId{0}, {}, {}}, {ScrewId{1}, {}, {}}};
    c.procedure.stop.most_strokes = 20;
    return c;
}

/// The same as a factory: starting air of both, length of the far pipe, run-ahead.
inline CaseFactory two_wheels_factory() {
    CaseFactory factory;
    factory.title = "two wheels";
    factory.parameters = {
        {"work.air", 2e-6, 1e-6, 4e-6, "m3", "mL", "starting air", SourceGrade::common_practice, "", ""},
        {"lines.far", 1.5, 1.0, 2.5, "m", "m", "", SourceGrade::common_practice, "",
         "a string laid along the pipe"},
        {"model.run_ahead", 1.0, 0.5, 1.2, "1", "1", "", SourceGrade::derived, "", ""},
        {"lines.near", 0.5, 0.2, 1.5, "m", "m", "", SourceGrade::stated, "", "a string laid along the pipe"},
    };
    factory.make = [](std::span<const double> v) {
        Case c = two_wheels(v[0], 0.5 * v[0]);
        c.network.lines[1].length = v[1];
        c.network.lines[2].length = v[3];
        c.network.conditions.run_ahead_scale = v[2];
        return c;
    };
    return factory;
}

} // namespace clearstroke::small
