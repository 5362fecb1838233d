#pragma once
/// Weighs what can be wrong with a pedal against what was read at it.
///
/// Every cause is as likely as any other before the readings, places of one cause share its chance (ours).
/// Suspects that the readings given cannot tell apart form one set. Under every suspect left with a chance,
/// pedals with its fault, as large as the readings make it, are drawn and weighed like the one at hand:
/// M(A, B) is the share of those drawn under set A that give B more chance than A, and two sets are joined,
/// the worst told first, while
///     (M(A, B) + M(B, A)) / 2 > 1/10.                                                                (W-3)
/// Source: ours; one in ten as in the 90 % intervals.
#include <array>
#include <optional>
#include <string>
#include <vector>

#include "analysis/diagnosis_bank.hpp"

namespace clearstroke {

/// What was seen besides readings.
struct Seen {
    std::optional<Bubbles> bubbles;
    std::optional<bool> wet;
};

/// Readings of a bank that were taken, and the standard deviation of taking them.
struct Taken {
    std::vector<std::size_t> readings; ///< indices into the bank's, in its order
    std::vector<double> error;         ///< [m], [m^3]
};

/// The bank reduced to what was taken: Gaussians by suspect, amount and group of pedals. Values are as they
/// are weighed.
class Likelihood {
public:
    Likelihood(const DiagnosisBank&, const Taken&);

    struct Component {
        std::size_t suspect{};
        double amount{}, half_cell{}; ///< and half the step to the next amount, in its logarithm
        double weight{};              ///< prior; all add up to one
        Eigen::VectorXd mean;
        Eigen::MatrixXd spread, whiten; ///< L and L^-T, L L^T = C + R
        double log_norm{};              ///< log of weight / det L
    };
    [[nodiscard]] const std::vector<Component>& components() const { return components_; }
    /// Readings as they are weighed, (W-2).
    [[nodiscard]] Eigen::VectorXd on_scale(const Eigen::VectorXd& readings) const;
    [[nodiscard]] Reads kind(std::size_t reading) const { return kinds_[reading]; }
    /// Posterior weight of every component; they add up to one. `among`: suspects that count, all if empty.
    [[nodiscard]] std::vector<double> weigh(const Eigen::VectorXd& values, const Seen&,
                                            const std::vector<char>& among = {}) const;
    /// Least squared distance of the values from any component, in standard deviations.
    [[nodiscard]] double misfit(const Eigen::VectorXd& values) const;
    [[nodiscard]] std::size_t suspects() const { return causes_.size(); }
    [[nodiscard]] Cause cause(std::size_t suspect) const { return causes_[suspect]; }
    /// Sums of component weights by suspect.
    [[nodiscard]] std::vector<double> by_suspect(const std::vector<double>& weights) const;

private:
    void shape(Component&, const ReadingSpread&, const ReadingSpread&, double share, const Taken&) const;
    /// Squared, in standard deviations; beyond `most` only that it is beyond.
    static double distance(const Component&, const Eigen::VectorXd& values, double most);

    std::vector<Component> components_;
    std::vector<Cause> causes_;
    std::vector<Reads> kinds_;
};

struct WeighedSet {
    std::vector<std::size_t> suspects; ///< most probable first
    double probability{};
};

enum class Finding { told, no_fault, cannot_tell, none_fits };

struct Diagnosis {
    Finding finding{};
    std::vector<WeighedSet> sets; ///< most probable first
    std::vector<double> suspect_probability;
    std::array<double, causes_in_all> in_first{}; ///< probability of each cause within the first set
    double air_probability{}, danger_probability{};
    std::optional<std::array<double, 3>> air; ///< 5 %, 50 %, 95 % of the free air, given that it is air [m^3]
    /// Of each reading taken, from all the others under the most probable set: mean and standard deviation.
    std::vector<double> predicted, predicted_error;
};

/// Reads `readings`, in the order of the likelihood's.
[[nodiscard]] Diagnosis diagnose(const Likelihood&, const Eigen::VectorXd& readings, const Seen&);

/// The cause with the greatest probability in the first set.
[[nodiscard]] Cause leading_cause(const Diagnosis&);

/// Share of the uncertainty about the cause that such readings take away, expected before they are taken:
/// 1 - E[H(cause | readings)] / H(cause) [-]; `asked`: what is looked at besides.
[[nodiscard]] double expected_information(const Likelihood&, const Seen& asked);

/// -sum p log2 p [bit].
[[nodiscard]] double entropy(const std::vector<double>& p);

} // namespace clearstroke
