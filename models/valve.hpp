/// Valve in a line: what pressure difference it takes to pass it.
///
/// Flow q from inlet to outlet, with the gauge pressures e_in and e_out at its two sides:
///     forward:  e_in - e_out - c = a q + b q |q|,    back:  e_out - e_in - c_back = a |q| + b q^2    
/// and no flow where neither left side is positive. a, b: the passage (restriction.hpp). The thresholds:
///     one-way            c = c_0                          c_back = infinite                          
///     residual pressure  c = c_0                          c_back = p_r                               
///     metering           c = max(p_h - e_out, 0)          c_back = 0;  c = 0 while e_in < p_b        
///     proportioning      c = (1 - s) max(e_in - p_k, 0)   c_back = 0                                 
///     load-sensing       as with p_k = p_empty + load (p_laden - p_empty)                      
///     restriction        c = c_back = 0;    shut: both infinite
/// says that the inlet must stand at the hold-off p_h before anything passes, whatever the outlet
/// does, and that the valve is wide open once the outlet has caught up. gives
/// e_out = p_k + s (e_in - p_k) at rest above the knee. A valve held wide open is a restriction.
/// Valid: quasi-static; no hysteresis besides c_back, no displacement of the valve's own piston.
/// Source: ours (force balance of each valve). Usual values: residual 0.14 bar for discs, 0.7 bar for
/// drums; hold-off 5 to 7 bar; knee 34 to 48 bar [common practice].
#pragma once

#include <algorithm>
#include <limits>

#include "models/restriction.hpp"

namespace clearstroke {

enum class ValveKind { one_way, residual, metering, proportioning, restriction, shut };

struct Valve {
    ValveKind kind{ValveKind::restriction};
    Restriction passage{1.25e-3, 5e-3, 0.62}; ///< wide open
    double cracking{};                        ///< c_0, one-way and residual          [Pa] >= 0
    double residual{};                        ///< p_r                                [Pa] >= 0
    double hold_off{};                        ///< p_h, metering                      [Pa] >= 0
    double bypass{};                          ///< p_b, metering; 0: none             [Pa] >= 0, < p_h
    double knee{};                            ///< p_k, proportioning                 [Pa] >= 0
    double slope{1.0};                        ///< s, proportioning                   [-]  (0, 1]
};

/// Threshold and its derivatives by the two pressures.
struct ValveThreshold {
    double value{}; ///< [Pa]
    double by_in{}, by_out{};
};

[[nodiscard]] inline ValveThreshold forward_threshold(const Valve& v, double in_gauge, double out_gauge) {
    constexpr double never = std::numeric_limits<double>::infinity();
    switch (v.kind) {
    case ValveKind::one_way:
    case ValveKind::residual:
        return {v.cracking, 0.0, 0.0};
    case ValveKind::metering:
        if (in_gauge < v.bypass || out_gauge >= v.hold_off) return {};
        return {v.hold_off - out_gauge, 0.0, -1.0};
    case ValveKind::proportioning:
        if (in_gauge <= v.knee) return {};
        return {(1.0 - v.slope) * (in_gauge - v.knee), 1.0 - v.slope, 0.0};
    case ValveKind::restriction:
        return {};
    case ValveKind::shut:
        break;
    }
    return {never, 0.0, 0.0};
}

[[nodiscard]] inline double back_threshold(const Valve& v) {
    switch (v.kind) {
    case ValveKind::one_way:
    case ValveKind::shut:
        return std::numeric_limits<double>::infinity();
    case ValveKind::residual:
        return v.residual;
    default:
        return 0.0;
    }
}

/// knee at a `load` between 0 (empty) and 1 (laden) [Pa].
[[nodiscard]] inline double load_sensing_knee(double empty, double laden, double load) {
    return empty + std::clamp(load, 0.0, 1.0) * (laden - empty);
}

} // namespace clearstroke
