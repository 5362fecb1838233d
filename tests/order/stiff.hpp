#pragma once
/// Odeint's own stiff stepper behind plain functions: its matrices do not compile as C++20.
#include <cstddef>
#include <functional>
#include <vector>

namespace clearstroke::testing {

struct StiffProblem {
    std::function<void(const double* y, double* dydt)> rate;
    std::function<std::vector<double>(const double* y)>
        roots;                                     ///< signed distances; a change of sign ends the run
    std::function<void(const double* y)> accepted; ///< told of every accepted step
    double end{};                                  ///< time at which it ends otherwise, start 0 [s]
    double step{1e-5};                             ///< to begin with [s]
    std::function<void(const double* y, double* row_major)> jacobian{}; ///< empty: by differences
};

struct StiffResult {
    double t{};
    int crossed{-1}; ///< index of the root that was met, -1: none
    double step{};   ///< that it would go on with, were it not for the end [s]
};

/// Takes y on by rosenbrock4 with error control, roots by halving the last step.
StiffResult by_rosenbrock4(const StiffProblem&, std::vector<double>& y, double relative, double absolute);

} // namespace clearstroke::testing
