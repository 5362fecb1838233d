#pragma once
/// Quadrature, root and minimum by the plainest means, to check closed forms against.
#include <sstream>
#include <string>

namespace clearstroke {

/// Simpson's rule over [a, b] with 2000 panels.
template <class F> double integral(double a, double b, F f) {
    constexpr int n = 2000;
    const double h = (b - a) / n;
    double sum = f(a) + f(b);
    for (int i = 1; i < n; ++i) sum += (i % 2 ? 4.0 : 2.0) * f(a + i * h);
    return sum * h / 3.0;
}

/// Root of a rising function in [a, b] by bisection.
template <class F> double root(double a, double b, F f) {
    for (int i = 0; i < 200; ++i) {
        const double middle = 0.5 * (a + b);
        (f(middle) < 0.0 ? a : b) = middle;
    }
    return 0.5 * (a + b);
}

/// Least value of a function with one minimum in [a, b], by thirds.
template <class F> double minimum(double a, double b, F f) {
    for (int i = 0; i < 300; ++i) {
        const double left = a + (b - a) / 3.0, right = b - (b - a) / 3.0;
        (f(left) < f(right) ? b : a) = f(left) < f(right) ? right : left;
    }
    return f(0.5 * (a + b));
}

inline std::string number_text(double x) {
    std::ostringstream out;
    out << x;
    return out.str();
}

} // namespace clearstroke
