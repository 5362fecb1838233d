#pragma once
/// A published, exact or practice value beside ours: asserted at once and kept for docs/verification.md.
///
/// The suite of the test is the chapter of the book (page.cpp lists them). Where the variable
/// CLEARSTROKE_BOOK names a file, every check of the program is appended to it, in order.
#include <gtest/gtest.h>

#include <cmath>
#include <initializer_list>
#include <iosfwd>
#include <string>
#include <vector>

namespace clearstroke::book {

/// How far the expected number was seen.
enum class Grade {
    exact,     ///< follows from the equations by mathematics, computed another way than the code does
    verified,  ///< seen in the text that `source` names
    secondary, ///< quoted in another text
    memory,    ///< from memory
    practice,  ///< common practice: plausibility
    derived,   ///< worked out by ourselves from the rows above: regression
};

enum class Relation { equals, at_most, at_least };

struct Check {
    std::string what;   ///< quantity and state
    std::string source; ///< key in docs/references.bib; empty for exact, practice and derived values
    std::string place;  ///< clause, table or equation there; for exact values how they are found
    Grade grade{};
    std::string unit; ///< of the next three
    double expected{}, computed{};
    double tolerance{}; ///< absolute
    std::string reason; ///< of the tolerance
    Relation relation{Relation::equals};
    std::string chapter{}; ///< suite of the test, filled in by `check`
};

[[nodiscard]] bool holds(const Check&);

/// Asserts that a check holds, and records it.
void check(Check);
void check_all(const std::vector<Check>&);

/// One line of a record file.
void write_record(std::ostream&, const Check&);
[[nodiscard]] std::vector<Check> read_records(std::istream&);

} // namespace clearstroke::book
