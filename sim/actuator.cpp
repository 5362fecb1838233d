#include "sim/actuator.hpp"

#include <algorithm>
#include <cmath>

namespace clearstroke {
namespace {

/// A stop of u, and how it goes with the rod on its way forward and back: where two stops take turns these differ.
struct Bound {
    double at{}, u_x{}, u_x_back{};
};
struct Bounds {
    Bound low, high;
};

/// Range of u in which every compression stays between 0 and its stroke.
Bounds bounds_of(const Actuator& a, const Linkage& k, double x) {
    constexpr double same_place = 1e-7; // [m]
    Bounds out{{-1.0, 0.0, 0.0}, {1.0, 0.0, 0.0}};
    if (a.coupling == Coupling::balance_bar) out = {{-a.bar_travel, 0.0, 0.0}, {a.bar_travel, 0.0, 0.0}};
    const auto raise = [&](double at, double u_x) {
        Bound& low = out.low;
        if (std::abs(at - low.at) <= same_place)
            low = {std::max(at, low.at), std::max(u_x, low.u_x), std::min(u_x, low.u_x_back)};
        else if (at > low.at)
            low = {at, u_x, u_x};
    };
    const auto lower = [&](double at, double u_x) {
        Bound& high = out.high;
        if (std::abs(at - high.at) <= same_place)
            high = {std::min(at, high.at), std::min(u_x, high.u_x), std::max(u_x, high.u_x_back)};
        else if (at < high.at)
            high = {at, u_x, u_x};
    };
    for (std::size_t j = 0; j < a.pistons.size(); ++j) {
        const double at_rest = -k.e[j] * x / k.f[j], slope = -k.e[j] / k.f[j];
        const double at_stop = (a.pistons[j].stroke - k.e[j] * x) / k.f[j];
        if (k.f[j] > 0.0) {
            raise(at_rest, slope);
            lower(at_stop, slope);
        } else {
            raise(at_stop, slope);
            lower(at_rest, slope);
        }
    }
    out.high.at = std::max(out.high.at, out.low.at);
    return out;
}

class Statics {
public:
    Statics(const Actuator& a, const Linkage& k, double x, const std::array<Chamber, 2>& chambers,
            const Medium& m)
        : a_(a), k_(k), x_(x), chambers_(chambers), m_(m) {
        for (std::size_t j = 0; j < 2; ++j) guess_[j] = chambers[j].guess;
    }

    /// Evaluates all at u; G and its slope.
    void evaluate(double u) {
        point_.u = u;
        g_ = 0.0;
        g_slope_ = 0.0;
        sum_ = 0.0;
        for (std::size_t j = 0; j < a_.pistons.size(); ++j) {
            const Piston& piston = a_.pistons[j];
            const Chamber& c = chambers_[j];
            const double d = k_.e[j] * x_ + k_.f[j] * u;
            point_.d[j] = d;
            point_.pressure[j] =
                pressure_of(c.filling, c.content - piston.area * d, *c.walls, c.play_memory, m_, guess_[j]);
            guess_[j] = point_.pressure[j].p;
            const double force =
                piston.area * (guess_[j] - m_.ambient) + piston.spring.preload + piston.spring.rate * d;
            const double stiffness =
                piston.area * piston.area / point_.pressure[j].softness + piston.spring.rate;
            g_ -= k_.f[j] * force;
            g_slope_ -= k_.f[j] * k_.f[j] * stiffness;
            sum_ += k_.e[j] * force;
        }
    }

    /// Moves u from here to where G = target; to `stop`, and false, when G has not reached it there.
    bool slide(double target, const Bound& stop) {
        constexpr double resolution =
            1e-9; // last change; the error left is its square over the length of the chamber [m]
        double u = point_.u;
        double low = std::min(u, stop.at), high = std::max(u, stop.at);
        bool stop_tried = false;
        for (int i = 0; i < 80; ++i) {
            const double excess = g_ - target;
            double next = u - excess / g_slope_;
            (excess > 0.0 ? low : high) = u;
            if (!stop_tried && (stop.at > point_.u ? next >= stop.at : next <= stop.at)) {
                stop_tried = true;
                u = stop.at;
                evaluate(u);
                if ((g_ - target > 0.0) == (excess > 0.0)) return false;
                continue;
            }
            if (!(next > low && next < high)) next = 0.5 * (low + high);
            const double change = std::abs(next - u);
            u = next;
            evaluate(u);
            if (change < resolution) break;
        }
        point_.slides = true;
        return true;
    }

    [[nodiscard]] double g() const { return g_; }
    /// Held by friction, away from a stop or without one.
    [[nodiscard]] ActuatorPoint finish(bool brink = false) {
        point_.on_the_brink = brink;
        point_.rod_force = point_.rod_force_back = sum_;
        return point_;
    }
    /// At a stop: (M-4) for either way of the rod.
    [[nodiscard]] ActuatorPoint finish_at(const Bound& stop, bool is_low) {
        const double friction = a_.friction;
        point_.u_x = stop.u_x;
        point_.u_x_back = stop.u_x_back;
        point_.pressed = is_low ? g_ < -friction : g_ > friction;
        point_.pushed_forward = is_low == (stop.u_x > 0.0);
        point_.pushed_back = is_low != (stop.u_x_back > 0.0);
        const double up = is_low ? g_ - friction : std::max(g_ - friction, 0.0),
                     down = is_low ? std::min(g_ + friction, 0.0) : g_ + friction;
        point_.rod_force = sum_ - stop.u_x * (stop.u_x > 0.0 ? up : down);
        point_.rod_force_back = sum_ - stop.u_x_back * (stop.u_x_back > 0.0 ? down : up);
        return point_;
    }

private:
    const Actuator& a_;
    const Linkage& k_;
    double x_;
    const std::array<Chamber, 2>& chambers_;
    const Medium& m_;
    std::array<double, 2> guess_{};
    ActuatorPoint point_;
    double g_{}, g_slope_{}, sum_{};
};

} // namespace

Linkage linkage_of(const Actuator& a) {
    switch (a.coupling) {
    case Coupling::single:
        return {{1.0, 0.0}, {0.0, 0.0}};
    case Coupling::tandem:
        return {{1.0, 0.0}, {-1.0, 1.0}};
    case Coupling::balance_bar:
        return {{1.0, 1.0}, {1.0 - a.bar_share, -a.bar_share}};
    }
    return {};
}

ActuatorPoint actuator_point(const Actuator& a, const Linkage& k, double x, double u_old,
                             const std::array<Chamber, 2>& chambers, const Medium& m) {
    Statics s(a, k, x, chambers, m);
    if (a.pistons.size() == 1) {
        s.evaluate(0.0);
        return s.finish();
    }
    const Bounds b = bounds_of(a, k, x);
    const double u = std::clamp(u_old, b.low.at, b.high.at), friction = a.friction;
    s.evaluate(u);
    const bool at_low = u <= b.low.at, at_high = u >= b.high.at;
    if (s.g() > friction && !at_high)
        return s.slide(friction, b.high) ? s.finish() : s.finish_at(b.high, false);
    if (s.g() < -friction && !at_low)
        return s.slide(-friction, b.low) ? s.finish() : s.finish_at(b.low, true);
    if (at_high && (s.g() > 0.0 || !at_low)) return s.finish_at(b.high, false);
    if (at_low) return s.finish_at(b.low, true);
    return s.finish(std::abs(s.g()) >= friction * (1.0 - 1e-6));
}

} // namespace clearstroke
