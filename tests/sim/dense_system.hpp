#pragma once
/// A small dense system of equations for the tests of the stepper, with counts of what it was asked.
#include <gtest/gtest.h>

#include <Eigen/LU>
#include <cmath>
#include <functional>

#include "sim/rosenbrock.hpp"

namespace clearstroke::testing {

/// dz/dt = f(z) with Jacobian `slope`; errors weighted by `absolute` + `relative` |z|.
struct DenseSystem {
    std::function<Eigen::VectorXd(const Eigen::VectorXd&)> f;
    std::function<Eigen::MatrixXd(const Eigen::VectorXd&)> slope;
    Eigen::VectorXd absolute;
    double relative{1e-6};
    Eigen::MatrixXd jacobian{};
    Eigen::PartialPivLU<Eigen::MatrixXd> lu{};

    void rate(const Eigen::VectorXd& z, Eigen::VectorXd& out) const { out = f(z); }
    void linearise(const Eigen::VectorXd& z, Eigen::VectorXd& out) {
        jacobian = slope(z);
        out = f(z);
    }
    void prepare(double gamma_h) {
        const auto n = jacobian.rows();
        lu.compute(Eigen::MatrixXd::Identity(n, n) - gamma_h * jacobian);
    }
    void solve(double gamma_h, const Eigen::VectorXd& r, Eigen::VectorXd& k) const {
        k = lu.solve(gamma_h * r);
    }
    [[nodiscard]] double error(const Eigen::VectorXd& e, const Eigen::VectorXd& z) const {
        return (e.array() / (absolute.array() + relative * z.array().abs())).matrix().norm() /
               std::sqrt(double(z.size()));
    }
};

/// y' = -y^3, y(0) = 1: y = 1 / sqrt(1 + 2 t).
inline DenseSystem decay_of_third_order() {
    return {[](const Eigen::VectorXd& z) { return Eigen::VectorXd::Constant(1, -z[0] * z[0] * z[0]); },
            [](const Eigen::VectorXd& z) { return Eigen::MatrixXd::Constant(1, 1, -3.0 * z[0] * z[0]); },
            Eigen::VectorXd::Constant(1, 1e-9)};
}

/// A nonlinear pair with the exact solution y1 = e^(-2t), y2 = e^(-t) whatever the stiffness 1/eps
/// [kaps1981, from memory; the solution is checked by substitution].
inline DenseSystem kaps(double eps) {
    return {[eps](const Eigen::VectorXd& z) {
                return Eigen::VectorXd(
                    Eigen::Vector2d(-2.0 * z[0] + (z[1] * z[1] - z[0]) / eps, z[0] - z[1] - z[1] * z[1]));
            },
            [eps](const Eigen::VectorXd& z) {
                Eigen::MatrixXd j(2, 2);
                j << -2.0 - 1.0 / eps, 2.0 * z[1] / eps, 1.0, -1.0 - 2.0 * z[1];
                return j;
            },
            Eigen::VectorXd::Constant(2, 1e-9)};
}

/// Three species whose rates differ by nine decades [robertson1966, rate constants from memory].
inline DenseSystem robertson() {
    return {[](const Eigen::VectorXd& z) {
                const double a = 0.04 * z[0], b = 1e4 * z[1] * z[2], c = 3e7 * z[1] * z[1];
                return Eigen::VectorXd(Eigen::Vector3d(-a + b, a - b - c, c));
            },
            [](const Eigen::VectorXd& z) {
                Eigen::MatrixXd j(3, 3);
                j << -0.04, 1e4 * z[2], 1e4 * z[1], 0.04, -1e4 * z[2] - 6e7 * z[1], -1e4 * z[1], 0.0,
                    6e7 * z[1], 0.0;
                return j;
            },
            Eigen::Vector3d(1e-8, 1e-12, 1e-8)};
}

/// Solution at t = 1 by `steps` equal steps; `embedded` goes on with the solution of lower order.
inline Eigen::VectorXd march(DenseSystem system, Eigen::VectorXd z, int steps, bool embedded = false) {
    Rodas3 stepper;
    Eigen::VectorXd next, error;
    const double dt = 1.0 / steps;
    for (int i = 0; i < steps; ++i) {
        stepper.do_step(system, z, i * dt, next, dt, error);
        z = embedded ? Eigen::VectorXd(next - error) : next;
    }
    return z;
}

/// Order from the errors at t = 1 with `steps` and with twice as many steps of `march`.
template <class March>
double measured_order(const DenseSystem& s, const Eigen::VectorXd& start, const Eigen::VectorXd& exact,
                      int steps, March march) {
    const auto error = [&](int n) { return (march(s, start, n) - exact).norm(); };
    return std::log2(error(steps) / error(2 * steps));
}

/// Solution at t = 1 by `steps` equal corner steps.
inline Eigen::VectorXd march_corners(DenseSystem system, Eigen::VectorXd z, int steps) {
    CornerStep stepper;
    Eigen::VectorXd next, error;
    for (int i = 0; i < steps; ++i) {
        EXPECT_TRUE(stepper.do_step(system, z, next, 1.0 / steps, error));
        z = next;
    }
    return z;
}

} // namespace clearstroke::testing
