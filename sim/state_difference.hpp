#pragma once
/// How far two States of one Network are apart, for telling whether what follows may be computed once.
///
/// Of each kind the largest over all places counts. Not looked at: time, ledger and bottle, which steer
/// nothing, and the memory of elastic parts, which shows in their liquid.
/// Source: ours.
#include "sim/state.hpp"

namespace clearstroke {

struct StateDifference {
    double gas{};         ///< in any volume, or parcel of a line [m^3 free air]
    double liquid{};      ///< in any volume, reservoir chamber, or parcel beside gas [m^3]
    double pressure{};    ///< [Pa]
    double fresh{};       ///< share of fresh liquid [-]
    double theta{};       ///< of the gas of volumes, see closure.hpp [-]
    double travel{};      ///< of rods and floating parts [m]
    bool same_kind{true}; ///< same screws, caps, hose, attitude, open ports, and parcels in lines

    friend bool operator==(const StateDifference&, const StateDifference&) = default;
};

[[nodiscard]] StateDifference difference(const State&, const State&);

/// The larger of each kind.
[[nodiscard]] StateDifference larger(const StateDifference&, const StateDifference&);

/// No kind above its limit.
[[nodiscard]] bool within(const StateDifference&, const StateDifference& limits);

} // namespace clearstroke
