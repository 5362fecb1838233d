#pragma once
/// Put into models/ of a mutated copy: the literal whose number CLEARSTROKE_MUTANT names is 5 % larger.
#include <cmath>
#include <cstdlib>

namespace clearstroke {

inline bool is_mutant(int number) {
    static const int chosen =
        std::getenv("CLEARSTROKE_MUTANT") ? std::atoi(std::getenv("CLEARSTROKE_MUTANT")) : 0;
    return number == chosen;
}

inline double mutated(int number, double literal) { return is_mutant(number) ? 1.05 * literal : literal; }

/// Square or cube root, its exponent 5 % larger.
inline double mutated_root(int number, double degree, double x) {
    if (is_mutant(number)) return std::copysign(std::pow(std::abs(x), 1.05 / degree), x);
    return degree == 2.0 ? std::sqrt(x) : std::cbrt(x);
}

/// x^degree, its exponent 5 % larger.
template <int degree> double mutated_power(int number, double x) {
    double out = x;
    for (int i = 1; i < degree; ++i) out *= x;
    return is_mutant(number) ? std::copysign(std::pow(std::abs(x), 1.05 * degree), out) : out;
}

} // namespace clearstroke
