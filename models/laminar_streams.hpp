#pragma once
/// Old and fresh fluid in a line under laminar flow.
///
/// The section is cut into concentric rings; ring k between s_k and s_(k+1), s = (r/R)^2, carries the
/// share of flow of the parabolic profile
///     q_k = (2 s_(k+1) - s_(k+1)^2) - (2 s_k - s_k^2)                                            (L-1)
/// over the share of area s_(k+1) - s_k, and moves as plug flow in itself. A line first filled with
/// old fluid keeps 1/(4N) of it after N line volumes, N >= 1/2 (derived: ours); the rings narrow
/// towards the wall so that this holds within 2 % up to N = 20. Back-flow moves the rings back
/// (reversible); a gas plug that passes remixes the section.
/// Amounts are shares of fresh fluid [-], volumes are those of the line. Valid: laminar, no
/// diffusion across the section (a few hours in 3 mm), no secondary flow in bends. Source: ours.
#include <array>
#include <cstddef>
#include <vector>

namespace clearstroke {

class LaminarStreams {
public:
    static constexpr std::size_t rings = 10;

    LaminarStreams() = default;
    LaminarStreams(double volume, double fresh);

    /// Moves `flow` [m^3] through (positive towards `to`); `inflow` is the share entering. Returns the
    /// mean share that left.
    double move(double flow, double inflow);
    /// Evens out each section.
    void remix();
    /// Mean share of fresh liquid in the line.
    [[nodiscard]] double mean() const;
    /// Share leaving at an end for a vanishing flow towards `to` (true) or towards `from` (false).
    [[nodiscard]] double leaving(bool towards_to) const { return leaving_[towards_to]; }
    [[nodiscard]] double volume() const { return volume_; }

private:
    struct Slice {
        double length{}; // share of the line's length
        double fresh{};
    };
    double volume_{};
    std::array<std::vector<Slice>, rings> ring_{}; // from `from` to `to`; lengths sum to 1
    std::array<double, 2> leaving_{};              // at `from`, at `to`

    void find_leaving();
};

} // namespace clearstroke
