// Measured order of the step and its life behind Boost.Odeint's concepts.
#include "sim/rosenbrock.hpp"

#include <gtest/gtest.h>

#include <boost/numeric/odeint/integrate/integrate_adaptive.hpp>

#include "tests/sim/dense_system.hpp"

namespace clearstroke {
namespace {

using testing::DenseSystem;

const Eigen::VectorXd one = Eigen::VectorXd::Constant(1, 1.0);
const Eigen::VectorXd ones = Eigen::VectorXd::Constant(2, 1.0);
const Eigen::VectorXd kaps_at_1 = Eigen::Vector2d(std::exp(-2.0), std::exp(-1.0));

// Further measured orders and a published stiff problem: tests/order/stepper_test.cpp.
TEST(Rodas3, IsOfThirdOrderOnANonlinearSystem) {
    const auto third = [](const DenseSystem& s, const Eigen::VectorXd& z, int n) {
        return testing::march(s, z, n);
    };
    EXPECT_NEAR(testing::measured_order(testing::kaps(1.0), ones, kaps_at_1, 64, third), 3.0, 0.1);
}

TEST(Rodas3, DampsAVeryStiffComponentInOneStep) {
    DenseSystem s{[](const Eigen::VectorXd& z) { return Eigen::VectorXd(-1e9 * z); },
                  [](const Eigen::VectorXd&) { return Eigen::MatrixXd::Constant(1, 1, -1e9); }, one};
    EXPECT_LT(std::abs(testing::march(s, one, 1)[0]), 1e-6);
}

TEST(Rodas3, KeepsLinearInvariantsToRounding) {
    const DenseSystem s = testing::robertson();
    const double radical = 3.65e-5; // near its slow value, so that equal steps do
    const Eigen::VectorXd z = testing::march(s, Eigen::Vector3d(1.0 - radical, radical, 0.0), 50);
    EXPECT_NEAR(z.sum(), 1.0, 1e-13);
}

TEST(ControlledRodas3, ErrorFollowsTheTolerance) {
    const auto error_at = [](double relative) {
        DenseSystem s = testing::kaps(1e-3);
        s.relative = relative;
        s.absolute.setConstant(1e-12);
        Eigen::VectorXd z = ones;
        boost::numeric::odeint::integrate_adaptive(ControlledRodas3{}, s, z, 0.0, 1.0, 1e-4);
        return (z - kaps_at_1).norm();
    };
    const double coarse = error_at(1e-4), fine = error_at(1e-7);
    EXPECT_LT(coarse, 1e-3);
    EXPECT_LT(fine, coarse / 100.0);
}

TEST(ControlledRodas3, RefusesAStepThatIsTooLong) {
    DenseSystem s = testing::decay_of_third_order();
    Eigen::VectorXd z = Eigen::VectorXd::Constant(1, 1.0);
    double t = 0.0, dt = 5.0;
    ControlledRodas3 stepper;
    EXPECT_EQ(stepper.try_step(s, z, t, dt), boost::numeric::odeint::fail);
    EXPECT_EQ(t, 0.0);
    EXPECT_EQ(z[0], 1.0);
    EXPECT_LT(dt, 5.0);
}

/// y' = 1 - (1 + 1e6 (y > 1)) max(y - 1, 0): a stop met at t = 1, stiff behind it; rests at 1 + 1 / (1 + 1e6).
DenseSystem stop_at_one() {
    constexpr double stiff = 1e6;
    return {[](const Eigen::VectorXd& z) {
                return Eigen::VectorXd::Constant(1, 1.0 - (1.0 + stiff) * std::max(z[0] - 1.0, 0.0));
            },
            [](const Eigen::VectorXd& z) {
                return Eigen::MatrixXd::Constant(1, 1, z[0] > 1.0 ? -(1.0 + stiff) : 0.0);
            },
            Eigen::VectorXd::Constant(1, 1e-9)};
}

TEST(CornerStep, CrossesAStopInOneStep) {
    DenseSystem s = stop_at_one();
    Eigen::VectorXd next, error;
    ASSERT_TRUE(CornerStep{}.do_step(s, Eigen::VectorXd::Zero(1), next, 2.0, error));
    // 2 (1 - (1 + 1e6) e) = 1 + e, exact for this equation of the step
    EXPECT_NEAR(next[0], 1.0 + 1.0 / (2.0 * (1.0 + 1e6) + 1.0), 1e-12);
}

TEST(ControlledRodas3, TakesAStopByACornerStep) {
    DenseSystem s = stop_at_one();
    Eigen::VectorXd z = Eigen::VectorXd::Constant(1, 0.99);
    double t = 0.0, dt = 0.1;
    ControlledRodas3 stepper(0.1);
    int tries = 1;
    while (stepper.try_step(s, z, t, dt) == boost::numeric::odeint::fail) ++tries;
    EXPECT_TRUE(stepper.at_corner());
    EXPECT_LE(tries, 3);
    EXPECT_NEAR(z[0], 1.0, 2e-6);
}

} // namespace
} // namespace clearstroke
