#include "tests/bench/integrators.hpp"

#include <cvode/cvode.h>
#include <nvector/nvector_serial.h>
#include <sunlinsol/sunlinsol_klu.h>
#include <sunmatrix/sunmatrix_sparse.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <map>
#include <stdexcept>
#include <utility>

#include "sim/rosenbrock.hpp"
#include "tests/order/stiff.hpp"

namespace clearstroke::bench {
namespace {

constexpr std::array phases{std::pair{Phase::push, 1.2}, std::pair{Phase::hold, 0.3},
                            std::pair{Phase::back, 1.2}, std::pair{Phase::dwell, 0.7}};
constexpr double first_step = 1e-4; // [s]

/// `take(y, duration)` carries y over each stretch between stops.
template <class Take> Course stroke(TreeCircuit& circuit, Eigen::VectorXd y, double stop, Take take) {
    Course out;
    for (const auto& [phase, duration] : phases) {
        circuit.enter(phase);
        const int pieces = stop > 0.0 ? int(std::lround(duration / stop)) : 1;
        for (int i = 0; i < pieces; ++i) take(y, duration / pieces);
        out.delivered.push_back(circuit.delivered(y));
        const std::vector<double> pockets = circuit.pockets(y);
        out.pockets.insert(out.pockets.end(), pockets.begin(), pockets.end());
    }
    out.held = circuit.held(y);
    return out;
}

void demand(int code) {
    if (code < 0) throw std::runtime_error("CVODE gave up");
}

/// CVODE and what belongs to it, for one circuit.
class Sparse {
public:
    Sparse(TreeCircuit& circuit, double tolerance) : circuit_(circuit), tolerance_(tolerance) {
        const auto n = sunindextype(circuit.size());
        std::map<std::pair<std::size_t, std::size_t>, std::size_t> entries; // by column, then row
        for (const auto& [row, column] : circuit.places()) entries[{column, row}] = 0;
        for (std::size_t k = 0; auto& [place, index] : entries) {
            rows_.push_back(sunindextype(place.second));
            while (starts_.size() <= place.first) starts_.push_back(sunindextype(k));
            index = k++;
        }
        starts_.push_back(sunindextype(entries.size()));
        for (const auto& [row, column] : circuit.places()) index_.push_back(entries[{column, row}]);
        demand(SUNContext_Create(nullptr, &context_));
        y_ = N_VNew_Serial(n, context_);
        matrix_ = SUNSparseMatrix(n, n, sunindextype(entries.size()), CSC_MAT, context_);
        linear_ = SUNLinSol_KLU(y_, matrix_, context_);
        memory_ = CVodeCreate(CV_BDF, context_);
        demand(CVodeInit(memory_, rate, 0.0, y_));
        demand(CVodeWFtolerances(memory_, weights));
        demand(CVodeSetUserData(memory_, this));
        demand(CVodeSetLinearSolver(memory_, linear_, matrix_));
        demand(CVodeSetJacFn(memory_, jacobian));
        demand(CVodeSetMaxNumSteps(memory_, 1000000));
    }
    Sparse(const Sparse&) = delete;
    Sparse& operator=(const Sparse&) = delete;
    ~Sparse() {
        CVodeFree(&memory_);
        SUNLinSolFree(linear_);
        SUNMatDestroy(matrix_);
        N_VDestroy(y_);
        SUNContext_Free(&context_);
    }

    void take(Eigen::VectorXd& y, double duration) {
        double t = 0.0;
        std::copy_n(y.data(), y.size(), N_VGetArrayPointer(y_));
        demand(CVodeReInit(memory_, 0.0, y_));
        demand(CVodeSetStopTime(memory_, duration));
        demand(CVode(memory_, duration, y_, &t, CV_NORMAL));
        std::copy_n(N_VGetArrayPointer(y_), y.size(), y.data());
    }

private:
    TreeCircuit& circuit_;
    double tolerance_;
    std::vector<sunindextype> starts_, rows_;
    std::vector<std::size_t> index_; // where each of the circuit's places stands
    std::vector<double> values_;
    SUNContext context_{};
    N_Vector y_{};
    SUNMatrix matrix_{};
    SUNLinearSolver linear_{};
    void* memory_{};

    static int rate(realtype, N_Vector y, N_Vector f, void* self) {
        static_cast<Sparse*>(self)->circuit_.rate(N_VGetArrayPointer(y), N_VGetArrayPointer(f));
        return 0;
    }
    static int weights(N_Vector y, N_Vector w, void* data) {
        const auto& self = *static_cast<Sparse*>(data);
        double* out = N_VGetArrayPointer(w);
        self.circuit_.scales(N_VGetArrayPointer(y), out);
        for (std::size_t i = 0; i < self.circuit_.size(); ++i) out[i] = 1.0 / (self.tolerance_ * out[i]);
        return 0;
    }
    static int jacobian(realtype, N_Vector y, N_Vector, SUNMatrix m, void* data, N_Vector f, N_Vector,
                        N_Vector) {
        auto& self = *static_cast<Sparse*>(data);
        self.circuit_.rate(N_VGetArrayPointer(y), N_VGetArrayPointer(f));
        --self.circuit_.rates; // counted as part of the Jacobian
        self.circuit_.jacobian(self.values_);
        std::ranges::copy(self.starts_, SUNSparseMatrix_IndexPointers(m));
        std::ranges::copy(self.rows_, SUNSparseMatrix_IndexValues(m));
        double* out = SUNSparseMatrix_Data(m);
        std::fill_n(out, self.rows_.size(), 0.0);
        for (std::size_t k = 0; k < self.values_.size(); ++k) out[self.index_[k]] += self.values_[k];
        return 0;
    }
};

} // namespace

Course by_rodas3(TreeCircuit& circuit, double tolerance, double stop) {
    circuit.tolerance = tolerance;
    ControlledRodas3 stepper;
    double next = first_step;
    return stroke(circuit, circuit.start(), stop, [&](Eigen::VectorXd& y, double duration) {
        double t = 0.0;
        stepper.reset();
        while (duration - t > 1e-12) {
            const double left = duration - t;
            const bool cut = left < next;
            double dt = cut ? left : next;
            const bool done = stepper.try_step(circuit, y, t, dt) == boost::numeric::odeint::success;
            next = done && cut ? std::max(next, dt) : dt;
        }
    });
}

Course by_cvode(TreeCircuit& circuit, double tolerance, double stop) {
    Sparse solver(circuit, tolerance);
    return stroke(circuit, circuit.start(), stop,
                  [&](Eigen::VectorXd& y, double duration) { solver.take(y, duration); });
}

Course by_rosenbrock4(TreeCircuit& circuit, double tolerance, double stop) {
    const std::size_t n = circuit.size();
    const auto size = static_cast<Eigen::Index>(n);
    Eigen::VectorXd scale(size), f(size), at(size);
    circuit.scales(circuit.start().data(), scale.data());
    std::vector<double> values;
    const auto rate = [&](const double* x, double* dxdt) {
        at = Eigen::Map<const Eigen::VectorXd>(x, size).cwiseProduct(scale);
        circuit.rate(at.data(), f.data());
        Eigen::Map<Eigen::VectorXd>(dxdt, size) = f.cwiseQuotient(scale);
    };
    testing::StiffProblem problem{rate, [](const double*) { return std::vector<double>{}; },
                                  [](const double*) {}, 0.0};
    problem.step = first_step;
    problem.jacobian = [&](const double* x, double* row_major) {
        at = Eigen::Map<const Eigen::VectorXd>(x, size).cwiseProduct(scale);
        circuit.rate(at.data(), f.data());
        --circuit.rates; // counted as part of the Jacobian
        circuit.jacobian(values);
        std::fill_n(row_major, n * n, 0.0);
        for (std::size_t k = 0; k < values.size(); ++k) {
            const auto [row, column] = circuit.places()[k];
            row_major[row * n + column] += values[k] * scale[Eigen::Index(column)] / scale[Eigen::Index(row)];
        }
    };
    std::vector<double> x(n);
    return stroke(circuit, circuit.start(), stop, [&](Eigen::VectorXd& y, double duration) {
        Eigen::Map<Eigen::VectorXd>(x.data(), size) = y.cwiseQuotient(scale);
        problem.end = duration;
        problem.step = testing::by_rosenbrock4(problem, x, 0.0, tolerance).step;
        y = Eigen::Map<Eigen::VectorXd>(x.data(), size).cwiseProduct(scale);
    });
}

double difference(const Course& a, const Course& reference) {
    double worst = 0.0;
    const double largest = *std::ranges::max_element(reference.delivered);
    for (std::size_t i = 0; i < a.delivered.size(); ++i)
        worst = std::max(worst, std::abs(a.delivered[i] - reference.delivered[i]) / largest);
    for (std::size_t i = 0; i < a.pockets.size(); ++i)
        worst = std::max(worst, std::abs(a.pockets[i] / reference.pockets[i] - 1.0));
    return worst;
}

} // namespace clearstroke::bench
