#pragma once
/// What the quasi-steady run leaves out of a screw's opening under pressure.
///
/// The nearest chamber's pressure drives liquid through the shortest path of full lines and the seat; flow by (T-2), (T-4) and. An
/// upper bound, since walls and foot let the pressure fall as the flow starts. Source: flow_start.hpp.
#include "sim/network.hpp"

namespace clearstroke {

inline constexpr double drawn_tube_roughness = 1.5e-6; ///< [m], from memory

struct SuddenOpening {
    double flow{};          ///< that the pressure would keep up [m^3/s]
    double starting_time{}; ///< (U-1) [s]
    double missing{};       ///< (U-2) [m^3]
    double run_too_fast{};  ///< by how much the run's flow, laminar in lines, is above `flow`, relative [-]
};

/// At a gauge pressure [Pa] > 0 in the chamber; the screw turned open by `turns` > 0.
[[nodiscard]] SuddenOpening sudden_opening(const Network&, ScrewId, double turns, double pressure);

} // namespace clearstroke
