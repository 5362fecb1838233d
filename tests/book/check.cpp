#include "tests/book/check.hpp"

#include <cstdlib>
#include <fstream>
#include <sstream>
#include <stdexcept>

namespace clearstroke::book {

bool holds(const Check& c) {
    switch (c.relation) {
    case Relation::equals:
        return std::abs(c.computed - c.expected) <= c.tolerance;
    case Relation::at_most:
        return c.computed <= c.expected + c.tolerance;
    case Relation::at_least:
        return c.computed >= c.expected - c.tolerance;
    }
    return false;
}

void check(Check c) {
    EXPECT_TRUE(holds(c)) << c.what << " (" << c.source << ", " << c.place << "): expected " << c.expected
                          << ", computed " << c.computed << ", tolerance " << c.tolerance << " " << c.unit;
    if (const char* file = std::getenv("CLEARSTROKE_BOOK")) {
        c.chapter = ::testing::UnitTest::GetInstance()->current_test_info()->test_suite_name();
        std::ofstream out(file, std::ios::app);
        write_record(out, c);
    }
}

void check_all(const std::vector<Check>& checks) {
    EXPECT_FALSE(checks.empty());
    for (const Check& c : checks) check(c);
}

void write_record(std::ostream& out, const Check& c) {
    std::ostringstream line;
    line.precision(17);
    line << c.chapter << '\t' << c.what << '\t' << c.source << '\t' << c.place << '\t' << int(c.grade) << '\t'
         << c.unit << '\t' << c.expected << '\t' << c.computed << '\t' << c.tolerance << '\t' << c.reason
         << '\t' << int(c.relation) << '\n';
    out << line.str();
}

std::vector<Check> read_records(std::istream& in) {
    std::vector<Check> out;
    for (std::string line; std::getline(in, line);) {
        std::vector<std::string> f;
        std::istringstream fields(line);
        for (std::string field; std::getline(fields, field, '\t');) f.push_back(field);
        if (f.size() != 11)
            throw std::runtime_error("record of " + std::to_string(f.size()) + " fields: " + line);
        out.push_back({f[1], f[2], f[3], Grade(std::stoi(f[4])), f[5], std::stod(f[6]), std::stod(f[7]),
                       std::stod(f[8]), f[9], Relation(std::stoi(f[10])), f[0]});
    }
    return out;
}

} // namespace clearstroke::book
