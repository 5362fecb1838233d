#pragma once
/// Orders that the trade knows by a name, so that a comparison can say where each stands.
///
/// Length is that of the pipe from the nearest chamber of the circuit (path_length). Screws of one wheel stay
/// together; equal lengths go by name. Source of the rules: navedtra14329 (longest first, or the reverse;
/// circuit by circuit: common practice) [verified in the text].
#include <string>
#include <vector>

#include "sim/network.hpp"

namespace clearstroke {

/// A screw as the rules see it.
struct BleedPoint {
    ScrewId screw;
    std::string name, wheel;
    double length{}; ///< of pipe to it [m]
    int circuit{};
};

/// All screws of a circuit, in its order.
[[nodiscard]] std::vector<BleedPoint> bleed_points(const Network&);

struct KnownOrder {
    std::string name;
    std::vector<ScrewId> screws;
};

/// "farthest first", "nearest first", "circuit by circuit" (each farthest first, the circuit of the farthest
/// screw first), and where a wheel has several screws the same with these the other way round.
[[nodiscard]] std::vector<KnownOrder> known_orders(const std::vector<BleedPoint>&);

/// Names of all known orders that are this sequence.
[[nodiscard]] std::vector<std::string> names_of(const std::vector<ScrewId>&, const std::vector<KnownOrder>&);

/// Names of one order in a line; what neighbours have in common at their ends is said once, after the last of them.
[[nodiscard]] std::string together(std::vector<std::string> names);

} // namespace clearstroke
