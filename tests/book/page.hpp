#pragma once
/// The checks as the page docs/verification.md, and whether a page still is what the checks say.
#include <set>

#include "tests/book/check.hpp"

namespace clearstroke::book {

/// Lines of the page.
[[nodiscard]] std::vector<std::string> page_lines(const std::vector<Check>&);

/// Complaints; none when the page is current. A number of ours may differ from the page by a tenth of the
/// tolerance (a fifth of a bound): other compilers and smaller steps round differently.
[[nodiscard]] std::vector<std::string> stale_lines(const std::vector<Check>&,
                                                   const std::vector<std::string>& page);

/// Complaints about what a record must have: a known chapter and source, a place, a reason, one telling only.
[[nodiscard]] std::vector<std::string> faults(const std::vector<Check>&,
                                              const std::set<std::string>& sources);

/// Keys of a BibTeX file.
[[nodiscard]] std::set<std::string> keys_of(const std::string& bibliography);

/// What is expected of the whole book: 80 checks, 30 of them exact or verified in the text.
inline constexpr std::size_t least_checks = 80, least_firm_checks = 30;
[[nodiscard]] std::size_t count(const std::vector<Check>&, std::initializer_list<Grade>);

/// A number with `digits` significant digits, as short as it can be said.
[[nodiscard]] std::string number(double value, int digits);

} // namespace clearstroke::book
