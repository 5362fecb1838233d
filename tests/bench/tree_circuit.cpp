#include "tests/bench/tree_circuit.hpp"

#include <algorithm>
#include <cmath>
#include <numbers>
#include <numeric>

namespace clearstroke::bench {
namespace {

constexpr double atmosphere = 101325.0;                         // [Pa]
constexpr double bulk_modulus = 1.5e9;                          // [Pa]
constexpr double least_volume = 1e-8;                           // not resolved relatively [m^3]
constexpr double viscosity = 1.5e-2;                            // [Pa s]
constexpr double bore = 3.3e-3;                                 // of lines [m]
constexpr double line_compliance = 6e-11;                       // of walls per volume [1/Pa]
constexpr double hole = 2e8;                                    // resistance of a fitting [Pa s/m^3]
constexpr double caliper = 23e-6;                               // [m^3]
constexpr double caliper_compliance = 1.5e-13;                  // [m^3/Pa]
constexpr double piston = 3.87e-4;                              // [m^2]
constexpr double cylinder = 20e-6;                              // [m^3]
constexpr double port = 1e-10;                                  // open [m^3/(s Pa)]
constexpr double cut_off = 1.2e-3, port_window = 0.3e-3;        // [m]
constexpr double cup = 5e-9, cup_cracking = 5e3, cup_lip = 1e3; // [m^3/(s Pa)], [Pa]
constexpr double screw_a = 2e9, screw_b = 4e15;                 // [Pa s/m^3], [Pa s^2/m^6]
constexpr double speed = 25e-3, target = 29e-3;                 // of the rod [m/s], [m]
constexpr double force = 1500.0;                                // at the rod [N]
constexpr double slowing = 0.2e-3; // of travel before a target over which the rod slows [m]

Eigen::Index at(std::size_t i) { return static_cast<Eigen::Index>(i); }

} // namespace

TreeCircuit::TreeCircuit(int lumps, bool contracted) {
    const auto behind = [&](const LineEnd& line, std::size_t node) {
        links_.push_back({line.node, node, 1.0 / (hole + line.resistance)});
        return node;
    };
    const auto wheel = [&](const LineEnd& line, double gas) {
        return behind(
            line, add_node(caliper, caliper_compliance, gas, gas > 0.0 ? std::ptrdiff_t(pockets_++) : -1));
    };
    const auto tee = [&](const LineEnd& line) {
        return behind(line, add_node(1e-6, line_compliance * 1e-6, 0.0, -1));
    };
    const std::size_t chamber = add_node(cylinder, 2e-14, 0.0, -1);
    const std::size_t front = tee(add_line(chamber, 0.4, 0.0, lumps, contracted));
    wheel(add_line(front, 0.8, 0.0, lumps, contracted), 1e-6);
    screw_ = wheel(add_line(front, 1.5, 0.3e-6, lumps, contracted), 3e-6);
    const std::size_t rear = tee(add_line(front, 3.0, 0.5e-6, lumps, contracted));
    wheel(add_line(rear, 0.6, 0.0, lumps, contracted), 0.5e-6);
    wheel(add_line(rear, 1.4, 0.0, lumps, contracted), 0.0);
    plan();
}

std::size_t TreeCircuit::add_node(double content, double compliance, double gas, std::ptrdiff_t pocket) {
    nodes_.push_back({content, compliance, gas, pocket});
    return nodes_.size() - 1;
}

/// Gas stands over the middle third of the length.
TreeCircuit::LineEnd TreeCircuit::add_line(std::size_t from, double length, double gas, int lumps,
                                           bool contracted) {
    const double per_length = 128.0 * viscosity / (std::numbers::pi * std::pow(bore, 4)),
                 area = std::numbers::pi / 4.0 * bore * bore;
    const auto third = [&](int i) { return gas == 0.0 ? 0 : int(3.0 * (i + 0.5) / lumps); };
    std::vector<int> counts; // lumps of each cell
    int holding = 0;
    std::vector<char> with_gas;
    for (int i = 0; i < lumps; ++i) {
        const bool middle = gas > 0.0 && third(i) == 1;
        holding += middle && !(contracted && i > 0 && third(i - 1) == 1);
        if (contracted && i > 0 && third(i) == third(i - 1)) {
            ++counts.back();
            continue;
        }
        counts.push_back(1);
        with_gas.push_back(middle);
    }
    const std::ptrdiff_t pocket = gas > 0.0 ? std::ptrdiff_t(pockets_++) : -1;
    double before = 0.0;
    for (std::size_t c = 0; c < counts.size(); ++c) {
        const double part = length * counts[c] / lumps, volume = area * part;
        const std::size_t next = add_node(volume, line_compliance * volume, with_gas[c] ? gas / holding : 0.0,
                                          with_gas[c] ? pocket : -1);
        links_.push_back({from, next, 1.0 / (per_length * 0.5 * (before + part))});
        from = next;
        before = part;
    }
    return {from, per_length * 0.5 * before};
}

void TreeCircuit::plan() {
    const std::size_t n = nodes_.size(), rod = n, out = n + 1, in = n + 2;
    pressure_.assign(n, 0.0);
    base_pressure_.assign(n, 0.0);
    root_.assign(n, 0.0);
    slopes_.assign(n, {});
    unknown_.assign(n, 0.0);
    matrix_.reset(n);
    for (const auto& [u, d, conductance] : links_) {
        places_.insert(places_.end(), {{u, u}, {u, d}, {d, u}, {d, d}});
        if (u == 0) places_.insert(places_.end(), {{u, rod}, {d, rod}});
        matrix_.link(u, d);
    }
    places_.insert(places_.end(), {{screw_, screw_},
                                   {out, screw_},
                                   {0, 0},
                                   {in, 0},
                                   {0, rod},
                                   {in, rod},
                                   {rod, 0},
                                   {rod, rod},
                                   {out, out},
                                   {in, in}});
    matrix_.close();
    for (const auto& [u, d, conductance] : links_) {
        const std::size_t l = matrix_.link(u, d);
        for (const std::size_t e :
             {matrix_.diagonal(u), matrix_.entry(l, u), matrix_.entry(l, d), matrix_.diagonal(d)})
            entries_.push_back(e);
    }
}

Eigen::VectorXd TreeCircuit::start() const {
    Eigen::VectorXd y = Eigen::VectorXd::Zero(at(size()));
    for (std::size_t i = 0; i < nodes_.size(); ++i) y[at(i)] = nodes_[i].content - nodes_[i].gas;
    return y;
}

void TreeCircuit::see_pressures(const double* y) {
    for (std::size_t i = 0; i < nodes_.size(); ++i) {
        const Node& n = nodes_[i];
        const double soft = y[i] / bulk_modulus + n.compliance;
        const double b = soft * atmosphere + y[i] - n.content + (i == 0 ? piston * y[nodes_.size()] : 0.0);
        root_[i] = std::sqrt(b * b + 4.0 * soft * n.gas * atmosphere);
        pressure_[i] = 0.5 * (b + root_[i]) / soft;
    }
}

double TreeCircuit::rod_speed(double x) {
    const auto ramp = [](double share, double per, double& slope) {
        slope = share > 0.0 && share < 1.0 ? per : 0.0;
        return std::clamp(share, 0.0, 1.0);
    };
    speed_by_pressure_ = speed_by_rod_ = 0.0;
    double by_force = 0.0, by_rod = 0.0;
    if (phase_ == Phase::push) {
        const double band = 0.1 * force;
        const double strong =
            ramp((force - piston * (pressure_[0] - atmosphere)) / band, -piston / band, by_force);
        const double near = ramp((target - x) / slowing, -1.0 / slowing, by_rod);
        speed_by_pressure_ = speed * near * by_force;
        speed_by_rod_ = speed * strong * by_rod;
        return speed * strong * near;
    }
    if (phase_ != Phase::back) return 0.0;
    const double near = ramp(x / slowing, 1.0 / slowing, by_rod);
    speed_by_rod_ = -speed * by_rod;
    return -speed * near;
}

/// From the reservoir through port and cup [m^3/s].
double TreeCircuit::drawn(double x) {
    const double s = std::clamp((cut_off - x) / port_window, 0.0, 1.0);
    opening_ = port * s * s * (3.0 - 2.0 * s);
    opening_by_rod_ = -port * 6.0 * s * (1.0 - s) / port_window;
    const double suction = atmosphere - pressure_[0], d = suction - cup_cracking;
    const double lifted = std::clamp(d / cup_lip, 0.0, 1.0);
    lift_by_pressure_ = cup * lifted;
    return opening_ * suction + cup * lifted * (d - 0.5 * cup_lip * lifted);
}

void TreeCircuit::rate(const double* y, double* f) {
    ++rates;
    const std::size_t n = nodes_.size();
    see_pressures(y);
    std::fill_n(f, n + 3, 0.0);
    for (const Link& l : links_) {
        const double q = l.conductance * (pressure_[l.up] - pressure_[l.down]);
        f[l.up] -= q;
        f[l.down] += q;
    }
    const double dp = pressure_[screw_] - atmosphere;
    const double out = 2.0 * dp / (screw_a + std::sqrt(screw_a * screw_a + 4.0 * screw_b * std::abs(dp)));
    screw_slope_ = 1.0 / (screw_a + 2.0 * screw_b * std::abs(out));
    const double in = drawn(y[n]);
    f[screw_] -= out;
    f[0] += in;
    f[n] = rod_speed(y[n]);
    f[n + 1] = out;
    f[n + 2] = in;
}

/// Slopes at the last pressures.
void TreeCircuit::see_slopes() {
    for (std::size_t i = 0; i < nodes_.size(); ++i) {
        const double p = pressure_[i];
        slopes_[i] = {p * (1.0 + (atmosphere - p) / bulk_modulus) / root_[i],
                      i == 0 ? p * piston / root_[i] : 0.0};
    }
    drawn_by_pressure_ = -opening_ - lift_by_pressure_;
    drawn_by_rod_ = opening_by_rod_ * (atmosphere - pressure_[0]);
    rod_by_pressure_ = speed_by_pressure_;
    rod_by_rod_ = speed_by_rod_;
    screw_conductance_ = screw_slope_;
}

void TreeCircuit::jacobian(std::vector<double>& values) {
    ++jacobians;
    see_slopes();
    values.resize(places_.size());
    double* v = values.data();
    for (const Link& l : links_) {
        const double by_up = l.conductance * slopes_[l.up].by_liquid,
                     by_down = l.conductance * slopes_[l.down].by_liquid;
        for (const double x : {-by_up, by_down, by_up, -by_down}) *v++ = x;
        if (l.up != 0) continue;
        *v++ = -l.conductance * slopes_[0].by_rod;
        *v++ = l.conductance * slopes_[0].by_rod;
    }
    const double out = screw_conductance_ * slopes_[screw_].by_liquid,
                 in = drawn_by_pressure_ * slopes_[0].by_liquid;
    const double in_by_rod = drawn_by_pressure_ * slopes_[0].by_rod + drawn_by_rod_;
    for (const double x : {-out, out, in, in, in_by_rod, in_by_rod, rod_by_pressure_ * slopes_[0].by_liquid,
                           rod_by_pressure_ * slopes_[0].by_rod + rod_by_rod_, 0.0, 0.0})
        *v++ = x;
}

void TreeCircuit::scales(const double* y, double* scale) {
    see_pressures(y);
    const std::size_t n = nodes_.size();
    for (std::size_t i = 0; i < n; ++i) {
        const double p = pressure_[i];
        scale[i] = (p + atmosphere) * root_[i] / (p * (1.0 + (atmosphere - p) / bulk_modulus));
    }
    scale[n] = 1e-2;
    scale[n + 1] = scale[n + 2] = 1e-5;
}

void TreeCircuit::rate(const Eigen::VectorXd& y, Eigen::VectorXd& f) {
    f.resize(at(size()));
    rate(y.data(), f.data());
}

void TreeCircuit::linearise(const Eigen::VectorXd& y, Eigen::VectorXd& f) {
    rate(y, f);
    ++jacobians;
    see_slopes();
    base_pressure_ = pressure_;
}

/// Unknowns are pressure changes, as in an Assembly.
void TreeCircuit::prepare(double g) {
    matrix_.set_zero();
    for (std::size_t i = 0; i < nodes_.size(); ++i) matrix_.add(i, 1.0);
    const std::size_t* e = entries_.data();
    for (const Link& l : links_) {
        const double up = g * slopes_[l.up].by_liquid * l.conductance,
                     down = g * slopes_[l.down].by_liquid * l.conductance;
        for (const double x : {up, -up, -down, down}) matrix_.add(*e++, x);
    }
    matrix_.add(screw_, g * slopes_[screw_].by_liquid * screw_conductance_);
    const double per_rod = g * slopes_[0].by_liquid * drawn_by_rod_ + slopes_[0].by_rod;
    matrix_.add(0, -g * slopes_[0].by_liquid * drawn_by_pressure_ -
                       per_rod * g * rod_by_pressure_ / (1.0 - g * rod_by_rod_));
    matrix_.factor();
}

void TreeCircuit::solve(double g, const Eigen::VectorXd& r, Eigen::VectorXd& k) {
    const std::size_t n = nodes_.size();
    const double free = g / (1.0 - g * rod_by_rod_);
    for (std::size_t i = 0; i < n; ++i) unknown_[i] = g * slopes_[i].by_liquid * r[at(i)];
    unknown_[0] += (g * slopes_[0].by_liquid * drawn_by_rod_ + slopes_[0].by_rod) * free * r[at(n)];
    matrix_.solve(unknown_);
    k = g * r;
    for (const Link& l : links_) {
        const double q = g * l.conductance * (unknown_[l.up] - unknown_[l.down]);
        k[at(l.up)] -= q;
        k[at(l.down)] += q;
    }
    k[at(n)] = free * (r[at(n)] + rod_by_pressure_ * unknown_[0]);
    const double out = g * screw_conductance_ * unknown_[screw_],
                 in = g * drawn_by_pressure_ * unknown_[0] + g * drawn_by_rod_ * k[at(n)];
    k[at(screw_)] -= out;
    k[at(n + 1)] += out;
    k[0] += in;
    k[at(n + 2)] += in;
}

double TreeCircuit::error(const Eigen::VectorXd& e, const Eigen::VectorXd&) const {
    const std::size_t n = nodes_.size();
    double worst = std::abs(e[at(n)]) / 1e-2;
    for (std::size_t i = 0; i < n; ++i) {
        const double p = slopes_[i].by_liquid * e[at(i)] + slopes_[i].by_rod * e[at(n)];
        if (!std::isfinite(p)) return p;
        const double floor = nodes_[i].content >= cylinder ? least_volume : 0.0; // none for lumps, as in sim
        worst =
            std::max(worst, std::abs(p) / (base_pressure_[i] + atmosphere + floor * slopes_[i].by_liquid));
    }
    return worst / tolerance;
}

double TreeCircuit::held(const Eigen::VectorXd& y) const {
    return y.head(at(nodes())).sum() + y[at(nodes() + 1)] - y[at(nodes() + 2)];
}

std::vector<double> TreeCircuit::pockets(const Eigen::VectorXd& y) {
    see_pressures(y.data());
    std::vector<double> out(pockets_, 0.0);
    for (std::size_t i = 0; i < nodes_.size(); ++i)
        if (nodes_[i].pocket >= 0)
            out[static_cast<std::size_t>(nodes_[i].pocket)] += nodes_[i].gas * atmosphere / pressure_[i];
    return out;
}

} // namespace clearstroke::bench
