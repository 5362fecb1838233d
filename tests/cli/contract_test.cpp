// What other programs rely on: documents with their keys, balances, the explicit form, same bytes.
#include <algorithm>

#include <gmock/gmock.h>
#include <nlohmann/json.hpp>

#include "tests/cli/process.hpp"
#include "tests/folder.hpp"

namespace clearstroke::testing {
namespace {

using nlohmann::json;

json document(const std::string& arguments) {
    const Ran ran = run(arguments + " --json");
    EXPECT_EQ(ran.status, 0) << ran.err;
    EXPECT_EQ(ran.err, "");
    return json::parse(ran.out);
}

void expect_keys(const json& object, std::initializer_list<const char*> keys) {
    for (const char* key : keys) EXPECT_TRUE(object.contains(key)) << key;
}

class Orders : public ::testing::TestWithParam<std::pair<const char*, const char*>> {};

TEST_P(Orders, HoldTheKeysAndTheBalances) {
    const auto& [file, list] = GetParam();
    const json j = document(std::string("orders scenarios/") + file + " --quick --list \"" + list + "\"");
    expect_keys(j, {"schema", "scenario", "finding", "bleed_points", "orders_total", "orders", "resolution",
                    "balance", "assumptions", "cautions"});
    EXPECT_EQ(j["orders_total"], j["orders"].size());
    for (const json& order : j["orders"]) {
        expect_keys(order, {"order",
                            "known_as",
                            "group",
                            "visits",
                            "strokes",
                            "strokes_total",
                            "strokes_to_target",
                            "strokes_to_99_percent",
                            "fluid_drawn_ml",
                            "fluid_discarded_ml",
                            "duration_s",
                            "top_ups",
                            "lowest_level_ml",
                            "air_left_ml",
                            "air_left_by_place_ml",
                            "air_beyond_reach_ml",
                            "air_leaked_in_ml",
                            "air_leaked_to_hose_ml",
                            "pedal_travel_mm",
                            "pedal_travel_without_air_mm",
                            "pedal_reserve_percent",
                            "renewed_percent",
                            "seen_clear",
                            "target_met",
                            "stopped_because"});
        int strokes = 0;
        for (const json& visit : order["visits"]) {
            expect_keys(visit, {"screw", "strokes", "openings", "fluid_ml"});
            strokes += visit["strokes"].get<int>();
        }
        EXPECT_EQ(order["strokes_total"], strokes);
    }
    for (const char* phase : {"liquid_relative", "air_relative"})
        EXPECT_LE(std::abs(j["balance"][phase].get<double>()), 1e-12) << phase;
}

INSTANTIATE_TEST_SUITE_P(
    Shipped, Orders,
    ::testing::Values(std::pair("front_rear_split.toml", "RR,LR,RF,LF;LF,RF,LR,RR"),
                      std::pair("diagonal_split.toml", "RR,LF,LR,RF;LF,RF,LR,RR"),
                      std::pair("dry_system.toml", "RR,LR,RF,LF"),
                      std::pair("two_screw_calipers.toml",
                                "LF inner,LF outer,RF inner,RF outer,LR inner,LR outer,RR inner,RR outer")));

TEST(OrdersSearched, KeepTheSequenceAndSayWhatWasRun) {
    const json j = document("orders scenarios/motorcycle.toml --quick --condition \"little air\" --effort 3 "
                            "--set 'sequence.before=[\"LF, RF\"]'");
    const json& search = j["search"];
    EXPECT_EQ(search["how"], "searched");
    EXPECT_EQ(search["orders_run"], j["orders_total"]);
    EXPECT_EQ(search["orders_possible"], 3); // of 3! the half
    EXPECT_LT(search["orders_run"], 3);
    EXPECT_GT(search["strokes_run"], 0);
    EXPECT_THAT(j["finding"].get<std::string>(), ::testing::HasSubstr("Searched, not all run"));
    for (const json& order : j["orders"]) {
        const auto names = order["order"].get<std::vector<std::string>>();
        EXPECT_LT(std::ranges::find(names, "LF"), std::ranges::find(names, "RF"));
    }
}

TEST(OrdersSearched, ContradictionsAndUnknownScrewsAreRefused) {
    const Ran none = run("orders scenarios/motorcycle.toml --quick --set 'sequence.first=[\"LF\"]' --set "
                         "'sequence.before=[\"RF, LF\"]'");
    EXPECT_EQ(none.status, 2);
    EXPECT_THAT(none.err, ::testing::HasSubstr("[sequence]"));
    const Ran unknown = run("orders scenarios/motorcycle.toml --quick --set 'sequence.last=[\"XX\"]'");
    EXPECT_EQ(unknown.status, 2);
    EXPECT_THAT(unknown.err, ::testing::HasSubstr("there is no screw \"XX\""));
}

// Calipers bled last have their seals settled and those bled first have not: a first stroke would differ by 2 mm.
TEST(Pedal, IsSettledAndTheSameForOrdersThatDoNotDiffer) {
    const json j = document("orders scenarios/front_rear_split.toml --quick --list RR,LR,RF,LF");
    ASSERT_EQ(j["orders"].size(), 2u);
    for (const char* force : {"222", "500"}) {
        const double one = j["orders"][0]["pedal_travel_mm"][force],
                     other = j["orders"][1]["pedal_travel_mm"][force];
        EXPECT_NEAR(one, other, 0.05) << force << " N";
    }
}

TEST(BestPlan, StandsBesideTheOrders) {
    const json j = document("orders scenarios/motorcycle.toml --quick --condition \"little air\" --plan");
    const json& plan = j["plan"];
    expect_keys(plan, {"sentence", "verdict", "visits", "gain", "worst_cost", "low_usual_high", "strokes_run",
                       "others_cost_at_least", "result"});
    EXPECT_TRUE(plan["same_bits_when_run"]);
    EXPECT_LE(plan["result"]["strokes_total"], j["orders"][0]["strokes_total"]);
    for (const json& visit : plan["visits"]) expect_keys(visit, {"screw", "ends", "counted_strokes"});
}

TEST(ExplicitForm, GivesTheSameBits) {
    const Folder folder;
    const std::string expanded = folder / "explicit.toml";
    ASSERT_EQ(run("inspect scenarios/minimal.toml --expand -o '" + expanded + "'").status, 0);
    json as_written = document("bleed scenarios/minimal.toml"),
         as_printed = document("bleed '" + expanded + "'");
    for (json* j : {&as_written, &as_printed})
        for (const char* about_the_file : {"scenario", "assumptions", "warnings"}) j->erase(about_the_file);
    EXPECT_EQ(as_written, as_printed);
}

TEST(Documents, AreTheSameBytesForAnyNumberOfThreads) {
    const std::string ask = "orders scenarios/port_below_pocket.toml --json --threads ";
    EXPECT_EQ(run(ask + "1").out, run(ask + "2").out);
}

TEST(Documents, ComeFromEveryCommandThatRuns) {
    const std::string small = "scenarios/port_below_pocket.toml";
    for (const std::string& command : {"inspect " + small, "bleed " + small, "pedal " + small,
                                       "guide " + small + " --quick --date 2026-03-09",
                                       "compare " + small + " --set \"operator.hold=2 s\""})
        EXPECT_TRUE(document(command).contains("schema")) << command;
}

} // namespace
} // namespace clearstroke::testing
