// Prints the curves of the contested signs of docs/diagnosis.md; run from the project's root.
#include <fmt/format.h>

#include "tests/diagnosis/pedals.hpp"

namespace clearstroke::testing {
namespace {

constexpr const char* layout = "rear_drums";
constexpr double foot = 200.0, release = 0.4; // [N], [m/s]

struct Sign {
    const char* name;
    Cause cause;
    const char* place;
    double amount;
};
constexpr Sign signs[] = {
    {"sound", Cause::none, "", 0.0},
    {"2 mL of air, LF caliper", Cause::air, "LF caliper", 2e-6},
    {"2 mL of air, LR wheel cylinder", Cause::air, "LR wheel cylinder", 2e-6},
    {"2 mL of shoe slack, LR", Cause::slack, "LR wheel cylinder", 2e-6},
    {"2 mL rolled back, LF caliper", Cause::roll_back, "LF caliper", 2e-6},
    {"2 mL knocked back, LF caliper", Cause::knock_back, "LF caliper", 2e-6},
    {"LF hose swells 8 times as much", Cause::hose, "LF hose", 8.0},
    {"bypass 0.001 mL/(s bar), primary", Cause::bypass, "primary chamber", 1e-14},
    {"leak 0.001 mL/(s bar)", Cause::leak, "the circuit of the primary chamber", 1e-14},
    {"blocked port, secondary", Cause::blocked_port, "secondary chamber", 0.0},
};

PedalModel model_of(const Scenario& s, const Sign& sign) {
    FullModel full = full_model(s.factory, {0}, usual_values(s.factory));
    for (const Suspect& suspect : suspects_of(full.network, full.model))
        if (suspect.cause == sign.cause && suspect.place == sign.place)
            afflict(full.model, suspect, sign.amount);
    return full.model;
}

std::string row(const std::string& name, const std::vector<double>& millimetres) {
    std::string out = "| " + name + " |";
    for (const double x : millimetres) out += fmt::format(" {:.1f} |", 1e3 * x);
    return out + "\n";
}

std::string heading(const std::vector<std::string>& cells) {
    std::string out = "| cause |", rule = "|---|";
    for (const std::string& c : cells) {
        out += " " + c + " |";
        rule += "---:|";
    }
    return out + "\n" + rule + "\n";
}

std::string curves(const Scenario& s) {
    std::string out = heading({"50 N", "100 N", "200 N", "300 N", "400 N"});
    for (const Sign& sign : signs) {
        const PedalModel m = model_of(s, sign);
        PedalState state = used_before(m);
        std::vector<double> travel;
        for (const double force : {50.0, 100.0, 200.0, 300.0, 400.0})
            travel.push_back(press(m, state, force).travel);
        out += row(sign.name, travel);
    }
    return out;
}

std::string second_strokes(const Scenario& s) {
    std::string out = heading({"first", "2nd after 0 s", "0.3 s", "1 s", "3 s", "60 s"});
    for (const Sign& sign : signs) {
        std::vector<double> travel;
        for (const double gap : {0.0, 0.3, 1.0, 3.0, 60.0}) {
            PedalModel m = model_of(s, sign);
            PedalState state = used_before(m);
            const PedalReading first = press(m, state, foot, {slow_gas, 0.25});
            if (travel.empty()) travel.push_back(first.travel);
            let_go(m, state, first, release, gap);
            travel.push_back(press(m, state, foot, {slow_gas, 0.25}).travel);
        }
        out += row(sign.name, travel);
    }
    return out;
}

std::string sinks(const Scenario& s) {
    std::string out = heading({"1 s", "5 s", "10 s", "30 s", "60 s"});
    for (const Sign& sign : signs) {
        const PedalModel m = model_of(s, sign);
        PedalState state = used_before(m);
        const double first =
            press(m, state, foot, {quick_gas, 0.0}).travel; // read at once: gas not yet at its walls' warmth
        std::vector<double> sink;
        double before = 0.0;
        for (const double until : {1.0, 5.0, 10.0, 30.0, 60.0}) {
            sink.push_back(hold(m, state, foot, until - before).travel - first);
            before = until;
        }
        out += row(sign.name, sink);
    }
    return out;
}

void print(const std::string& title, const std::string& table) { fmt::print("{}:\n\n{}\n", title, table); }

} // namespace
} // namespace clearstroke::testing

int main() {
    using namespace clearstroke::testing;
    const auto warm = scenario(layout), cold = scenario(layout, {"conditions.temperature=-10 degC"});
    print("First slow stroke, travel at the pad [mm]", curves(warm));
    print("Quick strokes to 200 N at 20 degC (pushed at 0.25 m/s, let go at 0.4 m/s), the second after a gap "
          "[mm]",
          second_strokes(warm));
    print("The same at -10 degC", second_strokes(cold));
    print("Held at 200 N after a quick push: what the pedal has gone down since [mm]", sinks(warm));
    return 0;
}
