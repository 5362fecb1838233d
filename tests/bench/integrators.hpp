#pragma once
/// One stroke of a TreeCircuit by our step and by integrators from elsewhere.
#include <vector>

#include "tests/bench/tree_circuit.hpp"

namespace clearstroke::bench {

/// What is compared, at the end of every phase.
struct Course {
    std::vector<double> delivered; ///< [m^3]
    std::vector<double> pockets;   ///< [m^3], phase by phase
    double held{};                 ///< what nothing changes, at the end [m^3]
};

/// A stroke of 3.4 s at this tolerance, stopped every `stop` seconds (0: at the ends of its phases only).
using Integrator = Course (*)(TreeCircuit&, double tolerance, double stop);

/// ControlledRodas3; keeps its step across a stop.
[[nodiscard]] Course by_rodas3(TreeCircuit&, double tolerance, double stop);
/// SUNDIALS CVODE: BDF, KLU, analytic Jacobian, the same error weights; starts anew behind a stop.
[[nodiscard]] Course by_cvode(TreeCircuit&, double tolerance, double stop);
/// Odeint's rosenbrock4, dense, analytic Jacobian; states in units of the error weights at the start, so that one
/// absolute tolerance means the same; keeps its step across a stop.
[[nodiscard]] Course by_rosenbrock4(TreeCircuit&, double tolerance, double stop);

/// Worst relative difference: delivered volumes by the largest, pockets each by itself.
[[nodiscard]] double difference(const Course&, const Course& reference);

} // namespace clearstroke::bench
