#include "models/constants.hpp"
#include "models/long_bubble.hpp"
#include "tests/book/check.hpp"

namespace clearstroke {

using namespace book;

// Two classical results for a long bubble in a wide vertical tube, where neither viscosity nor surface
// tension counts.
TEST(LongBubbles, InviscidRise) {
    const double bore = 40e-3;
    const Liquid water{998.0, 1e-6, 998e-6, 0, 0, 0.0728, 0};
    const double froude = bubble_rise_speed(bore, water, 0.0) / std::sqrt(standard_gravity * bore);
    const std::string reason = "5 %: the two theories differ by 7 %, the correlation lies between";
    const Grade grade = Grade::memory;
    check_all({
        {"Froude number of a long bubble, water in 40 mm", "dumitrescu1943", "result", grade, "-", 0.351,
         froude, 0.0176, reason},
        {"Froude number of a long bubble, water in 40 mm", "davies1950", "result", grade, "-", 0.328, froude,
         0.0164, reason},
    });
}

} // namespace clearstroke
