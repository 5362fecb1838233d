#include "analysis/diagnosis_trials.hpp"

#include <algorithm>
#include <cmath>
#include <map>
#include <stdexcept>

#include <tbb/parallel_for.h>

#include "analysis/counter_random.hpp"

namespace clearstroke {
namespace {

constexpr double foot_force = 200.0, hand_force = 80.0;     // of the readings at one force [N]
constexpr double gap = 0.5, rest = 120.0, hold_time = 60.0; // [s]

/// One pedal with its truth.
struct Trial {
    Eigen::VectorXd values;
    Seen seen;
    double air{};
};

class Trials {
public:
    Trials(const CaseFactory& factory, ActuatorId actuator, const TrialSettings& settings)
        : factory_(factory), actuator_(actuator), settings_(settings) {}

    [[nodiscard]] const DiagnosisBank& bank() const { return bank_; }
    [[nodiscard]] const Taken& taken() const { return taken_; }

    void prepare() {
        const FullModel usual = full_model(factory_, actuator_, usual_values(factory_));
        bank_ = make_bank(factory_, actuator_, usual_readings(usual.network, actuator_, settings_.clamps),
                          settings_.bank);
        for (std::size_t i = 0; i < bank_.readings.size(); ++i) {
            taken_.readings.push_back(i);
            taken_.error.push_back(usual_error(bank_.readings[i]));
        }
    }

    [[nodiscard]] Trial draw(const Suspect& suspect, std::uint64_t stream) const {
        CounterRandom random(settings_.seed, stream);
        FullModel base = drawn_model(random);
        Trial out;
        Suspect second = suspect;
        const double amount = drawn_amount(suspect, random);
        afflict(base.model, suspect, amount);
        if (settings_.mismatched) {
            distort(base, random);
            if (random.uniform() < 1.0 / 3.0) {
                second = bank_.suspects[static_cast<std::size_t>(random.uniform() *
                                                                 static_cast<double>(bank_.suspects.size()))];
                afflict(base.model, second, drawn_amount(second, random));
            }
        }
        if (suspect.cause == Cause::air || suspect.cause == Cause::air_entry) out.air = amount;
        std::vector<double> u(hand_values + bank_.readings.size());
        for (double& x : u) x = random.uniform();
        const auto clamps = clamps_of(bank_.readings, base.network, base.model);
        const auto values = read_pedal(base.model, bank_.readings, clamps,
                                       hand_at(u, bank_.readings.size(), settings_.bank.force_error));
        out.values.resize(static_cast<Eigen::Index>(values.size()));
        for (std::size_t i = 0; i < values.size(); ++i)
            out.values[static_cast<Eigen::Index>(i)] = values[i] + taken_.error[i] * random.normal();
        const Cause visible = dangerous(second.cause) ? second.cause : suspect.cause;
        out.seen.bubbles = drawn_bubbles(visible, random.uniform());
        out.seen.wet = random.uniform() < chance_of_wet(true, visible);
        return out;
    }

private:
    const CaseFactory& factory_;
    ActuatorId actuator_;
    const TrialSettings& settings_;
    DiagnosisBank bank_;
    Taken taken_;

    /// Values that the factory refuses are drawn again.
    [[nodiscard]] FullModel drawn_model(CounterRandom& random) const {
        constexpr int most_tries = 100;
        for (int i = 0; i < most_tries; ++i) {
            std::vector<double> u(independent_values(factory_));
            for (double& x : u) x = random.uniform();
            try {
                return full_model(factory_, actuator_,
                                  values_at(factory_, u, settings_.mismatched ? 2.0 : 1.0));
            } catch (const std::invalid_argument&) {
                continue;
            }
        }
        throw std::runtime_error("the bands of this file leave no circuit that can be computed");
    }

    static double drawn_amount(const Suspect& s, CounterRandom& random) {
        const AmountRange range = amounts_in(s);
        if (range.high <= 0.0) return 0.0;
        return range.low * std::pow(range.high / range.low, random.uniform());
    }

    static Bubbles drawn_bubbles(Cause cause, double u) {
        for (const Bubbles seen : {Bubbles::none, Bubbles::declined})
            if ((u -= chance_of(seen, cause)) < 0.0) return seen;
        return Bubbles::did_not_decline;
    }

    /// Other laws than the bank's: hoses straight or saturating early, seals with more or less play, gas
    /// stiffer than isothermal on slow strokes too (as 20 % more or less of it).
    static void distort(FullModel& m, CounterRandom& random) {
        const double hose = std::pow(2.0, 2.0 * random.uniform() - 1.0),
                     knee = std::pow(3.0, 2.0 * random.uniform() - 1.0);
        const double play = std::pow(2.0, 2.0 * random.uniform() - 1.0), gas = 0.8 + 0.4 * random.uniform();
        for (PedalCircuit& c : m.model.circuits)
            for (PedalPart& p : c.parts) {
                p.gas *= gas;
                p.walls.play *= play;
                if (!p.line || !m.network.lines[p.index].elastic_hose) continue;
                p.walls.compliance *= hose;
                p.walls.settling_pressure *= knee;
            }
    }
};

void count(TrialRow& row, const Diagnosis& d, std::size_t truth, double air) {
    const auto holds = [&](std::size_t rank) {
        return rank < d.sets.size() &&
               std::ranges::find(d.sets[rank].suspects, truth) != d.sets[rank].suspects.end();
    };
    row.first += holds(0);
    row.among_two += holds(0) || holds(1);
    row.no_fault += d.finding == Finding::no_fault;
    row.cannot_tell += d.finding == Finding::cannot_tell;
    row.none_fits += d.finding == Finding::none_fits;
    row.air_inside += air > 0.0 && d.air && air >= (*d.air)[0] && air <= (*d.air)[2];
    for (const std::size_t h : d.sets.front().suspects) row.in_first += d.suspect_probability[h] >= 0.01;
    if (d.finding == Finding::told || d.finding == Finding::no_fault)
        ++row.called[static_cast<std::size_t>(leading_cause(d))];
}

} // namespace

std::vector<Reading> usual_readings(const Network& net, ActuatorId id, bool clamps) {
    const Actuator& a = net.actuators[id.index];
    const double force = a.hand ? hand_force : foot_force;
    std::vector<Reading> out;
    for (const double share : {0.5, 1.0, 2.0}) out.push_back({Reads::travel, share * force, 0.0, 1, {}});
    for (const int n : {2, 3}) out.push_back({Reads::stroke, force, gap, n, {}});
    out.push_back({Reads::rested, force, rest, 1, {}});
    out.push_back({Reads::sink, force, hold_time, 1, {}});
    out.push_back({Reads::lost, force, hold_time, 1, {}});
    if (a.booster.gain > 1.0) out.push_back({Reads::engine, force, 0.0, 1, {}});
    if (clamps)
        for (std::size_t l = 0; l < net.lines.size(); ++l)
            if (net.lines[l].elastic_hose) out.push_back({Reads::clamped, force, 0.0, 1, {l}});
    const bool shoes = std::ranges::any_of(
        net.volumes, [](const Volume& v) { return v.walls.take_up_volume > 0.0 && v.ahead < 0.0; });
    if (shoes) out.push_back({Reads::hand_brake, force, 0.0, 1, {}});
    return out;
}

double usual_error(const Reading& r) { return r.what == Reads::lost ? 1e-6 : 1e-3; }

TrialTable run_trials(const CaseFactory& factory, ActuatorId actuator, const TrialSettings& settings) {
    Trials trials(factory, actuator, settings);
    trials.prepare();
    const DiagnosisBank& bank = trials.bank();
    const Likelihood likelihood(bank, trials.taken());
    const Seen both{Bubbles::none, false};
    TrialTable table{{}, expected_information(likelihood, both)};
    std::map<std::pair<Cause, std::string>, std::vector<std::size_t>> rows;
    for (std::size_t h = 0; h < bank.suspects.size(); ++h)
        rows[{bank.suspects[h].cause, bank.suspects[h].cause == Cause::air ? bank.suspects[h].place : ""}]
            .push_back(h);
    for (const auto& [key, members] : rows) {
        const std::size_t stream = table.rows.size() * settings.per_cause;
        TrialRow row{.cause = key.first, .place = key.second, .trials = settings.per_cause};
        std::vector<Diagnosis> told(settings.per_cause);
        std::vector<double> air(settings.per_cause);
        tbb::parallel_for(std::size_t{0}, settings.per_cause, [&](std::size_t n) {
            const Trial t = trials.draw(bank.suspects[members[n % members.size()]], stream + n);
            air[n] = t.air;
            told[n] = diagnose(likelihood, t.values, t.seen);
        });
        for (std::size_t n = 0; n < told.size(); ++n)
            count(row, told[n], members[n % members.size()], air[n]);
        table.rows.push_back(std::move(row));
    }
    return table;
}

} // namespace clearstroke
