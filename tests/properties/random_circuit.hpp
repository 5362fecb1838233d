#pragma once
/// Random small circuits, made of whole numbers so that a failing one can be read.
#include <rapidcheck.h>

#include <ostream>

#include "tests/sim/small_circuits.hpp"

namespace clearstroke::testing {

/// A branch from the tee to a caliper.
struct Branch {
    int length_cm{}, bore_um{};              ///< of the pipe
    int caliper_mm{}, gap_mm{}, height_cm{}; ///< of the caliper
    int pocket_percent{};                    ///< of the caliper filled with air
    int plug_percent{};                      ///< of the pipe filled with air, from its middle; 0: none
};

/// A cylinder, a feed, a tee and two or three branches.
struct Draft {
    int feed_cm{}, tee_cm{};
    std::vector<Branch> branches;
};

inline std::ostream& operator<<(std::ostream& out, const Draft& d) {
    out << "feed " << d.feed_cm << " cm, tee at " << d.tee_cm << " cm";
    for (const Branch& b : d.branches)
        out << "; branch " << b.length_cm << " cm of " << b.bore_um << " um to a caliper of " << b.caliper_mm
            << " mm, gap " << b.gap_mm << " mm, at " << b.height_cm << " cm, pocket " << b.pocket_percent
            << " %, plug " << b.plug_percent << " %";
    return out;
}

struct Circuit {
    Network network;
    Contents contents;
};

[[nodiscard]] inline Circuit circuit_of(const Draft& d) {
    Circuit out{one_wheel(), {}};
    Network& n = out.network;
    n.junctions = {{"tee", 0.01 * d.tee_cm, 0.0, 0.0}};
    n.lines = {pipe("feed", 0.01 * d.feed_cm, 3.3e-3, PortRef{{0}, 1}, JunctionId{0}, 6)};
    n.volumes.resize(1);
    n.screws.clear();
    for (std::size_t i = 0; i < d.branches.size(); ++i) {
        const Branch& b = d.branches[i];
        const std::string name = "wheel " + std::to_string(i + 1);
        n.volumes.push_back(caliper(name, 1e-3 * b.caliper_mm, 1e-3 * b.gap_mm, 0.01 * b.height_cm));
        n.lines.push_back(pipe("branch " + std::to_string(i + 1), 0.01 * b.length_cm, 1e-6 * b.bore_um,
                               JunctionId{0}, PortRef{{i + 1}, 0}, 6));
        n.screws.push_back(screw(name, {i + 1}));
    }
    out.contents = full(n);
    for (std::size_t i = 0; i < d.branches.size(); ++i) {
        out.contents.volume_gas[i + 1] = 0.01 * d.branches[i].pocket_percent * n.volumes[i + 1].content;
        const double half = 0.005 * d.branches[i].plug_percent;
        if (half > 0.0) out.contents.line_gas[i + 1] = {{0.5 - half, 0.5 + half}};
    }
    return out;
}

} // namespace clearstroke::testing

namespace rc {

template <> struct Arbitrary<clearstroke::testing::Branch> {
    static Gen<clearstroke::testing::Branch> arbitrary() {
        using clearstroke::testing::Branch;
        return gen::build<Branch>(gen::set(&Branch::length_cm, gen::inRange(30, 300)),
                                  gen::set(&Branch::bore_um, gen::inRange(2500, 4000)),
                                  gen::set(&Branch::caliper_mm, gen::inRange(30, 60)),
                                  gen::set(&Branch::gap_mm, gen::inRange(5, 20)),
                                  gen::set(&Branch::height_cm, gen::inRange(25, 35)),
                                  gen::set(&Branch::pocket_percent, gen::inRange(0, 30)),
                                  gen::set(&Branch::plug_percent, gen::inRange(0, 50)));
    }
};

template <> struct Arbitrary<clearstroke::testing::Draft> {
    static Gen<clearstroke::testing::Draft> arbitrary() {
        using clearstroke::testing::Branch;
        using clearstroke::testing::Draft;
        const auto branches = gen::mapcat(gen::inRange<std::size_t>(2, 4), [](std::size_t n) {
            return gen::container<std::vector<Branch>>(n, gen::arbitrary<Branch>());
        });
        return gen::build<Draft>(gen::set(&Draft::feed_cm, gen::inRange(30, 200)),
                                 gen::set(&Draft::tee_cm, gen::inRange(20, 60)),
                                 gen::set(&Draft::branches, branches));
    }
};

} // namespace rc
