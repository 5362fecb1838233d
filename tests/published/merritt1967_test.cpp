#include "models/annular_gap.hpp"
#include "models/restriction.hpp"
#include "tests/book/check.hpp"

namespace clearstroke {

using namespace book;

TEST(FlowOfLiquid, Merritt1967) {
    const std::string key = "merritt1967", place = "ch. 3";
    const Grade grade = Grade::memory;
    const AnnularGap centred{8e-3, 20e-6, 8e-3, 0.0}, touching{8e-3, 20e-6, 8e-3, 1.0};
    const double area = 1e-6, dp = 1e7, rho = 850.0;
    check_all({
        {"leak of a touching over a concentric annulus", key, place, grade, "-", 2.5,
         annular_gap_conductance(touching, 0.02) / annular_gap_conductance(centred, 0.02), 1e-12,
         "exact factor"},
        {"discharge coefficient of a sharp edge, default", key, place, grade, "-", 0.611,
         Restriction{}.discharge_coeff, 0.01, "theory pi/(pi + 2); values of 0.60 to 0.62 are in use"},
        {"orifice flow over A sqrt(2 dp/rho), Cd 0.61, no viscosity", key, place, grade, "-", 0.61,
         volume_flow(drop_law(area, 0.0, 1e-3, 0.61, rho, 1e-9), dp) / (area * std::sqrt(2.0 * dp / rho)),
         1e-6, "limit approached to 1e-7"},
    });
}

} // namespace clearstroke
