// The key table: every row is sound by itself, agrees with the laws it offers choices of, and the printed
// reference is fresh.
#include "scenarios/schema.hpp"

#include <set>

#include "models/bleed_screw.hpp"
#include "models/fluid.hpp"
#include "scenarios/io/quantity.hpp"
#include "tests/scenarios/support.hpp"

namespace clearstroke::testing {
namespace {

Quantity range_of(const KeyRow& row) {
    const std::string_view unit = row.unit.empty() ? std::string_view("1") : row.unit;
    const auto to = row.allowed.find(" to ");
    EXPECT_NE(to, std::string_view::npos) << row.path;
    const auto low = read_quantity(row.allowed.substr(0, to), unit),
               high = read_quantity(row.allowed.substr(to + 4), unit);
    EXPECT_EQ(low.fault, QuantityFault::none) << row.path;
    EXPECT_EQ(high.fault, QuantityFault::none) << row.path;
    return {low.value.usual, low.value.usual, high.value.usual, true};
}

TEST(KeyTable, EveryRowIsSoundByItself) {
    for (const KeyRow& row : key_table()) {
        SCOPED_TRACE(row.path);
        EXPECT_FALSE(row.meaning.empty());
        EXPECT_TRUE(row.family.empty() || row.family == "car" || row.family == "motorcycle" ||
                    row.family == "clutch");
        const bool number = row.kind == KeyKind::quantity || row.kind == KeyKind::quantities;
        EXPECT_EQ(number, !row.unit.empty());
        if (number || row.kind == KeyKind::count) {
            EXPECT_LT(range_of(row).low, range_of(row).high);
        }
        if (row.kind == KeyKind::quantity && !row.usual.empty()) {
            const auto usual = read_quantity(row.usual, row.unit);
            ASSERT_EQ(usual.fault, QuantityFault::none) << row.usual;
            EXPECT_GE(usual.value.low, range_of(row).low);
            EXPECT_LE(usual.value.high, range_of(row).high);
            EXPECT_FALSE(row.source.empty() && row.grade != SourceGrade::stated)
                << "a default names its source";
        }
        if (row.kind == KeyKind::choice && !row.usual.empty()) {
            const auto choices = choices_of(row);
            EXPECT_NE(std::ranges::find(choices, row.usual), choices.end());
        }
    }
}

TEST(KeyTable, EveryUncertainDefaultHasABandOrSaysWhyNot) {
    const std::set<std::string_view> without{"model.lump_length",
                                             "target.excess",
                                             "lines.dilation",
                                             "stop.new_colour",
                                             "vehicle.track",
                                             "contents.fresh_fraction",
                                             "contents.reservoir_fresh_fraction"};
    for (const KeyRow& row : key_table())
        if (row.kind == KeyKind::quantity && !row.usual.empty() && !without.contains(row.path)) {
            EXPECT_TRUE(read_quantity(row.usual, row.unit).value.banded) << row.path;
        }
}

TEST(KeyTable, ChoicesAreThoseOfTheLaws) {
    std::vector<std::string> fluids, threads, methods;
    for (const Fluid& f : known_fluids()) fluids.push_back(f.name);
    for (const KnownBleedScrew& s : known_bleed_screws()) threads.emplace_back(s.thread);
    methods = method_names();
    methods.push_back("own");
    const auto sorted = [](std::vector<std::string> v) { return std::ranges::sort(v), v; };
    const auto choices = [&](const char* key) {
        const auto list = choices_of(*find_key(key, "car"));
        return sorted({list.begin(), list.end()});
    };
    EXPECT_EQ(choices("fluid"), sorted(fluids));
    EXPECT_EQ(choices("bleed_screw.thread"), sorted(threads));
    EXPECT_EQ(choices("calipers.front.thread"), sorted(threads));
    EXPECT_EQ(choices("screws.LF.thread"), sorted(threads));
    EXPECT_EQ(choices("method"), sorted(methods));
}

TEST(KeyTable, RowsAreFoundByFamilyAndPattern) {
    EXPECT_EQ(find_key("calipers.front.bore", "car")->usual.substr(0, 5), "54 mm");
    EXPECT_EQ(find_key("calipers.rear.bore", "car")->usual.substr(0, 5), "38 mm");
    EXPECT_EQ(find_key("calipers.front.bore", "motorcycle")->usual.substr(0, 5), "27 mm");
    EXPECT_EQ(find_key("volumes.LF caliper.ports.screw.at", "car")->unit, "o'clock");
    EXPECT_EQ(find_key("calipers.middle.bore", "car"), nullptr);
    EXPECT_TRUE(is_key_table("calipers.front"));
    EXPECT_FALSE(is_key_table("calipers.front.bore"));
}

TEST(KeyReference, TheCheckedInPageIsFresh) {
    EXPECT_EQ(text_of("docs/reference_keys.md"), key_reference_markdown())
        << "docs/reference_keys.md is stale: run build/tests/scenarios/regenerate_docs from the project's "
           "root";
}

TEST(KeyReference, NamesEveryKey) {
    const std::string page = key_reference_markdown();
    for (const KeyRow& row : key_table())
        EXPECT_NE(page.find("`" + std::string(row.path) + "`"), std::string::npos) << row.path;
}

} // namespace
} // namespace clearstroke::testing
