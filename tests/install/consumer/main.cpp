// A program of someone else, against the installed library: a 1 mm^3/MPa housing at 2 MPa holds 2 mm^3 more.
#include "models/elastic.hpp"

#include <cmath>

int main() {
    const clearstroke::ElasticLaw housing{.compliance = 1e-15}; // [m^3/Pa]
    const double more = clearstroke::elastic_volume(housing, 2e6, 0.0).volume;
    return std::abs(more - 2e-9) < 1e-15 ? 0 : 1;
}
