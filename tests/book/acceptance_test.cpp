// Public rules of acceptance: their numbers, their scope by class of vehicle, and what a verdict says.
#include "analysis/acceptance.hpp"

#include "sim/procedure.hpp"
#include "tests/book/check.hpp"

namespace clearstroke {
namespace {

using namespace book;

constexpr double pound_force = 4.448222; // [N]

TEST(Acceptance, NumbersOfTheRules) {
    struct Row {
        const char *name, *source, *place;
        Grade grade;
        double hold_pounds, seconds, travel_newtons, share;
    };
    for (const Row& r :
         {Row{"570.55", "cfr570", "570.55(b), (c)", Grade::verified, 125.0, 10.0, 50.0 * pound_force, 0.80},
          Row{"570.5", "cfr570", "570.5", Grade::memory, 125.0, 10.0, 50.0 * pound_force, 0.80},
          Row{"Quebec", "quebec_c24_2_r32", "s. 35", Grade::verified, 550.0 / pound_force, 60.0, 550.0, 0.65},
          Row{"Ohio", "ohio_4501_2_1_08", "(B)", Grade::verified, 60.0, 60.0, 60.0 * pound_force,
              2.0 / 3.0}}) {
        const AcceptanceRule& rule = *find_acceptance_rule(r.name);
        const std::string name = std::string(r.name) + ": ";
        const std::string digits = "whole newtons";
        check_all({{name + "force of the hold", r.source, r.place, r.grade, "N", r.hold_pounds * pound_force,
                    rule.hold_force, 0.5, digits},
                   {name + "time of the hold", r.source, r.place, r.grade, "s", r.seconds, rule.hold_seconds,
                    1e-9, "the number itself"},
                   {name + "force of the travel test", r.source, r.place, r.grade, "N", r.travel_newtons,
                    rule.travel_force, 0.5, digits},
                   {name + "travel used, at most", r.source, r.place, r.grade, "-", r.share,
                    rule.travel_share, 1e-9, "the number itself"}});
    }
}

TEST(Acceptance, ScopeByClassOfVehicle) {
    EXPECT_NE(find_acceptance_rule("570.55")->scope.find("over 10,000 lb"), std::string_view::npos);
    EXPECT_NE(find_acceptance_rule("570.5")->scope.find("up to 10,000 lb"), std::string_view::npos);
    EXPECT_EQ(find_acceptance_rule("570.5")->standing, "from memory");
    EXPECT_EQ(find_acceptance_rule("570.55")->standing, "verified in the text");
    EXPECT_EQ(accept(nullptr, {}).verdict, Verdict::no_rule); // motorcycles, clutches, aircraft
}

// The largest travel that still meets the rule, found by asking for verdicts.
TEST(Acceptance, EdgeOfTheVerdict) {
    for (const auto& [name, share, source, grade] : {std::tuple{"570.55", 0.80, "cfr570", Grade::verified},
                                                     {"Quebec", 0.65, "quebec_c24_2_r32", Grade::verified}}) {
        double met = 0.0, not_met = 0.140;
        for (int i = 0; i < 60; ++i) {
            const double travel = 0.5 * (met + not_met);
            const Acceptance a = accept(find_acceptance_rule(name), {travel, 0.05, 0.140, 0.0});
            (a.verdict == Verdict::met ? met : not_met) = travel;
        }
        check({std::string(name) + ": longest travel that is accepted, over the way to the floor", source,
               "travel clause", grade, "-", share, met / 0.140, 1e-9, "the number itself"});
    }
}

TEST(Acceptance, ForcesThatArePressedWith) {
    const Target target;
    check_all({{"first reference force of the pedal", "cfr570", "570.55(c), 50 lbf", Grade::verified, "N",
                50.0 * pound_force, target.pad_forces.at(0), 0.5, "whole newtons"},
               {"second reference force of the pedal", "nhtsa_11409", "cold effectiveness, at most",
                Grade::verified, "N", 500.0, target.pad_forces.at(1), 1e-9, "the number itself"}});
}

} // namespace
} // namespace clearstroke
