#pragma once
/// Which further test tells the leading causes apart best.
///
/// The expected fall of the entropy of the suspects' probabilities, over outcomes drawn from what the
/// readings so far leave possible [bit]:
///     I = H(p) - E[ H(p | outcome) ]                                                                  (W-4)
/// Source: ours; expected information of an experiment after lindley1956 [from memory].
#include <string>
#include <vector>

#include "analysis/diagnosis.hpp"

namespace clearstroke {

/// A test: readings of the bank that it takes (none: looking for bubbles or wetness), and their errors.
struct FurtherTest {
    std::string name;
    std::vector<std::size_t> readings;
    std::vector<double> error;
    bool bubbles{}, wet{};
    double information{}; ///< [bit]
};

/// The tests with their expected information, the best first.
[[nodiscard]] std::vector<FurtherTest> rank_tests(const DiagnosisBank&, const Taken&,
                                                  const Eigen::VectorXd& values, const Seen&,
                                                  std::vector<FurtherTest>);

} // namespace clearstroke
