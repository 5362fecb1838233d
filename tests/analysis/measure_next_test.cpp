#include <gtest/gtest.h>

#include "analysis/measure_next.hpp"
#include "tests/analysis/two_wheels.hpp"

namespace clearstroke {
namespace {

TEST(TurningPoint, IsFoundFromEitherSide) {
    EXPECT_NEAR(turning_point(0.0, 1.0, [](double x) { return x < 0.37; }), 0.37, 1.0 / 64);
    EXPECT_NEAR(turning_point(1.0, 0.0, [](double x) { return x > 0.37; }), 0.37, 1.0 / 64);
}

MeasureRequest request() {
    MeasureRequest r;
    r.order = {ScrewId{0}, ScrewId{1}};
    r.rival = {ScrewId{1}, ScrewId{0}};
    return r;
}

TEST(MeasureNext, OffersOnlyWhatIsUnstatedAndCanBeMeasured) {
    const CaseFactory factory = small::two_wheels_factory();
    MeasureRequest r = request();
    r.least_effect = 0.0;
    const auto found = measure_next(factory, r);
    ASSERT_EQ(found.size(), 1u); // not the air and the model (no way to measure), not the stated length
    EXPECT_EQ(factory.parameters[found[0].parameter].name, "lines.far");
}

TEST(MeasureNext, LargestEffectFirstAndNoMoreThanAsked) {
    CaseFactory factory = small::two_wheels_factory();
    for (Parameter& p : factory.parameters) {
        p.grade = SourceGrade::common_practice;
        p.how_to_measure = "somehow";
    }
    MeasureRequest r = request();
    r.least_effect = 0.0;
    r.most = 3;
    const auto found = measure_next(factory, r);
    ASSERT_EQ(found.size(), 3u);
    EXPECT_GE(found[0].effect, found[1].effect);
    EXPECT_GE(found[1].effect, found[2].effect);
}

TEST(MeasureNext, SameForAnyNumberOfThreads) {
    const CaseFactory factory = small::two_wheels_factory();
    MeasureRequest one = request(), two = request();
    one.threads = 1;
    two.threads = 2;
    one.least_effect = two.least_effect = 0.0;
    const auto a = measure_next(factory, one), b = measure_next(factory, two);
    ASSERT_EQ(a.size(), b.size());
    for (std::size_t i = 0; i < a.size(); ++i) EXPECT_EQ(a[i].effect, b[i].effect);
}

// A band whose ends are no possible circuit has no effect instead of ending the analysis.
TEST(MeasureNext, ImpossibleEndsOfABandAreLeftOut) {
    CaseFactory factory = small::two_wheels_factory();
    const auto make = factory.make;
    factory.make = [make](std::span<const double> v) {
        if (v[1] != 1.5) throw std::invalid_argument("impossible");
        return make(v);
    };
    EXPECT_TRUE(measure_next(factory, request()).empty());
}

} // namespace
} // namespace clearstroke
