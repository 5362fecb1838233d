#include "models/constants.hpp"
#include "models/long_bubble.hpp"
#include "tests/published/check.hpp"

namespace clearstroke::published {

std::vector<PublishedCheck> checks_wall_film() {
    const Liquid liquid{1060.0, 18.2e-6, 19.3e-3, 0, 0, 0.035, 0};
    const double capillary_length = std::sqrt(0.035 / (1060.0 * standard_gravity));
    return {
        {"largest radius without rise over the capillary length", "lamstaes2017", "abstract",
         "verified in the text", "-", 0.918, no_rise_bore(liquid, 0.0) / 2.0 / capillary_length, 5e-4,
         "last digit printed"},
        {"film thickness over Ca^(2/3), thin film", "aussillous2000", "eq. for h/r", "from memory", "-", 1.34,
         film_thickness_ratio(1e-9) / 1e-6, 1e-4, "limit approached to 1e-5"},
        {"share of liquid left on the wall at the cap", "taylor1961", "large Ca", "from memory", "-", 0.575,
         1.0 - 1.0 / run_ahead(100.0), 0.025, "the measurements level off between 0.55 and 0.60"},
    };
}

TEST(Published, WallFilm) { expect_all(checks_wall_film()); }

} // namespace clearstroke::published
