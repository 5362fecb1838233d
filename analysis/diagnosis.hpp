#pragma once
/// Weighs what can be wrong with a pedal against what was read at it.
///
/// Every cause is as likely as any other before the readings, places of one cause share its chance (ours).
/// Suspects that the readings given cannot tell apart form one set: for readings drawn under each suspect,
/// O(A, B) is the chance they give to the other set over the chance they give to their own, and sets are
/// joined, the most alike first, while O > 1/2 (ours).
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

/// Readings of a bank that were taken, and the variance of taking them.
struct Taken {
    std::vector<std::size_t> readings; ///< indices into the bank's, in its order
    std::vector<double> error;         ///< standard deviation of each
};

/// The bank reduced to what was taken: one Gaussian per suspect and amount.
class Likelihood {
public:
    Likelihood(const DiagnosisBank&, const Taken&);

    struct Component {
        std::size_t suspect{};
        double amount{}, weight{}; ///< prior weight; all add up to one
        Eigen::VectorXd mean;
        Eigen::MatrixXd spread, whiten; ///< L and its inverse, L L^T = C + R
        double log_norm{};
    };
    [[nodiscard]] const std::vector<Component>& components() const { return components_; }
    /// Posterior weight of every component; they add up to one.
    [[nodiscard]] std::vector<double> weigh(const Eigen::VectorXd& values, const Seen&) const;
    /// Least squared distance of the values from any component, in standard deviations.
    [[nodiscard]] double misfit(const Eigen::VectorXd& values) const;
    [[nodiscard]] std::size_t suspects() const { return causes_.size(); }
    [[nodiscard]] Cause cause(std::size_t suspect) const { return causes_[suspect]; }
    /// Sums of component weights by suspect.
    [[nodiscard]] std::vector<double> by_suspect(const std::vector<double>& weights) const;

private:
    std::vector<Component> components_;
    std::vector<Cause> causes_;
};

/// Suspects that cannot be told apart, and how much the readings can tell in all.
struct Separation {
    std::vector<std::vector<std::size_t>> sets;
    double
        information{}; ///< share of the uncertainty about the set that the readings take away, expected [-]
};
[[nodiscard]] Separation separate(const DiagnosisBank&, const Likelihood&, const Seen&);

struct WeighedSet {
    std::vector<std::size_t> suspects;
    double probability{};
};

enum class Finding { told, no_fault, cannot_tell, none_fits };

struct Diagnosis {
    Finding finding{};
    std::vector<WeighedSet> sets; ///< most probable first
    std::vector<double> suspect_probability;
    double air_probability{}, danger_probability{};
    std::optional<std::array<double, 3>> air; ///< 5 %, 50 %, 95 % of the free air, given that it is air [m^3]
    /// Of each reading taken, from all the others under the most probable set: mean and standard deviation.
    std::vector<double> predicted, predicted_error;
    double information{};
};

/// Reads `values`, in the order of the likelihood's readings.
[[nodiscard]] Diagnosis diagnose(const DiagnosisBank&, const Likelihood&, const Separation&,
                                 const Eigen::VectorXd& values, const Seen&);

} // namespace clearstroke
