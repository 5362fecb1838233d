#include "tests/published/check.hpp"

namespace clearstroke::published {

std::vector<PublishedCheck> all_checks() {
    std::vector<PublishedCheck> all;
    for (const auto& collect :
         {checks_astmd341, checks_bretherton1961, checks_cfr571_106, checks_cfr571_116, checks_clift1978,
          checks_fluid_standards, checks_friction_factors, checks_inviscid_bubbles, checks_lemmon2004,
          checks_merritt1967, checks_offtakes, checks_openstax2012, checks_viana2003, checks_wall_film,
          checks_white2011}) {
        for (PublishedCheck& check : collect()) all.push_back(std::move(check));
    }
    return all;
}

} // namespace clearstroke::published
