#pragma once
/// What each suspect would make a person read, over the sampled parameters of a layout.
///
/// Parameters of the factory (bands), the person's speeds, the gas exponent and the force gauge are sampled
/// together (Sobol', the same points for every suspect). The pedals so drawn fall into four quarters, halved
/// twice at the median along the two directions in which the readings of the sound ones scatter most; at each
/// amount of a fault the readings of a quarter give a mean m and a covariance C. With R the variance of the
/// readings themselves, y the readings and the amounts equally likely in their logarithm,
///     p(y | suspect) = mean over amounts and quarters of N(y; m, C + R)                              (W-1)
/// between two amounts m and C are interpolated. Travels x are weighed as
///     z = log(1 + x / 5 mm),                                                                         (W-2)
/// since pedal ratio and bores, the widest bands, scale all of them alike; other readings as they are.
/// Source: ours; the Gaussian summary of a sampled likelihood is known as synthetic likelihood (wood2010)
/// [from memory].
#include <optional>
#include <span>
#include <vector>

#include <Eigen/Core>

#include "analysis/pedal_causes.hpp"
#include "analysis/pedal_readings.hpp"
#include "sim/parameter.hpp"

namespace clearstroke {

struct BankSettings {
    std::size_t samples{256}, amounts{12};
    double force_error{0.05}; ///< of a reading of the force gauge, standard deviation [-]
};

/// (W-2): a reading as it is weighed, back, and the slope dz/dx at z.
[[nodiscard]] double weighed(Reads, double value);
[[nodiscard]] double unweighed(Reads, double z);
[[nodiscard]] double weighed_slope(Reads, double z);

/// Readings of a group of pedals, as they are weighed.
struct ReadingSpread {
    Eigen::VectorXd mean;
    Eigen::MatrixXd covariance;
};

/// Readings under one amount of a fault, by group; groups are alike in number.
struct AmountReadings {
    double amount{};
    std::vector<ReadingSpread> groups;
};

struct DiagnosisBank {
    Network network; ///< at the usual values
    ActuatorId actuator;
    std::vector<Reading> readings;
    std::vector<Suspect> suspects;
    std::vector<std::vector<AmountReadings>> of_suspect;
    BankSettings settings;
};

/// A model full of liquid at these values of the factory's parameters.
struct FullModel {
    Network network;
    PedalModel model;
};
[[nodiscard]] FullModel full_model(const CaseFactory&, ActuatorId, std::span<const double> values);

/// A parameter's value at u in (0, 1): its usual value at 1/2, evenly to either end of its band; `stretch`
/// widens the band about the usual value. Parameters of a group share their u.
[[nodiscard]] std::vector<double> values_at(const CaseFactory&, std::span<const double> u,
                                            double stretch = 1.0);
/// How many numbers u that takes.
[[nodiscard]] std::size_t independent_values(const CaseFactory&);

/// A person's hand at u: three numbers and one per reading.
inline constexpr std::size_t hand_values = 3;
[[nodiscard]] Hand hand_at(std::span<const double> u, std::size_t readings, double force_error);

[[nodiscard]] DiagnosisBank make_bank(const CaseFactory&, ActuatorId, std::vector<Reading>,
                                      const BankSettings& = {});

} // namespace clearstroke
