#include "tests/order/course.hpp"

#include <algorithm>
#include <cmath>
#include <stdexcept>

namespace clearstroke::testing {
namespace {

constexpr double arrived = 1e-6; // of a rod at its target [mm]

class Worker {
public:
    Worker(PlainCircuit& circuit, const Operator& person, const Actuator& a, const Integrator& integrate)
        : circuit_(circuit), person_(person), ratio_(a.ratio),
          force_(person.force_limit * a.ratio - a.rod_friction), integrate_(integrate), y_(circuit.start()) {
        for (const Piston& p : a.pistons) travel_ += p.stroke;
        if (a.pad_travel > 0.0) travel_ = std::min(travel_, a.pad_travel / a.ratio - a.free_play);
        travel_ *= person.stroke_share;
    }

    void operator()(const OpenScrew& a) {
        pass(person_.act_time, {});
        circuit_.turn(*a.screw, a.turns.value_or(person_.turns));
    }
    void operator()(const CloseScrew& a) {
        circuit_.turn(*a.screw, 0.0);
        pass(person_.act_time, {});
    }
    void operator()(const Press&) {
        Motion m{person_.push_speed / ratio_, force_, travel_, true};
        pass(4.0 * travel_ / m.speed + 1.0, m);
        m.ends_at_force = false;
        pass(person_.hold - pass(person_.hold, m), {});
    }
    void operator()(const Release&) {
        pass(1e3, {-person_.release_speed / ratio_, 0.0, 0.0, false});
        pass(person_.dwell, {});
    }
    void operator()(const Wait& a) { pass(a.seconds, {}); }
    template <class Other> void operator()(const Other&) {
        throw std::invalid_argument("an act that is not covered");
    }

    void begin() { act_began_ = t_; }
    void note() { course.readings.push_back(circuit_.reading(y_.data(), t_)); }

    Course course;

private:
    PlainCircuit& circuit_;
    const Operator& person_;
    double ratio_, force_;
    const Integrator& integrate_;
    std::vector<double> y_;
    double travel_{}, t_{}, act_began_{};

    /// Time taken until `duration` is over or the motion has ended.
    double pass(double duration, const Motion& m) {
        const std::size_t pistons = circuit_.pistons();
        circuit_.move(m);
        double left = duration;
        while (left > 1e-12 && std::abs(circuit_.roots(y_.data())[pistons]) > arrived) {
            const Stretch s = integrate_(circuit_, y_, left);
            left -= s.t;
            t_ += s.t;
            if (s.root < 0 || s.root >= int(pistons)) break;
            circuit_.turn_port_over(std::size_t(s.root));
            course.port_instants.push_back(t_ - act_began_);
        }
        return duration - left;
    }
};

} // namespace

Course carry_out(PlainCircuit circuit, const std::vector<Act>& acts, const Operator& person,
                 const Actuator& a, const Integrator& integrate) {
    Worker worker(circuit, person, a, integrate);
    for (const Act& act : acts) {
        worker.begin();
        std::visit(worker, act);
        worker.note();
    }
    return worker.course;
}

} // namespace clearstroke::testing
