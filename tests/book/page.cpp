#include "tests/book/page.hpp"

#include <algorithm>
#include <array>
#include <regex>
#include <sstream>

namespace clearstroke::book {
namespace {

struct Chapter {
    const char *suite, *title;
};
constexpr std::array chapters{
    Chapter{"Fluids", "Fluids"},
    Chapter{"Air", "Air"},
    Chapter{"FlowOfLiquid", "Flow of liquid"},
    Chapter{"LongBubbles", "Long bubbles in lines"},
    Chapter{"SmallBubbles", "Small bubbles"},
    Chapter{"Drawdown", "Does an opening draw gas"},
    Chapter{"Cavities", "Shape of cavities"},
    Chapter{"Compression", "Compression"},
    Chapter{"ElasticParts", "Elastic parts and waves"},
    Chapter{"Cylinders", "Cylinders and pistons"},
    Chapter{"WholeJob", "Whole jobs with an exact answer"},
    Chapter{"Integrator", "Integrator"},
    Chapter{"Trade", "Facts of the trade"},
    Chapter{"Acceptance", "Rules of acceptance"},
};

struct GradeText {
    Grade grade;
    const char *name, *means;
};
constexpr std::array grades{
    GradeText{Grade::exact, "exact",
              "mathematics of the stated equations, found another way than the program finds it"},
    GradeText{Grade::verified, "verified in the text", "the number was seen in the text or abstract named"},
    GradeText{Grade::secondary, "secondary", "quoted by another text"},
    GradeText{Grade::memory, "from memory", "nothing retrieved: checks our typing, not the law"},
    GradeText{Grade::practice, "common practice", "plausibility"},
    GradeText{Grade::derived, "derived", "worked out by ourselves: regression, no validation"},
};

const char* name_of(Grade g) {
    return grades[std::size_t(std::ranges::find(grades, g, &GradeText::grade) - grades.begin())].name;
}

std::string sign_of(Relation r) { return r == Relation::equals ? "" : r == Relation::at_most ? "≤ " : "≥ "; }

/// Difference as far as it can be told: below a hundredth of the tolerance only that.
std::string difference(const Check& c) {
    const double d = c.computed - c.expected;
    if (c.relation == Relation::equals && std::abs(d) < 0.01 * c.tolerance)
        return "< " + number(0.01 * c.tolerance, 1);
    return number(d, 2);
}

/// Digits of ours that the tolerance makes worth printing.
int digits_of(const Check& c) {
    if (c.relation != Relation::equals || c.computed == 0.0) return 3;
    return std::clamp(int(std::ceil(std::log10(std::abs(c.computed) / (0.1 * c.tolerance)))), 2, 6);
}

constexpr std::size_t ours = 4, apart = 5; // cells of a row that may move a little

std::vector<std::string> cells(const Check& c) {
    return {c.what,
            (c.source.empty() ? "" : c.source + ", ") + c.place,
            name_of(c.grade),
            sign_of(c.relation) + number(c.expected, 6),
            number(c.computed, digits_of(c)),
            difference(c),
            c.unit,
            (c.tolerance == 0.0 ? "" : number(c.tolerance, 2) + ": ") + c.reason};
}

std::string row(const std::vector<std::string>& cells) {
    std::string out = "|";
    for (const std::string& cell : cells) out += " " + cell + " |";
    return out;
}

std::vector<std::string> split_row(const std::string& line) {
    std::vector<std::string> out;
    for (std::size_t at = 2; at < line.size();) {
        const std::size_t end = std::min(line.find(" |", at), line.size());
        out.push_back(line.substr(at, end - at));
        at = end + 3;
    }
    return out;
}

bool row_is_current(const Check& c, const std::string& line) {
    std::vector<std::string> now = cells(c), then = split_row(line);
    if (then.size() != now.size()) return false;
    std::istringstream in(then[ours]);
    double before = 0.0;
    if (!(in >> before)) return false;
    const double slack = c.relation == Relation::equals ? 0.1 * c.tolerance : 0.2 * std::abs(c.expected);
    const double rounding = 0.6 * std::pow(10.0, 1 - digits_of(c)) * std::abs(c.computed);
    if (std::abs(before - c.computed) > slack + rounding) return false;
    now[ours] = then[ours];
    now[apart] = then[apart];
    return now == then;
}

std::vector<const Check*> in_chapter(const std::vector<Check>& checks, const char* suite) {
    std::vector<const Check*> out;
    for (const Check& c : checks)
        if (c.chapter == suite) out.push_back(&c);
    return out;
}

/// Every line of the page, with the check it tells where it tells one.
std::vector<std::pair<std::string, const Check*>> lay_out(const std::vector<Check>& checks) {
    std::vector<std::pair<std::string, const Check*>> out;
    const auto line = [&](const std::string& text, const Check* c = nullptr) { out.emplace_back(text, c); };
    line("# Verification book");
    line("");
    line("Written by the tests (target `verification_book`), never by hand; the test `book.page_is_current` "
         "fails when it is stale.");
    line("Every row is asserted on every run. Sources by key: [references.bib](references.bib). What follows "
         "from all this, and what");
    line("does not: [validity](validity.md).");
    line("");
    line(std::to_string(checks.size()) + " checks:");
    line("");
    line("| grade | checks | means |");
    line("|---|---|---|");
    for (const GradeText& g : grades) line(row({g.name, std::to_string(count(checks, {g.grade})), g.means}));
    for (const Chapter& chapter : chapters) {
        const auto rows = in_chapter(checks, chapter.suite);
        if (rows.empty()) continue;
        line("");
        line("## " + std::string(chapter.title));
        line("");
        line("| what | source, place | grade | expected | computed | difference | unit | tolerance, because "
             "|");
        line("|---|---|---|---|---|---|---|---|");
        for (const Check* c : rows) line(row(cells(*c)), c);
    }
    return out;
}

} // namespace

std::string number(double value, int digits) {
    std::ostringstream out;
    out.precision(digits);
    out << value;
    return out.str();
}

std::size_t count(const std::vector<Check>& checks, std::initializer_list<Grade> wanted) {
    return std::size_t(std::ranges::count_if(
        checks, [&](const Check& c) { return std::ranges::find(wanted, c.grade) != wanted.end(); }));
}

std::vector<std::string> page_lines(const std::vector<Check>& checks) {
    std::vector<std::string> out;
    for (auto& [text, c] : lay_out(checks)) out.push_back(std::move(text));
    return out;
}

std::vector<std::string> stale_lines(const std::vector<Check>& checks, const std::vector<std::string>& page) {
    std::vector<std::string> out;
    const auto wanted = lay_out(checks);
    for (std::size_t i = 0; i < std::max(wanted.size(), page.size()); ++i) {
        const std::string now = i < wanted.size() ? wanted[i].first : "",
                          then = i < page.size() ? page[i] : "";
        if (now == then || (i < wanted.size() && wanted[i].second && row_is_current(*wanted[i].second, then)))
            continue;
        out.push_back("line " + std::to_string(i + 1) + "\n  page: " + then + "\n  now:  " + now);
    }
    return out;
}

std::vector<std::string> faults(const std::vector<Check>& checks, const std::set<std::string>& sources) {
    std::vector<std::string> out;
    std::set<std::string> told;
    for (const Check& c : checks) {
        const auto fault = [&](const std::string& what) {
            out.push_back(c.chapter + ": " + c.what + ": " + what);
        };
        if (std::ranges::none_of(chapters,
                                 [&](const Chapter& chapter) { return c.chapter == chapter.suite; }))
            fault("no such chapter");
        const bool needs_source =
            c.grade == Grade::verified || c.grade == Grade::secondary || c.grade == Grade::memory;
        if (c.source.empty() ? needs_source : !sources.contains(c.source))
            fault("source '" + c.source + "' is not in the bibliography");
        if (c.place.empty() || c.reason.empty() || c.unit.empty()) fault("place, unit or reason missing");
        if (!std::isfinite(c.expected) || !std::isfinite(c.computed) || !(c.tolerance >= 0.0))
            fault("not finite");
        if (!told.insert(c.chapter + c.source + c.what).second) fault("told twice");
        if (std::ranges::count(row(cells(c)), '|') != 9) fault("holds a bar");
    }
    if (checks.size() < least_checks) out.push_back("fewer than " + std::to_string(least_checks) + " checks");
    if (count(checks, {Grade::exact, Grade::verified}) < least_firm_checks)
        out.push_back("fewer than " + std::to_string(least_firm_checks) + " exact or verified checks");
    return out;
}

std::set<std::string> keys_of(const std::string& bibliography) {
    std::set<std::string> out;
    const std::regex entry("@\\w+\\{([^,\\s]+),");
    for (std::sregex_iterator at(bibliography.begin(), bibliography.end(), entry), end; at != end; ++at)
        out.insert((*at)[1]);
    return out;
}

} // namespace clearstroke::book
