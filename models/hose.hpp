/// Brake hose: how much it swells.
///
/// Volume gained per metre of hose at gauge pressure p:
///     V(p) = C p + V_s p / (p + p_s)                                                                  (H-1)
/// C and V_s are the least-squares fit (relative errors) to the legal maxima at 6.895, 10.342 and, where
/// known, 19.995 MPa; p_s is 1 MPa (ours, band 0.3 to 3): the limits say nothing below 6.9 MPa. A hose in
/// service swells a fraction of the maximum: rubber 0.3 to 0.6, braided PTFE 0.1 to 0.25 [common practice].
/// Valid: 0 to 20 MPa, 20 degC, static.
/// Source: cfr571_106 Table I (layout seen, cell values [from memory]); (H-1) ours.
#pragma once

#include <optional>
#include <span>

namespace clearstroke {

/// One row of the table of legal maxima.
struct HoseLimit {
    double bore_max{};                     ///< largest nominal bore of the row                 [m]
    bool low_expansion{};                  ///< hose sold as low expansion
    double volume_1000_psi{};              ///< largest gain per length at 6.895 MPa            [m^3/m]
    double volume_1500_psi{};              ///< at 10.342 MPa                                   [m^3/m]
    std::optional<double> volume_2900_psi; ///< at 19.995 MPa, where known                      [m^3/m]
};

/// Constants of (H-1) per metre of hose.
struct HoseExpansion {
    double linear_compliance{};   ///< C    [m^3/(m Pa)]  >= 0
    double saturating_volume{};   ///< V_s  [m^3/m]       >= 0
    double saturation_pressure{}; ///< p_s  [Pa]          > 0
};

// Share of the legal maximum that a hose in service shows [-] [common practice].
inline constexpr double rubber_in_service = 0.45;   ///< band 0.3 to 0.6
inline constexpr double braided_in_service = 0.175; ///< PTFE under steel braid, band 0.1 to 0.25

/// All rows of the table of legal maxima.
[[nodiscard]] std::span<const HoseLimit> hose_limits();

/// Row for a hose of nominal `bore` [m].
[[nodiscard]] const HoseLimit& hose_limit(double bore, bool low_expansion);

/// Constants of (H-1) for a hose that swells `fraction` [-] of the legal maximum.
[[nodiscard]] HoseExpansion hose_expansion(const HoseLimit&, double fraction);

/// Volume gained per length [m^3/m] at gauge pressure [Pa] >= 0, (H-1).
[[nodiscard]] constexpr double hose_volume_gain(const HoseExpansion& hose, double gauge_pressure) {
    return hose.linear_compliance * gauge_pressure +
           hose.saturating_volume * gauge_pressure / (gauge_pressure + hose.saturation_pressure);
}

} // namespace clearstroke
