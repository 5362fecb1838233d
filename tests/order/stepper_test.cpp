// Measured order of the steps against exact solutions, and a published stiff problem.
#include <boost/numeric/odeint/integrate/integrate_adaptive.hpp>

#include "sim/rosenbrock.hpp"
#include "tests/book/check.hpp"
#include "tests/sim/dense_system.hpp"

namespace clearstroke {
namespace {

using namespace book;
using namespace testing;

struct Problem {
    DenseSystem system;
    Eigen::VectorXd start, exact; // exact at t = 1
};
const Problem scalar{decay_of_third_order(), Eigen::VectorXd::Constant(1, 1.0),
                     Eigen::VectorXd::Constant(1, 1.0 / std::sqrt(3.0))};
Problem pair_of(double stiffness) {
    return {kaps(stiffness), Eigen::VectorXd::Constant(2, 1.0),
            Eigen::Vector2d(std::exp(-2.0), std::exp(-1.0))};
}

template <class March>
void order_is(double order, double tolerance, const std::string& what, const Problem& p, int steps,
              March march) {
    check({"measured order: " + what, "", "error against the exact solution, step halved", Grade::exact, "-",
           order, measured_order(p.system, p.start, p.exact, steps, march), tolerance,
           "next term of the error"});
}

TEST(Integrator, MeasuredOrders) {
    const auto third = [](const DenseSystem& s, const Eigen::VectorXd& z, int n) { return march(s, z, n); };
    const auto embedded = [](const DenseSystem& s, const Eigen::VectorXd& z, int n) {
        return march(s, z, n, true);
    };
    order_is(3.0, 0.1, "Rodas3, y' = -y^3", scalar, 64, third);
    order_is(3.0, 0.1, "Rodas3, nonlinear pair", pair_of(1.0), 64, third);
    order_is(3.0, 0.3, "Rodas3, nonlinear pair in the stiff limit", pair_of(1e-8), 32, third);
    order_is(2.0, 0.1, "its embedded solution, y' = -y^3", scalar, 64, embedded);
    order_is(2.0, 0.1, "its embedded solution, nonlinear pair", pair_of(1.0), 64, embedded);
    order_is(1.0, 0.05, "corner step, y' = -y^3", scalar, 64, march_corners);
}

TEST(Integrator, RobertsonsProblem) {
    Eigen::VectorXd z = Eigen::Vector3d(1.0, 0.0, 0.0);
    double from = 0.0;
    for (const auto& [t, known] : {std::pair{40.0, Eigen::Vector3d(0.7158, 9.185e-6, 0.2842)},
                                   std::pair{400.0, Eigen::Vector3d(0.4505, 3.223e-6, 0.5495)}}) {
        const std::size_t steps =
            boost::numeric::odeint::integrate_adaptive(ControlledRodas3{}, robertson(), z, from, t, 1e-5);
        EXPECT_LT(steps, 1000u);
        from = t;
        for (Eigen::Index i = 0; i < 3; ++i)
            check({"three stiff reactions, species " + std::to_string(i + 1) +
                       " at t = " + std::to_string(int(t)),
                   "robertson1966", "reference values as quoted by hairer1996", Grade::memory, "-", known[i],
                   z[i], i == 1 ? 1e-9 : 5.1e-5,
                   "four digits are remembered, the last of the second species cut off"});
        EXPECT_NEAR(z.sum(), 1.0, 1e-12);
    }
}

} // namespace
} // namespace clearstroke
