#include "analysis/pedal_readings.hpp"

#include <algorithm>
#include <tuple>

#include <fmt/format.h>

namespace clearstroke {
namespace {

constexpr double settling_time = 2.0; // held before a sink is counted [s]
constexpr double minute = 60.0;       // rest between tests [s]

/// One person's session on one model.
class Session {
public:
    Session(const PedalModel& model, const Hand& hand)
        : model_(model), hand_(hand), state_(used_before(model)) {}

    double read(const Reading& r, double force, const ShutOff& clamp) {
        switch (r.what) {
        case Reads::travel:
            pressed_ = true;
            last_ = press(model_, state_, force);
            return last_.travel;
        case Reads::stroke:
            if (!pressed_) last_ = press(model_, state_, force);
            pressed_ = true;
            for (; done_ < r.count; ++done_) {
                let_go(model_, state_, last_, hand_.quick_return, r.seconds);
                last_ = press(model_, state_, force, {hand_.gas_exponent, hand_.quick_push});
            }
            return last_.travel;
        case Reads::rested:
            fresh(r.seconds);
            last_ = press(model_, state_, force);
            return last_.travel;
        case Reads::sink:
        case Reads::lost:
            hold_for(r, force);
            return r.what == Reads::sink ? sink_ : spilled_;
        case Reads::engine: {
            fresh(minute);
            const double before = press(model_, state_, force).travel;
            state_.vacuum = 1.0;
            last_ = press(model_, state_, force);
            const double drop = last_.travel - before;
            state_.vacuum = 0.0;
            return drop;
        }
        case Reads::clamped:
            return alone(without(model_, clamp), force);
        case Reads::hand_brake:
            return alone(with_shoes_on(), force);
        }
        return 0.0;
    }

private:
    PedalModel model_;
    const Hand& hand_;
    PedalState state_;
    PedalReading last_;
    bool pressed_{};
    int done_{1};
    double held_force_{-1.0}, sink_{}, spilled_{};

    void fresh(double seconds) { let_go(model_, state_, last_, hand_.quick_return, seconds); }

    /// One hold serves both of its readings.
    void hold_for(const Reading& r, double force) {
        if (held_force_ == r.force) return;
        held_force_ = r.force;
        fresh(minute);
        const double before = hold(model_, state_, force, settling_time).travel;
        last_ = hold(model_, state_, force, r.seconds);
        sink_ = last_.travel - before;
        spilled_ = 0.0;
        for (const CircuitState& c : state_.circuits) spilled_ += c.spilled;
    }

    /// A fresh stroke on a changed model; what was knocked back has been taken up.
    static double alone(const PedalModel& model, double force) {
        PedalState s = used_before(model);
        for (CircuitState& c : s.circuits) c.knocked = 0.0;
        return press(model, s, force).travel;
    }

    [[nodiscard]] PedalModel with_shoes_on() const {
        PedalModel out = model_;
        for (PedalCircuit& c : out.circuits)
            for (PedalPart& p : c.parts)
                if (p.shoes) p.walls.take_up_volume = 0.0;
        return out;
    }
};

} // namespace

std::string text_of(const Reading& r, const Network& net) {
    switch (r.what) {
    case Reads::travel:
        return fmt::format("first stroke at {:.0f} N", r.force);
    case Reads::stroke:
        return fmt::format("stroke {} at {:.0f} N, {:.2g} s after the one before", r.count, r.force,
                           r.seconds);
    case Reads::rested:
        return fmt::format("stroke at {:.0f} N after {:.0f} s of rest", r.force, r.seconds);
    case Reads::sink:
        return fmt::format("sink in {:.0f} s at {:.0f} N", r.seconds, r.force);
    case Reads::lost:
        return fmt::format("fluid lost in {:.0f} s at {:.0f} N", r.seconds, r.force);
    case Reads::engine:
        return fmt::format("goes down as the engine starts, {:.0f} N", r.force);
    case Reads::clamped:
        return fmt::format("first stroke at {:.0f} N, {} clamped", r.force, net.lines[r.hose.index].name);
    case Reads::hand_brake:
        return fmt::format("first stroke at {:.0f} N, hand brake on", r.force);
    }
    return {};
}

void in_order_of_work(std::vector<MeasuredReading>& readings) {
    std::ranges::stable_sort(readings, [](const MeasuredReading& a, const MeasuredReading& b) {
        return std::tuple(a.reading.what, a.reading.count, a.reading.force, a.reading.hose.index) <
               std::tuple(b.reading.what, b.reading.count, b.reading.force, b.reading.hose.index);
    });
}

std::vector<ShutOff> clamps_of(std::span<const Reading> readings, const Network& net,
                               const PedalModel& model) {
    std::vector<ShutOff> out;
    for (const Reading& r : readings)
        out.push_back(r.what == Reads::clamped ? shut_off_by(model, net, r.hose) : ShutOff{});
    return out;
}

std::vector<double> read_pedal(const PedalModel& model, std::span<const Reading> readings,
                               std::span<const ShutOff> clamps, const Hand& hand) {
    Session session(model, hand);
    std::vector<double> out;
    for (std::size_t i = 0; i < readings.size(); ++i)
        out.push_back(session.read(readings[i], readings[i].force * (1.0 + hand.force_error[i]), clamps[i]));
    return out;
}

} // namespace clearstroke
