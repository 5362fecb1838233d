// The circuit by SUNDIALS CVODE: variable-order BDF, dense Newton, ports and ends of a motion by its own root
// finding.
#include <cvode/cvode.h>
#include <nvector/nvector_serial.h>
#include <sunlinsol/sunlinsol_dense.h>
#include <sunmatrix/sunmatrix_dense.h>

#include <algorithm>
#include <stdexcept>

#include "tests/order/course.hpp"

namespace clearstroke::testing {
namespace {

constexpr double absolute = 1e-10; // [mL] and [mm]

void demand(int code) {
    if (code < 0) throw std::runtime_error("CVODE gave up");
}

int rate(realtype, N_Vector y, N_Vector out, void* data) {
    try {
        static_cast<const PlainCircuit*>(data)->rate(N_VGetArrayPointer(y), N_VGetArrayPointer(out));
        return 0;
    } catch (const std::domain_error&) {
        return 1; // a trial beyond what is covered: a shorter step
    }
}

int roots(realtype, N_Vector y, realtype* g, void* data) {
    const std::vector<double> d = static_cast<const PlainCircuit*>(data)->roots(N_VGetArrayPointer(y));
    std::ranges::copy(d, g);
    return 0;
}

/// CVODE and what belongs to it, for one circuit.
class Solver {
public:
    Solver(PlainCircuit& circuit, double relative) : circuit_(circuit) {
        const auto n = sunindextype(circuit.size());
        demand(SUNContext_Create(nullptr, &context_));
        y_ = N_VNew_Serial(n, context_);
        matrix_ = SUNDenseMatrix(n, n, context_);
        linear_ = SUNLinSol_Dense(y_, matrix_, context_);
        memory_ = CVodeCreate(CV_BDF, context_);
        demand(CVodeInit(memory_, rate, 0.0, y_));
        demand(CVodeSStolerances(memory_, relative, absolute));
        demand(CVodeSetUserData(memory_, &circuit_));
        demand(CVodeSetLinearSolver(memory_, linear_, matrix_));
        demand(CVodeRootInit(memory_, int(circuit.pistons()) + 2, roots));
    }
    Solver(const Solver&) = delete;
    Solver& operator=(const Solver&) = delete;
    ~Solver() {
        CVodeFree(&memory_);
        SUNLinSolFree(linear_);
        SUNMatDestroy(matrix_);
        N_VDestroy(y_);
        SUNContext_Free(&context_);
    }

    Stretch stretch(std::vector<double>& y, double duration) {
        double t = 0.0;
        std::ranges::copy(y, N_VGetArrayPointer(y_));
        demand(CVodeReInit(memory_, 0.0, y_));
        demand(CVodeSetStopTime(memory_, duration));
        int code = CV_SUCCESS;
        while (code == CV_SUCCESS) {
            code = CVode(memory_, duration, y_, &t, CV_ONE_STEP);
            demand(code);
            circuit_.remember(N_VGetArrayPointer(y_));
        }
        std::copy_n(N_VGetArrayPointer(y_), y.size(), y.begin());
        if (code != CV_ROOT_RETURN) return {t, -1};
        std::vector<int> which(circuit_.pistons() + 2, 0);
        demand(CVodeGetRootInfo(memory_, which.data()));
        return {t, int(std::ranges::find_if(which, [](int w) { return w != 0; }) - which.begin())};
    }

private:
    PlainCircuit& circuit_;
    SUNContext context_{};
    N_Vector y_{};
    SUNMatrix matrix_{};
    SUNLinearSolver linear_{};
    void* memory_{};
};

} // namespace

Course by_cvode(const PlainCircuit& start, const std::vector<Act>& acts, const Operator& person,
                const Actuator& actuator, double relative) {
    std::optional<Solver> solver;
    return carry_out(start, acts, person, actuator,
                     [&](PlainCircuit& circuit, std::vector<double>& y, double duration) {
                         if (!solver) solver.emplace(circuit, relative);
                         return solver->stretch(y, duration);
                     });
}

} // namespace clearstroke::testing
