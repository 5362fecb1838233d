#include "models/constants.hpp"
#include "models/long_bubble.hpp"
#include "tests/book/check.hpp"

namespace clearstroke {

using namespace book;

TEST(LongBubbles, WallFilm) {
    const Liquid liquid{1060.0, 18.2e-6, 19.3e-3, 0, 0, 0.035, 0};
    const double capillary_length = std::sqrt(0.035 / (1060.0 * standard_gravity));
    check_all({
        {"largest radius without rise over the capillary length", "lamstaes2017", "abstract", Grade::verified,
         "-", 0.918, no_rise_bore(liquid, 0.0) / 2.0 / capillary_length, 5e-4, "last digit printed"},
        {"film thickness over Ca^(2/3), thin film", "aussillous2000", "eq. for h/r", Grade::memory, "-", 1.34,
         film_thickness_ratio(1e-9) / 1e-6, 1e-4, "limit approached to 1e-5"},
        {"share of liquid left on the wall at the cap", "taylor1961", "large Ca", Grade::memory, "-", 0.575,
         1.0 - 1.0 / run_ahead(100.0), 0.025, "the measurements level off between 0.55 and 0.60"},
    });
}

} // namespace clearstroke
