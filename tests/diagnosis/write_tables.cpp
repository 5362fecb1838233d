// Writes docs/diagnosis_tables.md: curves of the contested signs and 500 synthetic trials per cause. Takes
// minutes; run from the project's root.
#include <cstdio>
#include <fstream>

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

std::string suite(const Scenario& s, const char* name, bool clamps, bool mismatched) {
    TrialSettings settings;
    settings.clamps = clamps;
    settings.mismatched = mismatched;
    settings.seed = 2;
    const TrialTable t = run_trials(s.factory, {0}, settings);
    std::string out = fmt::format(
        "\n### {}\n\nExpected information of these readings: {:.0f} %. Sets that they cannot separate:\n\n",
        name, 100.0 * t.separation.information);
    for (const auto& set : t.separation.sets) {
        out += "- ";
        for (std::size_t i = 0; i < set.size(); ++i) out += (i ? "; " : "") + t.suspects[set[i]].name();
        out += "\n";
    }
    out += "\nPer cent of the trials of each row:\n\n| truth | set first | among two | \"no fault\" | "
           "\"cannot tell\" | none fits | air inside 90 % |\n|---|---:|---:|---:|---:|---:|---:|\n";
    for (const TrialRow& r : t.rows) {
        const auto percent = [&](std::size_t n) { return 100.0 * double(n) / double(r.trials); };
        const bool air = r.cause == Cause::air || r.cause == Cause::air_entry;
        out += fmt::format("| {} | {:.1f} | {:.1f} | {:.1f} | {:.1f} | {:.1f} | {} |\n",
                           Suspect{r.cause, r.place, {}, 0.0}.name(), percent(r.first), percent(r.among_two),
                           percent(r.no_fault), percent(r.cannot_tell), percent(r.none_fits),
                           air ? fmt::format("{:.1f}", percent(r.air_inside)) : "");
    }
    out += "\nConfusion: mean probability given to each cause, per cent (columns in the order of the "
           "rows):\n\n| truth |";
    for (std::size_t c = 0; c < causes_in_all; ++c)
        out += fmt::format(" {} |", name_of(static_cast<Cause>(c)));
    out += "\n|---|";
    for (std::size_t c = 0; c < causes_in_all; ++c) out += "---:|";
    out += "\n";
    for (const TrialRow& r : t.rows) {
        out += "| " + Suspect{r.cause, r.place, {}, 0.0}.name() + " |";
        for (const double w : r.weight) out += fmt::format(" {:.0f} |", 100.0 * w);
        out += "\n";
    }
    return out;
}

std::string page() {
    const Scenario warm = scenario(layout), cold = scenario(layout, {"conditions.temperature=-10 degC"}),
                   boosted = scenario(layout, {"booster.gain=5"});
    std::string out =
        "# Tables of the pedal diagnosis\n\nPrinted by `build/tests/diagnosis/write_diagnosis_tables` for "
        "`scenarios/rear_drums.toml`; read them with "
        "[the page on the diagnosis](diagnosis.md).\n\n## Signs\n\nFirst slow stroke, travel at the pad "
        "[mm]:\n\n";
    out += curves(warm) +
           "\nQuick strokes to 200 N at 20 degC (pushed at 0.25 m/s, let go at 0.4 m/s), the second after a "
           "gap [mm]:\n\n" +
           second_strokes(warm);
    out += "\nThe same at -10 degC:\n\n" + second_strokes(cold);
    out += "\nHeld at 200 N after a quick push: what the pedal has gone down since [mm]:\n\n" + sinks(warm);
    out += "\n## Trials\n\n500 pedals for each row, with a booster; a reading errs by 1 mm or 1 mL, a force "
           "by 5 %. Seed 2; the thresholds of the diagnosis were set on "
           "other trials, of seed 1.\n";
    out += suite(boosted, "Without clamps", false, false);
    out += suite(boosted, "With clamps", true, false);
    out += suite(boosted, "With clamps, the truth another model", true, true);
    return out;
}

} // namespace
} // namespace clearstroke::testing

int main() {
    const char* path = "docs/diagnosis_tables.md";
    const std::string text = clearstroke::testing::page();
    std::ofstream out(path, std::ios::binary);
    out << text;
    out.flush();
    if (!out) std::fprintf(stderr, "%s cannot be written; run from the project's root\n", path);
    return out ? 0 : 4;
}
