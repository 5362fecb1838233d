#pragma once
/// Acts carried out on a PlainCircuit by an integrator from elsewhere.
#include <functional>

#include "sim/procedure.hpp"
#include "tests/order/plain_circuit.hpp"

namespace clearstroke::testing {

/// Readings after every act, and instants at which ports turned.
struct Course {
    std::vector<Reading> readings;
    std::vector<double> port_instants; ///< since its act began [s]
};

/// Takes y over at most `duration` to the first root of the circuit; time taken, and which root, -1: none.
struct Stretch {
    double t{};
    int root{-1};
};
using Integrator = std::function<Stretch(PlainCircuit&, std::vector<double>& y, double duration)>;

/// OpenScrew, CloseScrew, Press, Release and Wait of one cylinder.
[[nodiscard]] Course carry_out(PlainCircuit, const std::vector<Act>&, const Operator&, const Actuator&,
                               const Integrator&);

[[nodiscard]] Course by_cvode(const PlainCircuit&, const std::vector<Act>&, const Operator&, const Actuator&,
                              double relative);
[[nodiscard]] Course by_rosenbrock4(const PlainCircuit&, const std::vector<Act>&, const Operator&,
                                    const Actuator&, double relative);

} // namespace clearstroke::testing
