#include "tests/order/stiff.hpp"

#include <algorithm>
#include <boost/numeric/odeint/stepper/rosenbrock4.hpp>
#include <boost/numeric/odeint/stepper/rosenbrock4_controller.hpp>
#include <cmath>

namespace clearstroke {
namespace testing {
namespace {

namespace odeint = boost::numeric::odeint;
using Vector = boost::numeric::ublas::vector<double>;
using Matrix = boost::numeric::ublas::matrix<double>;

constexpr double at_root = 1e-9;     // distance that counts as having just been crossed
constexpr double resolution = 1e-10; // of the instant of a root [s]

struct Jacobian {
    const StiffProblem* problem;
    void operator()(const Vector& y, Matrix& j, double, Vector& dfdt) const {
        dfdt = boost::numeric::ublas::zero_vector<double>(y.size());
        if (problem->jacobian) {
            problem->jacobian(&y[0], &j.data()[0]);
            return;
        }
        Vector here(y.size()), there(y.size()), at = y;
        problem->rate(&y[0], &here[0]);
        for (std::size_t k = 0; k < y.size(); ++k) {
            const double step = 1e-8 * std::max(std::abs(y[k]), 1.0);
            at[k] = y[k] + step;
            problem->rate(&at[0], &there[0]);
            at[k] = y[k];
            for (std::size_t i = 0; i < y.size(); ++i) j(i, k) = (there[i] - here[i]) / step;
        }
    }
};

/// Index of a distance that has changed sign, -1: none.
int crossed(const std::vector<double>& before, const std::vector<double>& after) {
    for (std::size_t j = 0; j < before.size(); ++j)
        if (before[j] * after[j] < 0.0) return int(j);
    return -1;
}

} // namespace

StiffResult by_rosenbrock4(const StiffProblem& p, std::vector<double>& start, double relative,
                           double absolute) {
    const auto rate = [&p](const Vector& y, Vector& dydt, double) { p.rate(&y[0], &dydt[0]); };
    const auto system = std::make_pair(rate, Jacobian{&p});
    odeint::rosenbrock4_controller<odeint::rosenbrock4<double>> stepper(absolute, relative);
    odeint::rosenbrock4<double> once;
    Vector y(start.size()), error(start.size());
    std::copy(start.begin(), start.end(), y.begin());
    double t = 0.0, next = p.step;
    std::vector<double> before = p.roots(&y[0]);
    for (double& d : before)
        if (std::abs(d) < at_root) d = 0.0;
    int root = -1;
    while (root < 0 && p.end - t > 1e-12) {
        const bool cut = p.end - t < next;
        double dt = cut ? p.end - t : next;
        const Vector kept = y;
        const double from = t;
        const bool taken = stepper.try_step(system, y, t, dt) == odeint::success;
        next = taken && cut ? std::max(next, dt) : dt;
        if (!taken) continue;
        std::vector<double> after = p.roots(&y[0]);
        if (crossed(before, after) >= 0) {
            double low = 0.0, high = t - from;
            while (high - low > resolution) {
                const double middle = 0.5 * (low + high);
                once.do_step(system, kept, from, y, middle, error);
                (crossed(before, p.roots(&y[0])) >= 0 ? high : low) = middle;
            }
            once.do_step(system, kept, from, y, high, error);
            t = from + high;
            root = crossed(before, p.roots(&y[0]));
        }
        p.accepted(&y[0]);
        for (std::size_t j = 0; j < before.size(); ++j)
            if (std::abs(after[j]) > at_root) before[j] = after[j];
    }
    std::copy(y.begin(), y.end(), start.begin());
    return {t, root, next};
}

} // namespace testing
} // namespace clearstroke
