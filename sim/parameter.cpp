#include "sim/parameter.hpp"

namespace clearstroke {

std::string_view name_of(SourceGrade g) {
    switch (g) {
    case SourceGrade::stated:
        return "stated";
    case SourceGrade::published:
        return "published";
    case SourceGrade::secondary:
        return "secondary";
    case SourceGrade::from_memory:
        return "from memory";
    case SourceGrade::common_practice:
        return "common practice";
    case SourceGrade::derived:
        return "derived";
    }
    return "";
}

std::vector<double> usual_values(const CaseFactory& factory) {
    std::vector<double> out;
    out.reserve(factory.parameters.size());
    for (const Parameter& p : factory.parameters) out.push_back(p.usual);
    return out;
}

} // namespace clearstroke
