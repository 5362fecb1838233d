#pragma once
/// Third-order linearly implicit step with embedded error, behind Boost.Odeint's stepper concepts.
///
/// Stages of Rodas3 in the form that needs no product with the Jacobian:
///     (1/(gamma h) I - J) K_i = f(z + sum a_ij K_j) + sum (c_ij / h) K_j,   gamma = 1/2             (I-1)
///     z_1 = z + 2 K_1 + K_3 + K_4,   error estimate K_4                                          (I-2)
/// L- and stiffly accurate, order 3 with an embedded order 2. Linear invariants of f are invariants of
/// the step to rounding. Source: sandu1997 [coefficients from memory; orders are measured in
/// tests/sim/rosenbrock_test.cpp].
///
/// The system offers, for an Eigen vector z:
///     rate(z, f)             f := dz/dt
///     linearise(z, f)        takes J at z; f as rate
///     prepare(gamma_h)       factors I - gamma_h J
///     solve(gamma_h, r, k)   k := (I - gamma_h J)^(-1) gamma_h r
///     error(e, z)            norm of an error estimate, accepted when <= 1
#include <Eigen/Core>
#include <algorithm>
#include <boost/numeric/odeint/stepper/controlled_step_result.hpp>
#include <boost/numeric/odeint/stepper/stepper_categories.hpp>
#include <cmath>
#include <concepts>

namespace clearstroke {

template <class S>
concept LinearlyImplicitSystem = requires(S s, const Eigen::VectorXd& in, Eigen::VectorXd& out, double x) {
    s.rate(in, out);
    s.linearise(in, out);
    s.prepare(x);
    s.solve(x, in, out);
    { s.error(in, in) } -> std::convertible_to<double>;
};

/// A system of which flows give from either end, as they turn; in a corner step they may settle which:
///     choose_again()           donors are chosen at each linearise
///     give_as_passed(z, dt)    they are those of what has passed, until the next step
template <class S>
concept ChoosesDonors = requires(S s, const Eigen::VectorXd& in, double x) {
    s.choose_again();
    s.give_as_passed(in, x);
};

/// Odeint's error stepper: one step, no loop.
class Rodas3 {
public:
    using state_type = Eigen::VectorXd;
    using deriv_type = Eigen::VectorXd;
    using value_type = double;
    using time_type = double;
    using order_type = unsigned short;
    using stepper_category = boost::numeric::odeint::error_stepper_tag;

    [[nodiscard]] order_type order() const { return 3; }
    [[nodiscard]] order_type stepper_order() const { return 3; }
    [[nodiscard]] order_type error_order() const { return 2; }

    /// One step of `dt` from `in`; autonomous systems, t is not read. The Jacobian and first slope of
    /// the last accepted point are used again unless `fresh`.
    template <LinearlyImplicitSystem System>
    void do_step(System& system, const state_type& in, time_type, state_type& out, time_type dt,
                 state_type& error, bool fresh = true) {
        constexpr double gamma = 0.5;
        const double g = gamma * dt;
        if (fresh) begin(system, in);
        system.prepare(g);
        system.solve(g, first_, k1_);
        residual_ = first_ + (4.0 / dt) * k1_;
        system.solve(g, residual_, k2_);
        at_ = in + 2.0 * k1_;
        system.rate(at_, slope_);
        residual_ = slope_ + (1.0 / dt) * (k1_ - k2_);
        system.solve(g, residual_, k3_);
        at_ += k3_;
        system.rate(at_, slope_);
        residual_ = slope_ + (1.0 / dt) * (k1_ - k2_ - (8.0 / 3.0) * k3_);
        system.solve(g, residual_, error);
        out = at_ + error;
    }

    template <LinearlyImplicitSystem System> void begin(System& system, const state_type& in) {
        system.linearise(in, first_);
    }

private:
    state_type first_, slope_, residual_, at_, k1_, k2_, k3_;
};

/// Implicit Euler by Newton's iteration, for the corners of the laws: a port, cup, stop or friction that
/// turns inside a step makes any one linearisation wrong, but not the equation
///     z_1 = z + h f(z_1),   error estimate (I - h J)^(-1) h (f(z_1) - f(z)) / 2                     (I-3)
/// whose iteration takes J anew at each iterate. L-stable, order 1, linear invariants kept whatever the
/// iteration leaves.
class CornerStep {
public:
    /// False when the iteration did not settle.
    template <LinearlyImplicitSystem System>
    bool do_step(System& system, const Eigen::VectorXd& in, Eigen::VectorXd& out, double dt,
                 Eigen::VectorXd& error) {
        constexpr int most_iterations = 12, undamped = 8, choosing = 4;
        constexpr double settled = 0.2; // of the tolerance, by the change before the last
        constexpr double swings = 0.8;  // of the change before: iterates go to and fro about a kink
        out = in;
        double before = 1e300;
        if constexpr (ChoosesDonors<System>) system.choose_again();
        for (int i = 0; i < most_iterations; ++i) {
            if constexpr (ChoosesDonors<System>)
                if (i == choosing) system.give_as_passed(out, dt);
            system.linearise(out, slope_);
            if (i == 0) first_ = slope_;
            system.prepare(dt);
            residual_ = slope_ - (out - in) / dt;
            system.solve(dt, residual_, change_);
            const double size = system.error(change_, out);
            if (!std::isfinite(size)) return false;
            out += (i < undamped && size < swings * before ? 1.0 : 0.5) * change_;
            if (size <= settled) {
                residual_ = 0.5 * (slope_ - first_);
                system.solve(dt, residual_, error);
                return true;
            }
            before = size;
        }
        return before <= 1.0;
    }

private:
    Eigen::VectorXd first_, slope_, residual_, change_;
};

/// Odeint's controlled stepper: Rodas3 where the laws are smooth, CornerStep after a rejection.
/// Proportional control, growth at most 4, safety 0.9.
class ControlledRodas3 {
public:
    /// Corner steps are at most `longest_corner` [s].
    explicit ControlledRodas3(double longest_corner = 1e-3) : longest_corner_(longest_corner) {}

    using state_type = Rodas3::state_type;
    using deriv_type = Rodas3::deriv_type;
    using value_type = double;
    using time_type = double;
    using order_type = Rodas3::order_type;
    using stepper_type = Rodas3;
    using stepper_category = boost::numeric::odeint::controlled_stepper_tag;

    /// Tries one step; on success z and t move on. dt becomes the step to try next either way.
    template <LinearlyImplicitSystem System>
    boost::numeric::odeint::controlled_step_result try_step(System& system, state_type& z, time_type& t,
                                                            time_type& dt) {
        return corner_ahead_ && dt <= longest_corner_ ? try_corner(system, z, t, dt)
                                                      : try_smooth(system, z, t, dt);
    }
    /// Takes slopes at z now, so that the caller can look at the flows before choosing dt.
    template <LinearlyImplicitSystem System> void begin(System& system, const state_type& z) {
        step_.begin(system, z);
        slopes_known_ = true;
    }
    /// An accepted step is taken back (an event lies inside it): the caller restores z and t.
    void refuse() { slopes_known_ = !at_corner_; }
    /// The next try is a corner step: a law turns within dt, which is cut to the longest corner step.
    void turn_corner(time_type& dt) {
        corner_ahead_ = true;
        dt = std::min(dt, longest_corner_);
    }
    /// The system has changed under the stepper: slopes kept from a rejected try are void.
    void reset() { off_once_ = corner_ahead_ = slopes_known_ = at_corner_ = false; }
    /// Whether the next try is a corner step.
    [[nodiscard]] bool corner_ahead() const { return corner_ahead_; }
    /// Whether the last step was a corner step, whose flows turn with it.
    [[nodiscard]] bool at_corner() const { return at_corner_; }

private:
    Rodas3 step_;
    CornerStep corner_;
    state_type next_, error_;
    double longest_corner_, first_try_{};
    bool off_once_{}, corner_ahead_{}, slopes_known_{}, at_corner_{};

    template <LinearlyImplicitSystem System>
    boost::numeric::odeint::controlled_step_result try_smooth(System& system, state_type& z, time_type& t,
                                                              time_type& dt) {
        step_.do_step(system, z, t, next_, dt, error_, !slopes_known_);
        slopes_known_ = true;
        at_corner_ = false;
        const double norm = system.error(error_, next_);
        const double factor = norm > 0.0 && std::isfinite(norm) ? 0.9 / std::cbrt(norm)
                              : norm == 0.0                     ? most_growth
                                                                : 0.2;
        if (!(norm <= 1.0)) {
            // Far off, or off again, means a corner, and then not the step but its method changes.
            if (off_once_) {
                dt = first_try_;
                turn_corner(dt);
            } else if (!(norm <= corner_norm)) {
                turn_corner(dt);
            } else {
                off_once_ = true;
                first_try_ = dt;
                dt *= std::clamp(factor, 0.2, 0.9);
            }
            return boost::numeric::odeint::fail;
        }
        accept(z, t, dt);
        dt *= std::clamp(factor, 0.2, most_growth);
        return boost::numeric::odeint::success;
    }

    template <LinearlyImplicitSystem System>
    boost::numeric::odeint::controlled_step_result try_corner(System& system, state_type& z, time_type& t,
                                                              time_type& dt) {
        slopes_known_ = false;
        at_corner_ = true;
        const bool settled = corner_.do_step(system, z, next_, dt, error_);
        const double norm = settled ? system.error(error_, next_) : 1e300;
        const double factor = norm > 0.0 ? 0.9 / std::sqrt(norm) : most_growth;
        if (!(norm <= settled_norm)) {
            dt *= std::clamp(factor, 0.2, 0.7);
            return boost::numeric::odeint::fail;
        }
        accept(z, t, dt);
        dt *= std::clamp(2.0 * factor, 0.5, most_growth);
        return boost::numeric::odeint::success;
    }

    static constexpr double most_growth = 4.0;
    static constexpr double corner_norm = 100.0; // of a smooth step: above, a law turned inside it
    static constexpr double settled_norm =
        40.0; // of a corner step, whose transient may be over before its end
    void accept(state_type& z, time_type& t, time_type dt) {
        t += dt;
        z.swap(next_);
        off_once_ = corner_ahead_ = slopes_known_ = false;
    }
};

} // namespace clearstroke
