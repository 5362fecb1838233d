#include "analysis/diagnosis_bank.hpp"

#include <algorithm>
#include <cmath>
#include <map>
#include <stdexcept>

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

AmountReadings readings_at(const std::vector<Sample>& samples, std::span<const Reading> readings,
                           const Suspect& suspect, double amount) {
    const auto width = static_cast<Eigen::Index>(readings.size());
    Eigen::MatrixXd rows(static_cast<Eigen::Index>(samples.size()), width);
    Eigen::Index n = 0;
    for (const Sample& s : samples) {
        if (!s.base) continue;
        PedalModel model = s.base->model;
        afflict(model, suspect, amount);
        const std::vector<double> row = read_pedal(model, readings, s.clamps, s.hand);
        rows.row(n++) = Eigen::Map<const Eigen::RowVectorXd>(row.data(), width);
    }
    const auto used = rows.topRows(n);
    AmountReadings out;
    out.amount = amount;
    out.mean = used.colwise().mean().transpose();
    const Eigen::MatrixXd centred = used.rowwise() - out.mean.transpose();
    // The inverse of a sampled covariance is too large by (n - 1) / (n - k - 2) on average (hartlap2007).
    const double freedom = std::max(static_cast<double>(n - width - 2), 1.0);
    out.covariance = centred.transpose() * centred / freedom;
    return out;
}

std::vector<double> amounts(const Suspect& suspect, std::size_t count) {
    const AmountRange range = amounts_of(suspect.cause);
    if (range.high <= 0.0) return {0.0};
    const bool air = suspect.cause == Cause::air || suspect.cause == Cause::air_entry;
    std::vector<double> out;
    for (std::size_t i = 0; i < count; ++i) {
        const double share = static_cast<double>(i) / static_cast<double>(count - 1);
        const double amount = range.low * std::pow(range.high / range.low, share);
        if (!air || amount <= suspect.room) out.push_back(amount);
    }
    return out;
}

} // namespace

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
    bank.of_suspect.resize(bank.suspects.size());
    tbb::parallel_for(std::size_t{0}, bank.suspects.size(), [&](std::size_t h) {
        for (const double amount : amounts(bank.suspects[h], settings.amounts))
            bank.of_suspect[h].push_back(readings_at(samples, bank.readings, bank.suspects[h], amount));
    });
    return bank;
}

} // namespace clearstroke
