#include "models/hose.hpp"
#include "tests/book/check.hpp"

namespace clearstroke {

using namespace book;

// Legal maxima of the swelling of a brake hose, cc/ft; the layout of the table was seen, its cells are from
// memory.
TEST(ElasticParts, Cfr571_106) {
    struct Row {
        const char* hose;
        double bore; // [m]
        bool low;
        double at_1000, at_1500, at_2900; // 0: not recalled
    };
    std::vector<Check> checks;
    for (const Row& r : {Row{"1/8 in or less, regular", 3.0e-3, false, 0.66, 0.79, 1.21},
                         Row{"1/8 in or less, low", 3.0e-3, true, 0.33, 0.42, 0.61},
                         Row{"to 3/16 in, regular", 4.5e-3, false, 0.86, 1.02, 1.67},
                         Row{"to 3/16 in, low", 4.5e-3, true, 0.55, 0.72, 0.91},
                         Row{"over 3/16 in, regular", 6.35e-3, false, 1.04, 1.30, 0.0},
                         Row{"over 3/16 in, low", 6.35e-3, true, 0.82, 1.17, 0.0}}) {
        const HoseExpansion law = hose_expansion(hose_limit(r.bore, r.low), 1.0);
        const double cells[][2] = {{1000.0, r.at_1000}, {1500.0, r.at_1500}, {2900.0, r.at_2900}};
        for (const auto& [psi, cell] : cells) {
            if (cell == 0.0) continue;
            checks.push_back(
                {"hose " + std::string(r.hose) + ", swelling at " + std::to_string(int(psi)) + " psi",
                 "cfr571_106", "table I", Grade::memory, "cc/ft", cell,
                 hose_volume_gain(law, psi * 6894.757) * 0.3048e6, 0.09 * cell,
                 "9 %: a smooth law through limits that are no smooth curve"});
        }
    }
    check_all(checks);
}

} // namespace clearstroke
