#include <gtest/gtest.h>

#include "analysis/uncertain.hpp"

namespace clearstroke {
namespace {

Parameter banded(const std::string& name, const std::string& group, double usual, double low, double high) {
    return {name, usual, low, high, "1", "1", group, SourceGrade::common_practice, "", ""};
}

CaseFactory factory() {
    return {"",
            {banded("a", "", 2.0, 1.0, 5.0), banded("fixed", "", 3.0, 3.0, 3.0),
             banded("air 1", "air", 10.0, 0.0, 20.0), banded("b", "", 0.0, 0.0, 4.0),
             banded("air 2", "air", 1.0, 0.5, 1.0)},
            {}};
}

TEST(Uncertain, AGroupIsOneCoordinateAndWhatHasNoBandIsNone) {
    const auto coordinates = coordinates_of(factory());
    ASSERT_EQ(coordinates.size(), 3u);
    EXPECT_EQ(coordinates[0].name, "a");
    EXPECT_EQ(coordinates[1].name, "air");
    EXPECT_EQ(coordinates[1].parameters, (std::vector<std::size_t>{2, 4}));
    EXPECT_EQ(coordinates[2].name, "b");
}

TEST(Uncertain, TheUsualValueIsTheMedianAndTheEndsAreReached) {
    const Parameter p = banded("a", "", 2.0, 1.0, 5.0);
    EXPECT_EQ(in_band(p, 0.0), 1.0);
    EXPECT_EQ(in_band(p, 0.25), 1.5);
    EXPECT_EQ(in_band(p, 0.5), 2.0);
    EXPECT_EQ(in_band(p, 0.75), 3.5);
    EXPECT_EQ(in_band(p, 1.0), 5.0);
}

TEST(Uncertain, ValuesOfAGroupMoveTogetherAndOthersStay) {
    const CaseFactory f = factory();
    const std::vector<double> u = {0.5, 0.25, 1.0};
    EXPECT_EQ(values_at(f, coordinates_of(f), u), (std::vector<double>{2.0, 3.0, 5.0, 4.0, 0.75}));
}

TEST(Uncertain, ScenariosShareCoordinatesByName) {
    const std::vector<std::vector<Coordinate>> both = {{{"a", {0}}, {"b", {1}}}, {{"b", {0}}, {"c", {1}}}};
    EXPECT_EQ(shared_names(both), (std::vector<std::string>{"a", "b", "c"}));
}

} // namespace
} // namespace clearstroke
