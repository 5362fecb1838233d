#include "sim/plug_motion.hpp"

#include <algorithm>
#include <cmath>

#include "models/long_bubble.hpp"

namespace clearstroke {
namespace {

bool is_straight(const LineLayout& line, int begin, int end) {
    constexpr double same = 1e-12;
    const auto first = line.lumps.begin() + begin;
    return std::all_of(first, line.lumps.begin() + end,
                       [&](const Lump& lump) { return std::abs(slope_of(lump) - slope_of(*first)) <= same; });
}

} // namespace

PlugMotion::PlugMotion(const Cell& cell, const Columns& columns, const LineLayout& line, const Liquid& liquid,
                       double run_ahead_scale)
    : line_(line), liquid_(liquid), begin_(cell.begin), end_(cell.end),
      content_(volume_between(line, cell.begin, cell.end)),
      middle_(0.5 * (columns.plug[0] + columns.plug[1])),
      half_(0.5 * std::max(columns.plug[1] - columns.plug[0], line.area * line.bore)),
      scale_(run_ahead_scale) {}

double PlugMotion::pushed(double flow) const {
    const double ca = liquid_.dynamic_viscosity * std::abs(flow) / (line_.area * liquid_.surface_tension);
    return (run_ahead(ca, scale_) - 1.0) * flow;
}

double PlugMotion::rising(double moved) const {
    if (line_.rise_speed <= 0.0) return 0.0;
    const double slope = slope_under(moved);
    return std::copysign(line_.area * line_.rise_speed * inclination_factor(std::abs(slope)), slope);
}

double PlugMotion::slope_under(double moved) const {
    const double low = std::clamp(middle_ + moved - half_, 0.0, content_),
                 high = std::clamp(middle_ + moved + half_, 0.0, content_);
    if (high <= low) return 0.0;
    const double rise = height_along(line_, begin_, end_, high) - height_along(line_, begin_, end_, low);
    return std::clamp(rise * line_.area / (high - low), -1.0, 1.0);
}

/// Where between two displacements, at which it goes towards the other, the plug stands still.
double PlugMotion::place_of_rest(double drift, double from, double to) const {
    constexpr int halvings = 40;
    const double forward = drift + rising(from);
    for (int i = 0; i < halvings; ++i) {
        const double middle = 0.5 * (from + to);
        ((drift + rising(middle)) * forward > 0.0 ? from : to) = middle;
    }
    return 0.5 * (from + to);
}

double PlugMotion::advance(double flow, double dt) const {
    constexpr double share = 0.25; // of half the plug, in one step
    const double ahead = pushed(flow), drift = flow + ahead;
    if (line_.rise_speed <= 0.0 || is_straight(line_, begin_, end_)) return speed(flow) * dt;
    const double longest = share * half_;
    double moved = 0.0;
    for (double left = dt; left > 0.0;) {
        const double here = drift + rising(moved);
        const double step = std::min(left, here == 0.0 ? left : longest / std::abs(here));
        const double next = drift + rising(moved + 0.5 * step * here);
        if (next * here < 0.0) return place_of_rest(drift, moved, moved + 0.5 * step * here) - flow * dt;
        moved += step * next;
        left -= step;
    }
    return moved - flow * dt;
}

} // namespace clearstroke
