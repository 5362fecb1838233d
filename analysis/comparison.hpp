#pragma once
/// Compares cases, each with its own order: files, methods or values.
#include <string>
#include <vector>

#include "analysis/evidence.hpp"
#include "analysis/plan_result.hpp"

namespace clearstroke {

struct Compared {
    std::string label;
    Case usual;
    PlanResult result;
};

/// Runs each case's own procedure. Results stand in the order given, whatever the number of threads.
[[nodiscard]] std::vector<Compared> compare_cases(std::vector<std::pair<std::string, Case>>, int threads = 0,
                                                  const Settings& = {});

/// Evidence on the own procedures of these scenarios, all on the same samples; the first is the rival.
[[nodiscard]] Evidence sample_scenarios(const std::vector<const CaseFactory*>&, const SampleRequest&,
                                        const Settings& = {});

/// The widest numerical tie of the own procedures of these scenarios at their usual values.
[[nodiscard]] TieWidth widest_tie(const std::vector<const CaseFactory*>&, Cost, int threads = 0,
                                  const Settings& = {});

/// "B takes 3 strokes more and leaves as much air as A; ...", each against the first.
[[nodiscard]] std::string comparison_sentence(const std::vector<Compared>&);

/// Runs a case's own procedure once, judged by itself.
[[nodiscard]] PlanResult judge_alone(const Case&, const PlanRun&);

} // namespace clearstroke
