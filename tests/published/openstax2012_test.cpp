#include "models/tube_flow.hpp"
#include "tests/book/check.hpp"

namespace clearstroke {

using namespace book;

TEST(FlowOfLiquid, OpenStax2012) {
    check_all({{"pressure over a needle (0.150 mm radius, 25 mm, 1.20e-7 m3/s, 1.005 mPa s)", "openstax2012",
                "ch. 12, example on laminar flow through a needle", Grade::memory, "Pa", 1.52e4,
                laminar_resistance(1.005e-3, 25e-3, 0.3e-3) * 1.2e-7, 0.005e4, "last digit printed"}});
}

} // namespace clearstroke
