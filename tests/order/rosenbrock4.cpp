// The circuit by Odeint's own stiff stepper.
#include "tests/order/course.hpp"
#include "tests/order/stiff.hpp"

namespace clearstroke::testing {

Course by_rosenbrock4(const PlainCircuit& start, const std::vector<Act>& acts, const Operator& person,
                      const Actuator& actuator, double relative) {
    constexpr double absolute = 1e-9; // [mL] and [mm]
    return carry_out(
        start, acts, person, actuator, [&](PlainCircuit& circuit, std::vector<double>& y, double duration) {
            const StiffProblem problem{[&](const double* at, double* dydt) { circuit.rate(at, dydt); },
                                       [&](const double* at) { return circuit.roots(at); },
                                       [&](const double* at) { circuit.remember(at); }, duration};
            const StiffResult r = by_rosenbrock4(problem, y, relative, absolute);
            return Stretch{r.t, r.crossed};
        });
}

} // namespace clearstroke::testing
