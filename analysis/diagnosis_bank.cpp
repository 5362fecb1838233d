#include "analysis/diagnosis_bank.hpp"

#include <algorithm>
#include <cmath>
#include <map>
#include <numeric>
#include <stdexcept>

#include <Eigen/Eigenvalues>
#include <boost/math/distributions/normal.hpp>
#include <boost/random/sobol.hpp>
#include <tbb/parallel_for.h>

namespace clearstroke {
namespace {

/// Column of u that each parameter takes; parameters without a band take none.
std::vector<std::optional<std::size_t>> columns_of(const CaseFactory& factory) {
    std::map<std::string, std::size_t> of_group;
    std::vector<std::optional<std::size_t>> out;
    std::size_t next = 0;
    for (const Parameter& p : factory.parameters) {
        if (!(p.low < p.high)) {
            out.emplace_back();
        } else if (p.group.empty()) {
            out.emplace_back(next++);
        } else {
            const auto [at, is_new] = of_group.emplace(p.group, next);
            if (is_new) ++next;
            out.emplace_back(at->second);
        }
    }
    return out;
}

/// Sobol' points in (0, 1), one per row.
std::vector<std::vector<double>> sobol_points(std::size_t count, std::size_t dimensions) {
    boost::random::sobol engine(dimensions);
    std::vector<std::vector<double>> out(count, std::vector<double>(dimensions));
    for (auto& point : out)
        for (double& u : point) u = (static_cast<double>(engine()) + 0.5) * 0x1p-64;
    return out;
}

/// Everything that one sample fixes.
struct Sample {
    std::optional<FullModel> base; ///< none: the factory refuses these values
    Hand hand;
    std::vector<ShutOff> clamps;
};

Sample sample_at(const CaseFactory& factory, ActuatorId actuator, std::span<const Reading> readings,
                 std::span<const double> u, double force_error) {
    Sample out;
    const std::size_t parameters = independent_values(factory);
    out.hand = hand_at(u.subspan(parameters), readings.size(), force_error);
    try {
        out.base = full_model(factory, actuator, values_at(factory, u.first(parameters)));
    } catch (const std::invalid_argument&) {
        return out;
    }
    out.clamps = clamps_of(readings, out.base->network, out.base->model);
    return out;
}

/// Readings as they are weighed, one pedal per row.
Eigen::MatrixXd rows_at(const std::vector<Sample>& samples, std::span<const Reading> readings,
                        const Suspect& suspect, double amount) {
    Eigen::MatrixXd rows(static_cast<Eigen::Index>(samples.size()),
                         static_cast<Eigen::Index>(readings.size()));
    for (std::size_t n = 0; n < samples.size(); ++n) {
        const Sample& s = samples[n];
        PedalModel model = s.base->model;
        afflict(model, suspect, amount);
        const std::vector<double> row = read_pedal(model, readings, s.clamps, s.hand);
        for (std::size_t i = 0; i < row.size(); ++i)
            rows(static_cast<Eigen::Index>(n), static_cast<Eigen::Index>(i)) =
                weighed(readings[i].what, row[i]);
    }
    return rows;
}

using Groups = std::vector<std::vector<Eigen::Index>>;

/// Rows halved twice, while a half keeps enough for its covariance.
Groups groups_of(const Eigen::MatrixXd& rows) {
    constexpr Eigen::Index enough = 4, halvings = 2; // rows per reading
    Eigen::MatrixXd scatter = rows.rowwise() - rows.colwise().mean();
    for (auto column : scatter.colwise()) column /= std::max(column.norm(), 1e-9);
    const Eigen::MatrixXd directions =
        Eigen::SelfAdjointEigenSolver<Eigen::MatrixXd>(scatter.transpose() * scatter).eigenvectors();
    Groups groups(1, std::vector<Eigen::Index>(static_cast<std::size_t>(rows.rows())));
    std::iota(groups[0].begin(), groups[0].end(), 0);
    for (Eigen::Index d = 1; d <= std::min(halvings, rows.cols()); ++d) {
        if ((rows.rows() >> d) < enough * rows.cols()) break;
        const Eigen::VectorXd along = scatter * directions.col(rows.cols() - d);
        Groups halves;
        for (auto& group : groups) {
            std::ranges::stable_sort(group, {}, [&](Eigen::Index n) { return along[n]; });
            const auto middle = group.begin() + static_cast<std::ptrdiff_t>(group.size() / 2);
            halves.emplace_back(group.begin(), middle);
            halves.emplace_back(middle, group.end());
        }
        groups = std::move(halves);
    }
    return groups;
}

ReadingSpread spread_of(const Eigen::MatrixXd& rows) {
    const Eigen::VectorXd mean = rows.colwise().mean().transpose();
    const Eigen::MatrixXd centred = rows.rowwise() - mean.transpose();
    // The inverse of a sampled covariance is too large by (n - 1) / (n - k - 2) on average (hartlap2007).
    const double freedom = std::max(static_cast<double>(rows.rows() - rows.cols() - 2), 1.0);
    return {mean, centred.transpose() * centred / freedom};
}

std::vector<double> amounts(const Suspect& suspect, std::size_t count) {
    const AmountRange range = amounts_in(suspect);
    if (range.high <= 0.0) return {0.0};
    std::vector<double> out;
    for (std::size_t i = 0; i < count; ++i)
        out.push_back(range.low * std::pow(range.high / range.low,
                                           static_cast<double>(i) / static_cast<double>(count - 1)));
    return out;
}

constexpr double travel_scale = 5e-3; // of (W-2) [m]

bool is_travel(Reads what) { return what != Reads::sink && what != Reads::lost && what != Reads::engine; }

} // namespace

double weighed(Reads what, double value) {
    return is_travel(what) ? std::log1p(std::max(value, 0.0) / travel_scale) : value;
}

double unweighed(Reads what, double z) { return is_travel(what) ? travel_scale * std::expm1(z) : z; }

double weighed_slope(Reads what, double z) { return is_travel(what) ? std::exp(-z) / travel_scale : 1.0; }

std::size_t independent_values(const CaseFactory& factory) {
    std::size_t count = 0;
    for (const auto& column : columns_of(factory))
        if (column) count = std::max(count, *column + 1);
    return count;
}

std::vector<double> values_at(const CaseFactory& factory, std::span<const double> u, double stretch) {
    const auto columns = columns_of(factory);
    std::vector<double> out;
    for (std::size_t i = 0; i < columns.size(); ++i) {
        const Parameter& p = factory.parameters[i];
        const double side = columns[i] ? 2.0 * u[*columns[i]] - 1.0 : 0.0;
        const double value = p.usual + stretch * side * (side < 0.0 ? p.usual - p.low : p.high - p.usual);
        const bool sign_kept = p.low >= 0.0 && stretch > 1.0;
        out.push_back(sign_kept ? std::max(value, 0.25 * p.low) : value);
    }
    return out;
}

Hand hand_at(std::span<const double> u, std::size_t readings, double force_error) {
    Hand out;
    out.quick_push = 0.15 + 0.25 * u[0];
    out.quick_return = 0.25 + 0.35 * u[1];
    out.gas_exponent = slow_gas + (quick_gas - slow_gas) * u[2];
    const boost::math::normal normal;
    for (std::size_t i = 0; i < readings; ++i)
        out.force_error.push_back(std::max(force_error * quantile(normal, u[hand_values + i]), -0.5));
    return out;
}

FullModel full_model(const CaseFactory& factory, ActuatorId actuator, std::span<const double> values) {
    Case c = factory.make(values);
    const Simulation sim(c.network);
    const Contents empty{std::vector<double>(c.network.volumes.size(), 0.0),
                         std::vector<std::vector<GasStretch>>(c.network.lines.size()), 1.0, 1.0};
    PedalModel model = make_pedal_model(sim, sim.start(empty), actuator);
    return {std::move(c.network), std::move(model)};
}

DiagnosisBank make_bank(const CaseFactory& factory, ActuatorId actuator, std::vector<Reading> readings,
                        const BankSettings& settings) {
    FullModel usual = full_model(factory, actuator, usual_values(factory));
    DiagnosisBank bank{std::move(usual.network), actuator, std::move(readings), {}, {}, settings};
    bank.suspects = suspects_of(bank.network, usual.model);
    const auto points =
        sobol_points(settings.samples, independent_values(factory) + hand_values + bank.readings.size());
    std::vector<Sample> samples(points.size());
    tbb::parallel_for(std::size_t{0}, points.size(), [&](std::size_t i) {
        samples[i] = sample_at(factory, actuator, bank.readings, points[i], settings.force_error);
    });
    std::erase_if(samples, [](const Sample& s) { return !s.base; });
    const Groups groups = groups_of(rows_at(samples, bank.readings, bank.suspects.front(), 0.0));
    bank.of_suspect.resize(bank.suspects.size());
    tbb::parallel_for(std::size_t{0}, bank.suspects.size(), [&](std::size_t h) {
        for (const double amount : amounts(bank.suspects[h], settings.amounts)) {
            const Eigen::MatrixXd rows = rows_at(samples, bank.readings, bank.suspects[h], amount);
            AmountReadings at{amount, {}};
            for (const auto& group : groups) at.groups.push_back(spread_of(rows(group, Eigen::all)));
            bank.of_suspect[h].push_back(std::move(at));
        }
    });
    return bank;
}

} // namespace clearstroke
