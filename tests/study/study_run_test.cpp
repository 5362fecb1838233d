#include <cmath>

#include <gtest/gtest.h>

#include "analysis/cli/json.hpp"
#include "analysis/cli/study_plan.hpp"
#include "tests/scenarios/support.hpp"
#include "tests/study/support.hpp"

namespace clearstroke {
namespace {

using testing::base;
using testing::bytes_of;
using testing::run;
using testing::Scratch;

TEST(StudyRun, SameBytesForAnyNumberOfThreadsShardsAndStops) {
    const Scratch scratch;
    const std::string study =
        scratch.study(base("hydraulic_clutch") +
                      "[design]\nkind = \"sobol\"\nsamples = 8\nscramblings = 2\nbands = true\n");
    const auto whole = run(study, scratch / "whole.h5", 1);
    ASSERT_EQ(whole.status, exit_done) << whole.err;
    EXPECT_NE(whole.out.find("8 cases, 0 failed"), std::string::npos) << whole.out;
    ASSERT_EQ(run(study, scratch / "two.h5", 2).status, exit_done);
    EXPECT_EQ(bytes_of(scratch / "two.h5"), bytes_of(scratch / "whole.h5"));
    StudyArgs join;
    for (const char* i : {"2", "1", "3"}) {
        const std::string file = scratch / (std::string("shard") + i + ".h5");
        ASSERT_EQ(run(study, file, 0, std::string(i) + "/3").status, exit_done);
        join.join.push_back(file);
    }
    join.output = scratch / "joined.h5";
    const auto joined = run(join);
    ASSERT_EQ(joined.status, exit_done) << joined.err;
    EXPECT_EQ(bytes_of(scratch / "joined.h5"), bytes_of(scratch / "whole.h5"));
    EXPECT_EQ(run(join).status, exit_request); // is there already
    join.join.pop_back();
    join.output = scratch / "part.h5";
    EXPECT_NE(run(join).status, exit_done); // a shard is missing
    EXPECT_FALSE(std::filesystem::exists(scratch / "part.h5"));
    EXPECT_EQ(run(study, scratch / "whole.h5").status, exit_done); // nothing left to do
    EXPECT_EQ(bytes_of(scratch / "two.h5"), bytes_of(scratch / "whole.h5"));
}

TEST(StudyRun, AnExtractedCaseGivesTheSameBits) {
    const Scratch scratch;
    const std::string study =
        scratch.study(base("hydraulic_clutch") + "[design]\nkind = \"random\"\nsamples = 3\nbands = true\n");
    ASSERT_EQ(run(study, scratch / "a.h5").status, exit_done);
    StudyArgs args;
    args.file = scratch / "a.h5";
    args.extract = 2;
    const auto extracted = run(args);
    ASSERT_EQ(extracted.status, exit_done) << extracted.err;
    const Case c = testing::usual_case(testing::parse(extracted.out));
    const CaseCells cells = run_study_case(c, {StudyPlans::Which::own, {"the file's own"}, {}, {}}, {}, 1);
    const StoreReader reader(scratch / "a.h5");
    for (std::size_t m = 0; m < study_measures().size(); ++m) {
        const double stored = reader.column(study_measures()[m].name)[2], again = cells.numbers[m];
        EXPECT_TRUE(stored == again || (std::isnan(stored) && std::isnan(again)))
            << study_measures()[m].name << ": " << stored << " " << again;
    }
    args.extract = 3;
    EXPECT_EQ(run(args).status, exit_request);
}

TEST(StudyRun, AShardShowsItsOwnSettingsInUnitsThatPeopleRead) {
    const Scratch scratch;
    const std::string study =
        scratch.study(base("hydraulic_clutch") +
                      "[factors]\n\"conditions.pitch\" = { from = \"-5 deg\", to = \"5 deg\", steps = 3 }\n");
    const std::string out = run(study, scratch / "part.h5", 0, "2/3").out; // the second case: level
    EXPECT_NE(out.find("conditions.pitch 0 deg"), std::string::npos) << out;
    EXPECT_EQ(out.find("5 deg"), std::string::npos) << out;
    EXPECT_EQ(out.find("nan"), std::string::npos) << out;
}

TEST(StudyRun, ALongGridIsCutOnTheScreenOnly) {
    const Scratch scratch;
    StudyArgs args;
    args.file = scratch.study(
        base("hydraulic_clutch") +
        "[factors]\nmethod = [\"one person\", \"two people\"]\n\"operator.push_speed\" = { from = "
        "\"40 mm/s\", to = \"80 mm/s\", steps = 51 }\n");
    args.output = scratch / "grid.h5";
    const std::string screen = run(args).out;
    EXPECT_NE(screen.find("And 2 more settings"), std::string::npos) << screen;
    EXPECT_NE(screen.find("one person, operator.push_speed 40 mm/s"), std::string::npos) << screen;
    EXPECT_EQ(screen.find("two people, operator.push_speed 80 mm/s"), std::string::npos) << screen;
    args.json = true;
    const Json all = Json::parse(run(args).out);
    EXPECT_EQ(all["plans"].size(), 102u);
    EXPECT_EQ(all["plans"].back()["setting"],
              "hydraulic_clutch, method two people, operator.push_speed 80 mm/s");
}

TEST(StudyRun, AFailedCaseIsARowWithItsReason) {
    const Scratch scratch;
    const std::string study =
        scratch.study("[factors]\n\"work.air.slave\" = [\"1 mL\", \"4000 mL\"]\n" + base("hydraulic_clutch"));
    const auto ran = run(study, scratch / "a.h5");
    ASSERT_EQ(ran.status, exit_done) << ran.err;
    EXPECT_NE(ran.out.find("2 cases, 1 failed"), std::string::npos) << ran.out;
    EXPECT_NE(ran.out.find("is more than the part holds"), std::string::npos) << ran.out;
    const StoreReader reader(scratch / "a.h5");
    EXPECT_EQ(reader.status(0), RowStatus::done);
    EXPECT_EQ(reader.status(1), RowStatus::failed);
    EXPECT_DOUBLE_EQ(reader.column("work.air.slave")[1], 4e-3);
    EXPECT_TRUE(std::isnan(reader.column("strokes_total")[1]));
}

TEST(StudyRun, RulesAreHeldAgainstTheBestOfAllOrders) {
    const Scratch scratch;
    const std::string study = scratch.study("orders = \"rules\"\n" +
                                            base("motorcycle", "set = [\"condition=\\\"little air\\\"\"]"));
    StudyArgs args;
    args.file = study;
    args.output = scratch / "a.h5";
    args.json = true;
    const auto ran = run(args);
    ASSERT_EQ(ran.status, exit_done) << ran.err;
    EXPECT_NE(ran.out.find("\"order\": \"farthest first\""), std::string::npos) << ran.out;
    const StoreReader reader(scratch / "a.h5");
    const std::vector<double> good = reader.column("as_good_as_best"),
                              strokes = reader.column("strokes_total"),
                              behind = reader.column("cost_behind_best"), group = reader.column("group");
    ASSERT_EQ(good.size(), 6u); // best, worst, farthest, nearest, circuit by circuit, own
    EXPECT_EQ(good[0], 1.0);
    EXPECT_EQ(behind[0], 0.0);
    for (std::size_t p = 0; p < 6; ++p) {
        EXPECT_EQ(strokes[p] - strokes[0], behind[p]);
        EXPECT_GE(group[1], group[p]);
    }
}

TEST(StudyRun, SensitivityStandsInTheFile) {
    const Scratch scratch;
    const std::string study = scratch.study(
        base("hydraulic_clutch") +
        "[design]\nkind = \"effects\"\nsamples = 2\nbands = [\"lines.bore\", \"operator.dwell\"]\n");
    ASSERT_EQ(run(study, scratch / "a.h5").status, exit_done);
    const StoreReader reader(scratch / "a.h5");
    EXPECT_EQ(reader.rows(), 6u); // two trajectories of three
    EXPECT_EQ(reader.column("effect_mean").size(), 8u * 2u);
    // by hand from the rows of the duration, the third measure: one step of each input in each trajectory
    const std::vector<double> y = reader.column("duration_s"), dwell = reader.column("operator.dwell");
    double expected = 0.0;
    for (std::size_t t = 0; t < 2; ++t)
        for (std::size_t j = 0; j < 2; ++j) {
            const std::size_t k = 3 * t + j;
            if (dwell[k] == dwell[k + 1]) continue;
            expected += 0.5 * (y[k + 1] - y[k]) / (dwell[k + 1] > dwell[k] ? 0.5 : -0.5);
        }
    bool found = false;
    for (const double effect : reader.column("effect_mean"))
        found = found || std::abs(effect - expected) < 1e-9;
    EXPECT_TRUE(found) << expected;
}

TEST(StudyRun, RequestsThatCannotBeAreRefused) {
    const Scratch scratch;
    const std::string study = scratch.study(base("hydraulic_clutch"));
    EXPECT_EQ(run(study, "").status, exit_request);
    EXPECT_EQ(run("", scratch / "a.h5").status, exit_request);
    EXPECT_EQ(run(scratch / "none.toml", scratch / "a.h5").status, exit_file);
    for (const char* shard : {"0/2", "3/2", "1", "a/b", "1/2x"})
        EXPECT_EQ(run(study, scratch / "a.h5", 0, shard).status, exit_request) << shard;
    const std::string trace = scratch.study("traces = [\"colour\"]\n" + base("hydraulic_clutch"));
    EXPECT_NE(run(trace, scratch / "a.h5").err.find("allowed: air_inside_ml"), std::string::npos);
    const std::string nothing =
        scratch.study(base("hydraulic_clutch") + "[design]\nkind = \"sobol\"\nsamples = 8\n");
    EXPECT_NE(run(nothing, scratch / "a.h5").err.find("nothing varies"), std::string::npos);
    EXPECT_FALSE(std::filesystem::exists(scratch / "a.h5"));
}

} // namespace
} // namespace clearstroke
