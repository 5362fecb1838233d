#include <algorithm>
#include <cmath>
#include <numbers>
#include <sstream>

#include <boost/math/special_functions/erf.hpp>

#include "scenarios/io/quantity.hpp"
#include "scenarios/study_file.hpp"

namespace clearstroke {
namespace {

// Number with the share `u` of the distribution below it.
double number_at(const StudyDraw& draw, double u) {
    const std::vector<double>& n = draw.numbers;
    switch (draw.kind) {
    case StudyDraw::Kind::log_uniform:
        return n[0] * std::pow(n[1] / n[0], u);
    case StudyDraw::Kind::triangular: {
        const double width = n[2] - n[0], at_mode = width > 0.0 ? (n[1] - n[0]) / width : 0.0;
        return u < at_mode ? n[0] + std::sqrt(u * width * (n[1] - n[0]))
                           : n[2] - std::sqrt((1.0 - u) * width * (n[2] - n[1]));
    }
    case StudyDraw::Kind::normal:
        return n[0] + n[1] * std::numbers::sqrt2 * boost::math::erf_inv(2.0 * u - 1.0);
    default:
        return n[0] + u * (n[1] - n[0]);
    }
}

} // namespace

KeyValue value_at(const StudyDraw& draw, double u) {
    if (draw.kind != StudyDraw::Kind::one_of) {
        const double x = number_at(draw, u);
        return {exact(x, draw.key.unit), x, ""};
    }
    double below = 0.0;
    for (std::size_t i = 0; i + 1 < draw.values.size(); ++i) {
        below += draw.weights[i];
        if (u < below) return draw.values[i];
    }
    return draw.values.back();
}

std::string override_of(const std::string& path, const std::string& written) {
    std::string out;
    std::istringstream stream(path);
    for (std::string name; std::getline(stream, name, '.');) {
        const bool bare = std::ranges::all_of(
            name, [](char c) { return std::isalnum(static_cast<unsigned char>(c)) || c == '_' || c == '-'; });
        out += (out.empty() ? "" : ".") + (bare ? name : '"' + name + '"');
    }
    return out + "=" + written;
}

} // namespace clearstroke
