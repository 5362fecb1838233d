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
    void do_step(System& system, const state_type& in, time_type, state_type& out, time_type dt, state_type& error,
                 bool fresh = true) {
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

    template <LinearlyImplicitSystem System>
    void begin(System& system, const state_type& in) { system.linearise(in, first_); }

  private:
    state_type first_, slope_, residual_, at_, k1_, k2_, k3_;
};

/// Odeint's controlled stepper over Rodas3: proportional control, growth at most 2.5, safety 0.9.
class ControlledRodas3 {
  public:
    static constexpr double corner_norm = 10.0;
    /// Steps of `floor` and shorter are taken up to `corner_norm` times the tolerance [s].
    explicit ControlledRodas3(double floor = 0.0) : floor_(floor) {}

    using state_type = Rodas3::state_type;
    using deriv_type = Rodas3::deriv_type;
    using value_type = double;
    using time_type = double;
    using order_type = Rodas3::order_type;
    using stepper_type = Rodas3;
    using stepper_category = boost::numeric::odeint::controlled_stepper_tag;

    /// Tries one step; on success z and t move on. dt becomes the step to try next either way.
    template <LinearlyImplicitSystem System>
    boost::numeric::odeint::controlled_step_result try_step(System& system, state_type& z, time_type& t, time_type& dt) {
        step_.do_step(system, z, t, next_, dt, error_, !slopes_known_);
        slopes_known_ = true;
        const double norm = system.error(error_, next_);
        const double factor = norm > 0.0 && std::isfinite(norm) ? 0.9 / std::cbrt(norm) : norm == 0.0 ? 2.5 : 0.2;
        if (!(norm <= 1.0) && !(dt <= floor_ && norm <= corner_norm)) {
            // A second rejection in a row means a corner, not a smooth error: go down at once.
            dt *= rejected_ ? std::min(0.2, factor) : std::clamp(factor, 0.2, 0.9);
            rejected_ = true;
            return boost::numeric::odeint::fail;
        }
        t += dt;
        z.swap(next_);
        dt *= norm <= 1.0 ? std::clamp(factor, 0.2, rejected_ ? 1.0 : 2.5) : 1.0;
        rejected_ = slopes_known_ = false;
        return boost::numeric::odeint::success;
    }
    /// Takes slopes at z now, so that the caller can look at the flows before choosing dt.
    template <LinearlyImplicitSystem System>
    void begin(System& system, const state_type& z) {
        step_.begin(system, z);
        slopes_known_ = true;
    }
    /// An accepted step is taken back (an event lies inside it): the caller restores z and t.
    void refuse() { rejected_ = slopes_known_ = true; }
    /// The system has changed under the stepper: slopes kept from a rejected try are void.
    void reset() { rejected_ = slopes_known_ = false; }

  private:
    Rodas3 step_;
    state_type next_, error_;
    double floor_;
    bool rejected_{}, slopes_known_{};
};

}  // namespace clearstroke
