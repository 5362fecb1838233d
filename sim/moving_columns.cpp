/// Columns of liquid with momentum, (N-9): what an Assembly of Conditions::unsteady_lines does with them.
#include <cmath>

#include "models/tube_flow.hpp"
#include "sim/assembly.hpp"
#include "sim/sudden_opening.hpp"

namespace clearstroke {
namespace {

constexpr double shortest = 5.0; // column with momentum, in bores: a shorter one starts in no time

Eigen::Index at(std::size_t i) { return static_cast<Eigen::Index>(i); }
bool is_cell(const EdgeEnd& end) { return end.site == Site::cell; }

/// Which end of its line an edge is at: 0 `from`, 1 `to`.
std::size_t end_of_line(const Edge& e) { return is_cell(e.down) ? 0 : 1; }

} // namespace

/// I [Pa s^2/m^3] of the liquid between an end of a line and the middle of the cell there; 0 where it has no momentum.
double Assembly::inertance_of(const Edge& e) const {
    if (e.kind != Edge::Kind::line || is_cell(e.up) == is_cell(e.down)) return 0.0;
    const LineLayout& line = layout_->lines[e.line];
    const double length = (is_cell(e.up) ? e.up : e.down).column / line.area;
    return length > shortest * line.bore ? inertance(layout_->liquid.density, length, line.bore) : 0.0;
}

void Assembly::find_moving_columns(const State& s) {
    moving_.clear();
    for (std::size_t e = 0; e < edges_.size(); ++e) {
        const double inertia = inertance_of(edges_[e]);
        if ((edges_[e].moving >= 0) != (inertia > 0.0)) gas_moved_ = true; // parted anew
        edges_[e].moving = inertia > 0.0 ? static_cast<std::ptrdiff_t>(moving_.size()) : -1;
        if (inertia > 0.0)
            moving_.push_back(
                {e, inertia, s.line_flow[edges_[e].line][end_of_line(edges_[e])], 0.0, 0.0, 0.0, 0.0});
    }
    for (std::size_t j = 0; j < junction_edges_.size(); ++j) settle_junction(j);
}

/// Where only columns with momentum meet, and what they bring does not add up to nothing (a cap, a screw that shut), the
/// impulse of the blow that follows is shared: each changes its flow by the same impulse over its I.
void Assembly::settle_junction(std::size_t j) {
    double excess = 0.0, lightness = 0.0;
    const auto into = [&](std::size_t k) {
        return edges_[k].down.site == Site::junction && edges_[k].down.index == j ? 1.0 : -1.0;
    };
    for (const std::size_t k : junction_edges_[j]) {
        if (edges_[k].moving < 0) return;
        const MovingColumn& c = moving_[static_cast<std::size_t>(edges_[k].moving)];
        excess += into(k) * c.start;
        lightness += 1.0 / c.inertance;
    }
    for (const std::size_t k : junction_edges_[j]) {
        MovingColumn& c = moving_[static_cast<std::size_t>(edges_[k].moving)];
        c.start -= into(k) * excess / (c.inertance * lightness);
    }
}

/// Flow of a column, and the pressure that friction and end take from it.
void Assembly::see_moving_column(Edge& e) {
    constexpr double slightly = 1e-3; // change of the flow, relative
    MovingColumn& c = moving_[static_cast<std::size_t>(e.moving)];
    const LineLayout& line = layout_->lines[e.line];
    e.q = c.start + c.gained;
    const DropLaw law = resistance_of(e, e.q >= 0.0 ? e.up.share : e.down.share);
    const auto drop = [&](double flow) {
        const double re = reynolds_number(flow, line.bore, layout_->liquid.kinematic_viscosity);
        return flow *
               (law.a * turbulence_factor(re, drawn_tube_roughness / line.bore) + law.b * std::abs(flow));
    };
    c.drop = drop(e.q);
    const double step = slightly * (std::abs(e.q) + 1e-9);
    e.slope = 2.0 * step / (drop(e.q + step) - drop(e.q - step));
}

void Assembly::press_column(Edge& e) {
    MovingColumn& c = moving_[static_cast<std::size_t>(e.moving)];
    c.rate = (e.up.pressure - e.down.pressure - c.drop) / c.inertance;
}

/// A stage's pressures change a flow by gamma h / (I + gamma h R') where they would by 1/R' without momentum.
void Assembly::find_stage_slopes(double gamma_h) {
    of_stage_ = slopes_;
    for (const MovingColumn& c : moving_) {
        Slopes& s = of_stage_[c.edge];
        const double share = gamma_h / (c.inertance * s.flow + gamma_h);
        s.liquid *= share;
        s.gas *= share;
        s.flow *= share;
    }
}

/// The right-hand side of a stage with what columns pass by their own rate of change; junctions, which hold nothing, get
/// it in the equations of their pressures.
const double* Assembly::force_columns(const Eigen::VectorXd& r) {
    forced_ = r;
    for (std::size_t i = 0; i < moving_.size(); ++i) {
        const MovingColumn& c = moving_[i];
        const Slopes& s = of_stage_[c.edge];
        const double push = c.inertance * r[at(first_column() + i)];
        forced_[at(c.edge)] += s.liquid * push;
        forced_[at(edges_.size() + c.edge)] += s.gas * push;
        unknown_[s.up] -= rows_[s.up].per_flow * s.flow * push;
        unknown_[s.down] += rows_[s.down].per_flow * s.flow * push;
    }
    return forced_.data();
}

void Assembly::keep_line_flows(const Eigen::VectorXd& z, double dt, State& s) const {
    for (std::size_t e = 0; e < edges_.size(); ++e) {
        const Edge& edge = edges_[e];
        if (edge.kind != Edge::Kind::line || is_cell(edge.up) == is_cell(edge.down)) continue;
        const auto column = static_cast<std::size_t>(std::max<std::ptrdiff_t>(edge.moving, 0));
        s.line_flow[edge.line][end_of_line(edge)] =
            edge.moving >= 0 ? moving_[column].start + z[at(first_column() + column)] : passed(z, e) / dt;
    }
}

} // namespace clearstroke
