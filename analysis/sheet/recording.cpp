#include "analysis/sheet/recording.hpp"

#include <algorithm>
#include <cmath>

#include "models/gas.hpp"
#include "sim/layout.hpp"

namespace clearstroke {
namespace {

constexpr double thinnest_froth = 0.01; // share of gas below which fluid looks clear

double full_travel(const Actuator& actuator) {
    double travel = 0.0;
    for (const Piston& p : actuator.pistons)
        travel = actuator.coupling == Coupling::tandem ? travel + p.stroke : std::max(travel, p.stroke);
    return travel;
}

// Parcels with gas that a person could see, neighbours joined.
std::vector<Stretch> stretches_of(const std::vector<Cell>& cells, double visible) {
    std::vector<Stretch> all;
    double total = 0.0;
    for (const Cell& cell : cells)
        for (const Parcel& parcel : cell.train.parcels()) {
            const double gas = gas_volume(parcel.gas, cell.pressure), begin = total;
            total += parcel.liquid + gas;
            const double share = gas / (parcel.liquid + gas);
            if (gas < visible || share < thinnest_froth) continue;
            if (!all.empty() && begin - all.back().end < visible && std::abs(all.back().gas - share) < 0.1)
                all.back().end = total;
            else
                all.push_back({begin, total, share});
        }
    for (Stretch& s : all) {
        s.begin /= total;
        s.end /= total;
    }
    return all;
}

class Camera {
public:
    Camera(const Simulation& sim, const FilmRequest& request)
        : sim_(sim), net_(sim.network()), request_(request), pace_(request.pace) {}

    void look(const State& s, Moment moment) {
        const bool over = moment == Moment::stroke;
        strokes_ += over;
        if (s.ledger.top_ups > top_ups_) film.top_ups.push_back({visit_, strokes_});
        top_ups_ = s.ledger.top_ups;
        const bool changed = over || film.instants.empty() || moved(s);
        if (!changed && s.t - film.instants.back().t < pace_of(s)) return;
        film.instants.push_back(take(s, over, changed));
        turns_ = s.screw_turns;
        rolls_ = s.volume_roll;
        if (film.instants.size() > request_.most) thin_out();
    }

    void begin(const State& s, std::size_t visit) {
        visit_ = visit;
        strokes_ = 0;
        top_ups_ = s.ledger.top_ups;
    }

    Film film;

private:
    const Simulation& sim_;
    const Network& net_;
    FilmRequest request_;
    double pace_;
    std::size_t visit_{};
    std::vector<double> turns_, rolls_;
    int strokes_{}, top_ups_{};
    std::optional<Layout> layout_;

    bool moved(const State& s) const {
        const Instant& last = film.instants.back();
        const bool new_hose = s.hose && (last.visit != visit_ || last.screw != s.hose->screw);
        return new_hose || s.screw_turns != turns_ || s.volume_roll != rolls_ || s.pitch != last.pitch ||
               s.roll != last.roll;
    }

    double pace_of(const State& s) const {
        const bool working =
            std::ranges::any_of(s.actuators, [](const ActuatorState& a) { return a.x > 0.0; }) ||
            std::ranges::any_of(s.screw_turns, [](double t) { return t > 0.0; });
        return working ? pace_ : request_.idle_pace;
    }

    void thin_out() {
        std::vector<Instant> fewer;
        bool drop = false;
        for (Instant& instant : film.instants) {
            drop = !instant.kept && !drop;
            if (!drop) fewer.push_back(std::move(instant));
        }
        film.instants = std::move(fewer);
        pace_ *= 2.0;
    }

    Instant take(const State& s, bool over, bool kept) {
        Instant now;
        now.t = s.t;
        now.visit = visit_;
        if (s.hose) now.screw = s.hose->screw;
        now.strokes = strokes_;
        now.stroke_over = over;
        now.kept = kept;
        now.turns = s.hose ? s.screw_turns[s.hose->screw.index] : 0.0;
        now.pitch = s.pitch;
        now.roll = s.roll;
        now.air_of_circuit = sim_.air(s).of_circuit;
        for (const ReservoirState& r : s.reservoirs) {
            now.reservoirs.push_back(0.0);
            for (const double chamber : r.liquid) now.reservoirs.back() += chamber;
        }
        for (std::size_t k = 0; k < s.actuators.size(); ++k)
            now.rods.push_back(s.actuators[k].x / full_travel(net_.actuators[k]));
        take_parts(s, now);
        const double visible = net_.catch_hose.visible_bubble;
        for (const auto& cells : s.lines) now.lines.push_back(stretches_of(cells, visible));
        now.fresh_of_line = sim_.fresh_of_line(s);
        if (s.hose) now.hose = stretches_of(s.hose->cells, visible);
        return now;
    }

    void take_parts(const State& s, Instant& now) {
        const Attitude attitude{s.pitch, s.roll, s.volume_roll, s.volume_lift};
        if (!layout_ || !(layout_->attitude == attitude)) layout_ = make_layout(net_, attitude, 1);
        for (std::size_t v = 0; v < s.volumes.size(); ++v) {
            const VolumeState& state = s.volumes[v];
            const CavityProfile& profile = layout_->volumes[v].profile;
            const double scale = profile.volume() / net_.volumes[v].content;
            const double gas = gas_volume(state.gas, state.pressure);
            const double level =
                gas > 0.0 ? profile.interface_height(scale * gas) / net_.volumes[v].cavity.bore_radius : 1.0;
            now.parts.push_back({state.gas, std::clamp(level, -1.0, 1.0), state.fresh, s.volume_roll[v]});
        }
    }
};

} // namespace

Film film_plan(const Case& c, const std::vector<Visit>& visits, const FilmRequest& request,
               const Settings& settings) {
    Simulation sim(c.network, settings);
    const Prepared ready = prepare(sim, c);
    State state = ready.state;
    Camera camera(sim, request);
    camera.look(state, Moment::step);
    camera.film.before = state;
    DoneVisits records;
    bool going = ready.status.usable();
    sim.observe([&camera](const State& s, Moment moment) { camera.look(s, moment); });
    for (const Visit& visit : visits) {
        if (!going) break;
        camera.begin(state, records.size());
        records.push_back(make_visit(sim, state, visit, c.procedure));
        going = records.back()->record.status.usable();
    }
    sim.observe({});
    camera.film.after = state;
    camera.film.run = finish_run(sim, state, c, ready, std::move(records));
    return std::move(camera.film);
}

} // namespace clearstroke
