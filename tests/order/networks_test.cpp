// Networks of the project, uncontracted, against integrators from elsewhere on equations written down anew:
// whole strokes with screws shut and open, ports that close and open, friction and play.
#include "scenarios/scenario.hpp"
#include "sim/actuator.hpp"
#include "tests/book/check.hpp"
#include "tests/order/course.hpp"
#include "tests/sim/small_circuits.hpp"

namespace clearstroke {
namespace {

using namespace book;
using namespace testing;

struct Job {
    std::string name;
    Network net;
    Contents contents;
    Operator person;
    std::vector<Act> acts;
};

/// One stroke pumped with all screws shut, two through an open one.
std::vector<Act> strokes(ScrewId screw) {
    const Press press{};
    const Release release{};
    return {Wait{5.0}, press,
            release,   OpenScrew{screw, 0.5},
            press,     CloseScrew{screw},
            release,   OpenScrew{screw, 0.5},
            press,     CloseScrew{screw},
            release};
}

/// A cylinder and a caliper whose screw at the top blows its pocket off.
Job single() {
    Job out{"single cylinder", one_wheel(), {}, {}, strokes({0})};
    out.net.lines[0].lumps = 4;
    out.contents = full(out.net);
    out.contents.volume_gas[1] = 5e-6;
    return out;
}

/// A shipped file, four wheels: pockets in all calipers, a plug in the middle of each feed pipe.
Job four_wheels() {
    const Scenario file = read_scenario("scenarios/front_rear_split.toml");
    Case c = file.factory.make(usual_values(file.factory));
    Job out{
        "front and rear circuit, four wheels", std::move(c.network), {}, c.procedure.person, strokes({0})};
    for (Screw& s : out.net.screws) s.thread_clearance = 0.0;
    out.contents = full(out.net);
    out.contents.volume_gas = {0.0, 0.0, 3e-6, 2e-6, 0.5e-6, 0.3e-6};
    const std::size_t right = 3, rear = 5;
    out.net.lines[right].lumps = 1;
    out.net.lines[rear].lumps = 1;
    out.contents.line_gas[right] = {{0.30, 0.32}};
    out.contents.line_gas[rear] = {{0.50, 0.505}};
    return out;
}

Settings settings_of(double tolerance, bool contract) {
    Settings s;
    s.tolerance = tolerance;
    s.contract = contract;
    s.gas_law = Settings::GasLaw::isothermal;
    return s;
}

Reading reading_of(const Network& net, const State& start, const State& s) {
    Reading out{s.t, s.ledger.liquid_out, s.ledger.gas_out - s.ledger.gas_in, s.ledger.drawn, {}, {}};
    const auto add = [&](double before, double gas, double p) {
        if (before > 0.0) out.pockets.push_back(gas * standard_atmosphere / p);
    };
    for (std::size_t v = 0; v < s.volumes.size(); ++v)
        add(start.volumes[v].gas, s.volumes[v].gas, s.volumes[v].pressure);
    for (std::size_t l = 0; l < s.lines.size(); ++l)
        for (const Cell& c : s.lines[l]) add(c.gas, c.gas, c.pressure);
    const Linkage k = linkage_of(net.actuators[0]);
    for (std::size_t j = 0; j < net.actuators[0].pistons.size(); ++j)
        out.pistons.push_back(k.e[j] * s.actuators[0].x + k.f[j] * s.actuators[0].u);
    out.pistons.push_back(s.actuators[0].x);
    return out;
}

/// The plain equations hold as long as plugs stay inside their lumps.
void expect_plugs_inside(const Network& net, const State& s) {
    for (std::size_t l = 0; l < s.lines.size(); ++l)
        for (const Cell& c : s.lines[l])
            EXPECT_TRUE(c.gas == 0.0 ||
                        (c.train.end(Side::from).gas == 0.0 && c.train.end(Side::to).gas == 0.0))
                << net.lines[l].name << " at " << s.t;
}

Course by_ours(const Job& job, const Settings& settings) {
    Simulation sim(job.net, settings);
    Course out;
    const State start = sim.start(job.contents);
    State s = start;
    std::vector<char> ports = s.actuators[0].port_open;
    double act_began = 0.0;
    sim.observe([&](const State& now, Moment m) {
        if (m != Moment::step) return;
        if (now.actuators[0].port_open != ports) out.port_instants.push_back(now.t - act_began);
        ports = now.actuators[0].port_open;
        if (!settings.contract) expect_plugs_inside(job.net, now);
    });
    for (const Act& act : job.acts) {
        act_began = s.t;
        EXPECT_TRUE(sim.act(s, act, job.person, ScrewId{0}).usable());
        out.readings.push_back(reading_of(job.net, start, s));
    }
    return out;
}

/// Largest differences: of what an act delivers or draws over the most that one does, of every pocket over
/// its own largest, of pistons over the stroke; of the instants at which ports turn and of the ends of acts
/// [s].
struct Apart {
    double delivered{}, pockets{}, pistons{}, ports{}, acts{};
};

Apart apart(const Network& net, const Course& a, const Course& b) {
    Apart out;
    double stroke = 0.0;
    for (const Piston& p : net.actuators[0].pistons) stroke = std::max(stroke, p.stroke);
    EXPECT_GE(b.port_instants.size(), 6u);
    EXPECT_EQ(a.port_instants.size(), b.port_instants.size());
    for (std::size_t i = 0; i < std::min(a.port_instants.size(), b.port_instants.size()); ++i)
        out.ports = std::max(out.ports, std::abs(a.port_instants[i] - b.port_instants[i]));
    // From act to act; `most` of theirs.
    const auto compare = [&](auto amount_of, double unit, double& worst, bool by_act) {
        double most = 0.0, largest = 0.0;
        for (std::size_t i = by_act; i < b.readings.size(); ++i) {
            const double ours = amount_of(a.readings.at(i)) - (by_act ? amount_of(a.readings[i - 1]) : 0.0);
            const double theirs = amount_of(b.readings[i]) - (by_act ? amount_of(b.readings[i - 1]) : 0.0);
            largest = std::max(largest, std::abs(ours - theirs));
            most = std::max(most, std::abs(theirs));
        }
        worst = std::max(worst, largest / (unit > 0.0 ? unit : most));
    };
    for (double Reading::*amount : {&Reading::liquid_out, &Reading::gas_out, &Reading::drawn})
        compare([&](const Reading& r) { return r.*amount; }, 0.0, out.delivered, true);
    for (std::size_t k = 0; k < b.readings[0].pockets.size(); ++k)
        compare([&](const Reading& r) { return r.pockets.at(k); }, 0.0, out.pockets, false);
    for (std::size_t k = 0; k < b.readings[0].pistons.size(); ++k)
        compare([&](const Reading& r) { return r.pistons.at(k); }, stroke, out.pistons, false);
    compare([](const Reading& r) { return r.t; }, 1.0, out.acts, true);
    return out;
}

struct Bounds {
    double amounts{}, instants{}; ///< of the first three, [-], and of ports [s]
    std::string reason;
};

void tell(const std::string& name, const std::string& by, const Apart& d, const Bounds& bound) {
    const auto row = [&](const std::string& what, const char* unit, double limit, double found) {
        return Check{name + ": " + what, "", by, Grade::exact, unit, limit, found, 0.0, bound.reason,
                     Relation::at_most};
    };
    check_all({row("delivered and drawn, act by act", "-", bound.amounts, d.delivered),
               row("every pocket and plug", "-", bound.amounts, d.pockets),
               row("pistons and rod, over the stroke", "-", bound.amounts, d.pistons),
               row("when ports open and shut, from the start of the act", "s", bound.instants, d.ports)});
}

const Bounds tight{1e-4, 1e-4, "asked for; ours uncontracted, tolerance 1e-5"};

Course by(decltype(&by_cvode) integrator, const Job& job, const Settings& settings, double relative) {
    const State start = Simulation(job.net, settings).start(job.contents);
    return integrator(PlainCircuit(job.net, start), job.acts, job.person, job.net.actuators[0], relative);
}

void against_cvode(const Job& job, const Bounds& usual) {
    const std::string by_name = "CVODE at 1e-9, equations written anew";
    const Settings fine = settings_of(1e-5, false), defaults = settings_of(Settings{}.tolerance, true);
    const Course theirs = by(by_cvode, job, fine, 1e-9);
    tell(job.name, by_name, apart(job.net, by_ours(job, fine), theirs), tight);
    const Apart d = apart(job.net, by_ours(job, defaults), theirs);
    tell(job.name + ", default settings", by_name, d, usual);
    check({job.name + ", default settings: when a push ends at the force limit", "", by_name, Grade::exact,
           "s", 0.004, d.acts, 0.0, "the end of a push is located to 1 ms", Relation::at_most});
}

TEST(Integrator, SingleAgainstCvode) {
    against_cvode(single(), {1e-3, 1e-3, "stated error of the default settings"});
}
TEST(Integrator, FourWheelsAgainstCvode) {
    against_cvode(four_wheels(), {1e-3, 1e-3, "stated error of the default settings"});
}

TEST(Integrator, SingleAgainstRosenbrock4) {
    const Job job = single();
    const Settings fine = settings_of(1e-5, false);
    tell(job.name + " once more", "Odeint's rosenbrock4 at 1e-8, equations written anew",
         apart(job.net, by_ours(job, fine), by(by_rosenbrock4, job, fine, 1e-8)), tight);
}

} // namespace
} // namespace clearstroke
