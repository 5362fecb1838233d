// Filming a run: it changes no bit, its ends of strokes are those of the records, its length is bounded.
#include "analysis/sheet/recording.hpp"
#include "analysis/sheet/replay_json.hpp"
#include "tests/analysis/two_wheels.hpp"

namespace clearstroke {
namespace {

const Film& film() {
    static const Film made = [] {
        const Case c = small::two_wheels(2e-6, 1e-6);
        return film_plan(c, c.procedure.visits);
    }();
    return made;
}

TEST(Film, WatchingChangesNoBit) {
    const Case c = small::two_wheels(2e-6, 1e-6);
    const PlanRun run = run_plan(c, c.procedure.visits);
    EXPECT_EQ(film().run.air_end.total, run.air_end.total);
    EXPECT_EQ(film().run.ledger.drawn, run.ledger.drawn);
    ASSERT_EQ(film().run.visits.size(), run.visits.size());
    for (std::size_t k = 0; k < run.visits.size(); ++k)
        EXPECT_EQ(film().run.visits[k]->record.strokes.size(), run.visits[k]->record.strokes.size());
}

TEST(Film, KeepsTheEndOfEveryStroke) {
    std::vector<const Instant*> ends;
    for (const Instant& instant : film().instants)
        if (instant.stroke_over) ends.push_back(&instant);
    std::size_t at = 0;
    for (std::size_t k = 0; k < film().run.visits.size(); ++k)
        for (const StrokeRecord& stroke : film().run.visits[k]->record.strokes) {
            ASSERT_LT(at, ends.size());
            const Instant& end = *ends[at++];
            EXPECT_EQ(end.visit, k);
            EXPECT_EQ(end.strokes, stroke.number);
            EXPECT_EQ(end.t, stroke.t_end);
            EXPECT_EQ(end.air_of_circuit, stroke.air_by_circuit);
        }
    EXPECT_EQ(at, ends.size());
}

TEST(Film, ThinsOutToItsLength) {
    const Case c = small::two_wheels(2e-6, 1e-6);
    const Film coarse = film_plan(c, c.procedure.visits, {0.05, 5.0, 80});
    EXPECT_LE(coarse.instants.size(), 80u);
    const auto over = [](const Film& f) {
        return std::ranges::count(f.instants, true, &Instant::stroke_over);
    };
    EXPECT_EQ(over(coarse), over(film()));
}

TEST(Film, StretchesLieInTheirLineOneAfterTheOther) {
    for (const Instant& instant : film().instants)
        for (const auto& line : instant.lines) {
            double end = 0.0;
            for (const Stretch& s : line) {
                EXPECT_GE(s.begin, end - 1e-12);
                EXPECT_GT(s.end, s.begin);
                EXPECT_LE(s.end, 1.0 + 1e-12);
                EXPECT_GT(s.gas, 0.0);
                EXPECT_LE(s.gas, 1.0);
                end = s.end;
            }
        }
}

TEST(Film, ThePocketFallsWithItsAir) {
    const Instant &first = film().instants.front(), &last = film().instants.back();
    EXPECT_LT(first.parts[1].level, last.parts[1].level); // less air: its surface is higher
    EXPECT_GT(first.parts[1].gas, last.parts[1].gas);
}

// What the page does, in small: only changes stand in an instant.
TEST(FilmJson, ChangesAddUpToTheLastInstant) {
    const Case c = small::two_wheels(2e-6, 1e-6);
    const auto json = film_json(c.network, film());
    nlohmann::ordered_json now = nlohmann::ordered_json::object();
    for (const auto& change : json["instants"]) now.merge_patch(change);
    const Instant& last = film().instants.back();
    EXPECT_NEAR(now["a"][0].get<double>(), 1e6 * last.air_of_circuit[0], 1e-4);
    EXPECT_NEAR(now["v"]["1"][1].get<double>(), 1000.0 * last.parts[1].level, 0.5);
    EXPECT_EQ(now["n"].get<int>(), last.strokes);
}

} // namespace
} // namespace clearstroke
