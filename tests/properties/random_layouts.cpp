// random_layouts [COUNT [FIRST]]: runs that many random layouts, from the seed FIRST on, twice each, and says
// what each failure is. Ends with status 1 when more than one in a hundred was refused or any failed.
#include <algorithm>
#include <cstdlib>
#include <ctime>
#include <iostream>

#include "tests/properties/random_layout.hpp"

int main(int argc, char** argv) {
    using namespace clearstroke;
    const std::uint64_t count = argc > 1 ? std::strtoull(argv[1], nullptr, 10) : 2000,
                        first = argc > 2 ? std::strtoull(argv[2], nullptr, 10) : 1;
    std::uint64_t refused = 0, failed = 0;
    Balance worst;
    for (std::uint64_t seed = first; seed < first + count; ++seed) {
        const testing::RandomLayout layout = testing::random_layout(seed);
        const std::clock_t began = std::clock();
        const testing::RandomRun run = testing::run(layout);
        const double seconds = static_cast<double>(std::clock() - began) / CLOCKS_PER_SEC;
        worst = {std::max(worst.liquid, run.worst.liquid), std::max(worst.gas, run.worst.gas)};
        const std::string what = testing::failure_of(run, testing::run(layout));
        refused += !run.refused.empty();
        failed += !what.empty();
        if (!what.empty() || !run.refused.empty() || seconds > 5.0)
            std::cout << seed << ": " << what << run.refused << " (" << seconds
                      << " s): " << testing::described(layout) << std::endl;
    }
    std::cout << count << " layouts, " << refused << " refused, " << failed << " failed, worst balance "
              << worst.liquid << " of liquid, " << worst.gas << " of gas\n";
    return failed > 0 || 100 * refused > count;
}
