// A published value beside ours: collected per source, asserted by one test per source, printed in the
// verification book. Grades: how far the published number itself was verified.
#pragma once

#include <gtest/gtest.h>

#include <cmath>
#include <string>
#include <vector>

namespace clearstroke::published {

enum class Relation { equals, at_most, at_least };

struct PublishedCheck {
    std::string what;       ///< quantity and state
    std::string source_key; ///< key in docs/references.bib
    std::string place;      ///< table, equation, clause or section in it
    std::string grade;      ///< "verified in the text", "secondary", "from memory", "common practice"
    std::string unit;       ///< of the three numbers
    double published{};
    double computed{};
    double tolerance{}; ///< absolute, in the unit
    std::string reason; ///< of the tolerance
    Relation relation = Relation::equals;
};

[[nodiscard]] inline bool holds(const PublishedCheck& c) {
    switch (c.relation) {
    case Relation::equals:
        return std::abs(c.computed - c.published) <= c.tolerance;
    case Relation::at_most:
        return c.computed <= c.published + c.tolerance;
    case Relation::at_least:
        return c.computed >= c.published - c.tolerance;
    }
    return false;
}

inline void expect_all(const std::vector<PublishedCheck>& checks) {
    EXPECT_FALSE(checks.empty());
    for (const PublishedCheck& c : checks) {
        EXPECT_TRUE(holds(c)) << c.what << " (" << c.source_key << ", " << c.place << "): published "
                              << c.published << ", computed " << c.computed << ", tolerance " << c.tolerance
                              << " " << c.unit;
    }
}

// One function per source file.
std::vector<PublishedCheck> checks_astmd341();
std::vector<PublishedCheck> checks_bretherton1961();
std::vector<PublishedCheck> checks_cfr571_106();
std::vector<PublishedCheck> checks_cfr571_116();
std::vector<PublishedCheck> checks_clift1978();
std::vector<PublishedCheck> checks_fluid_standards();
std::vector<PublishedCheck> checks_friction_factors();
std::vector<PublishedCheck> checks_inviscid_bubbles();
std::vector<PublishedCheck> checks_lemmon2004();
std::vector<PublishedCheck> checks_merritt1967();
std::vector<PublishedCheck> checks_offtakes();
std::vector<PublishedCheck> checks_openstax2012();
std::vector<PublishedCheck> checks_viana2003();
std::vector<PublishedCheck> checks_wall_film();
std::vector<PublishedCheck> checks_white2011();

/// All of them, in the order above.
std::vector<PublishedCheck> all_checks();

} // namespace clearstroke::published
