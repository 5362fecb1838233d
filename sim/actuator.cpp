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

/// A chamber's pressure, straight in the compression about where it is known.
struct Foretold {
    double guess{}, p{}, d{}, stiffness{};

    [[nodiscard]] double straight(double compression) const { return p + stiffness * (compression - d); }
    /// To start from.
    [[nodiscard]] double near(double compression) const {
        const double there = straight(compression);
        return there > 0.25 * guess && there < 4.0 * guess ? there : guess;
    }
};

class Statics {
public:
    /// Leaves what it finds in `point`.
    Statics(const Actuator& a, const Linkage& k, double x, const std::array<Chamber, 2>& chambers,
            const Medium& m, ActuatorPoint& point)
        : a_(a), k_(k), x_(x), chambers_(chambers), m_(m), point_(point) {
        for (std::size_t j = 0; j < 2; ++j)
            foretold_[j] = {chambers[j].guess, chambers[j].foretold, chambers[j].foretold_at,
                            chambers[j].stiffness};
    }

    /// Lets the part of two pistons stay at u, or slide.
    void settle(double u_old, const Bounds& b) {
        const double u = std::clamp(u_old, b.low.at, b.high.at), friction = a_.friction;
        if (leap(u, b)) return finish();
        evaluate(u);
        const bool at_low = u <= b.low.at, at_high = u >= b.high.at;
        if (g_ > friction && !at_high)
            return slide(friction, b.high, u) ? finish() : finish_at(b.high, false);
        if (g_ < -friction && !at_low) return slide(-friction, b.low, u) ? finish() : finish_at(b.low, true);
        if (at_high && (g_ > 0.0 || !at_low)) return finish_at(b.high, false);
        if (at_low) return finish_at(b.low, true);
        finish(std::abs(g_) >= friction * (1.0 - 1e-6));
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
            const double d = compression(j, u);
            point_.d[j] = d;
            const Pressure& pressure = point_.pressure[j] = pressure_of(
                c.filling, c.content - piston.area * d, *c.walls, c.play_memory, m_, foretold_[j].near(d));
            foretold_[j] = {pressure.p, pressure.p, d, piston.area / pressure.softness};
            const double resisting = force(j, pressure.p, d);
            g_ -= k_.f[j] * resisting;
            g_slope_ -= k_.f[j] * k_.f[j] * (piston.area * foretold_[j].stiffness + piston.spring.rate);
            sum_ += k_.e[j] * resisting;
        }
    }

    /// Goes at once to where the foretold pressures let the part slide from u; false, when they hold it there, or as soon
    /// as that or a stop comes into question.
    bool leap(double u, const Bounds& b) {
        constexpr double in_doubt = 1e-7; // [m]
        if (foretold_[0].stiffness <= 0.0) return false;
        double g = 0.0, slope = 0.0;
        for (std::size_t j = 0; j < 2; ++j) {
            const double d = compression(j, u);
            g -= k_.f[j] * force(j, foretold_[j].straight(d), d);
            slope -=
                k_.f[j] * k_.f[j] * (a_.pistons[j].area * foretold_[j].stiffness + a_.pistons[j].spring.rate);
        }
        const double target = std::copysign(a_.friction, g), move = (target - g) / slope;
        const Bound& stop = g > 0.0 ? b.high : b.low;
        if (std::abs(g) <= a_.friction || !(std::abs(move) < std::abs(stop.at - u))) return false;
        evaluate(u + move);
        const double further = (target - g_) / g_slope_;
        if (!(std::abs(further) < 0.5 * std::abs(move))) return false;
        point_.slides = slide(target, stop, u) && std::abs(point_.u - u) > in_doubt;
        return point_.slides;
    }

    /// Moves u from here to where G = target, between `from` and `stop`; to `stop`, and false, when G has not reached it
    /// there.
    bool slide(double target, const Bound& stop, double from) {
        constexpr double resolution =
            1e-8; // last change; the error left is its square over a chamber's length [m]
        constexpr double nothing = 1e-15; // a change that no pressure feels [m]
        double u = point_.u;
        double low = std::min(from, stop.at), high = std::max(from, stop.at);
        bool stop_tried = false;
        for (int i = 0; i < 80; ++i) {
            const double excess = g_ - target;
            double next = u - excess / g_slope_;
            if (std::abs(next - u) < nothing) break;
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

    /// Held by friction, away from a stop or without one.
    void finish(bool brink = false) {
        point_.on_the_brink = brink;
        point_.rod_force = point_.rod_force_back = sum_;
    }
    /// At a stop: (M-4) for either way of the rod.
    void finish_at(const Bound& stop, bool is_low) {
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
    }

private:
    const Actuator& a_;
    const Linkage& k_;
    double x_;
    const std::array<Chamber, 2>& chambers_;
    const Medium& m_;
    std::array<Foretold, 2> foretold_{};
    ActuatorPoint& point_;
    double g_{}, g_slope_{}, sum_{};

    [[nodiscard]] double compression(std::size_t j, double u) const { return k_.e[j] * x_ + k_.f[j] * u; }
    /// T_j of (M-2).
    [[nodiscard]] double force(std::size_t j, double p, double d) const {
        const Piston& piston = a_.pistons[j];
        return piston.area * (p - m_.ambient) + piston.spring.preload + piston.spring.rate * d;
    }
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
    ActuatorPoint point;
    Statics s(a, k, x, chambers, m, point);
    if (a.pistons.size() == 1) {
        s.evaluate(0.0);
        s.finish();
        return point;
    }
    s.settle(u_old, bounds_of(a, k, x));
    return point;
}

} // namespace clearstroke
