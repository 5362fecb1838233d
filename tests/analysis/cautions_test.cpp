#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include "analysis/cautions.hpp"

namespace clearstroke {
namespace {

using testing::Contains;
using testing::HasSubstr;
using testing::Not;

template <std::size_t... I> std::vector<Act> one_of_each(std::index_sequence<I...>) {
    return {Act(std::variant_alternative_t<I, Act>{})...};
}

std::vector<Act> every_act() { return one_of_each(std::make_index_sequence<std::variant_size_v<Act>>{}); }

std::vector<std::string> topics(const std::vector<Caution>& cautions) {
    std::vector<std::string> out;
    for (const Caution& c : cautions) out.emplace_back(c.topic);
    return out;
}

TEST(Cautions, EveryActOwnsOne) {
    std::vector<std::string> seen;
    for (const Act& act : every_act()) {
        const Caution caution = caution_of(act);
        EXPECT_GT(caution.text.size(), 30u) << "act " << act.index() << " has no caution";
        EXPECT_FALSE(caution.brief.empty()) << "act " << act.index();
        EXPECT_THAT(seen, Not(Contains(std::string(caution.topic))))
            << "act " << act.index() << " shares its topic";
        seen.emplace_back(caution.topic);
    }
}

TEST(Cautions, EveryMethodOwnsOne) {
    const std::string_view of_plain_acts = caution_of_method("own").text;
    EXPECT_FALSE(of_plain_acts.empty());
    for (const std::string& name : method_names()) {
        EXPECT_NE(caution_of_method(name).text, of_plain_acts) << name;
        EXPECT_EQ(caution_of_method(name).text, caution_of_method(find_method(name)->name).text) << name;
    }
}

Case plain_case() {
    Case c;
    c.procedure.method = two_people_closed_before_release();
    c.procedure.visits = {{ScrewId{0}, {}, {}}};
    return c;
}

TEST(Cautions, OfAResultCoverTheWholeJobInOrder) {
    const auto all = topics(cautions_of(plain_case(), AntiLockUnit::unknown));
    for (const char* topic :
         {"first of all", "eyes and skin", "paint and linings", "never mix fluids", "stands and chocks",
          "anti-lock unit", "screw under pressure", "stroke short of full travel", "engine on",
          "do not move the vehicle", "disposal"})
        EXPECT_THAT(all, Contains(std::string(topic)));
    EXPECT_EQ(all.front(), "first of all");
    EXPECT_EQ(all.back(), "disposal");
}

TEST(Cautions, AreThoseOfTheActsUsed) {
    Case c = plain_case();
    const std::string turning(caution_of(TurnPart{}).topic);
    EXPECT_THAT(topics(cautions_of(c, AntiLockUnit::no)), Not(Contains(turning)));
    c.procedure.visits[0].before.push_back(TurnPart{});
    EXPECT_THAT(topics(cautions_of(c, AntiLockUnit::no)), Contains(turning));
    EXPECT_THAT(topics(cautions_of(plain_case(), AntiLockUnit::no, {TurnPart{}})), Contains(turning));
    for (const Act& unused : {Act{PushHome{}}, Act{Tap{}}, Act{ReservoirPressure{}}, Act{Clamp{}}}) {
        const std::string topic(caution_of(unused).topic);
        EXPECT_THAT(topics(cautions_of(plain_case(), AntiLockUnit::no)), Not(Contains(topic)));
    }
}

TEST(Cautions, AHandBrakeThatIsOnIsSaid) {
    Case c = plain_case();
    c.network.volumes.resize(2);
    EXPECT_THAT(topics(cautions_of(c, AntiLockUnit::no)), Not(Contains("hand brake on")));
    c.network.volumes[1].hand_brake_on = true;
    EXPECT_THAT(topics(cautions_of(c, AntiLockUnit::no)), Contains("hand brake on"));
}

TEST(Cautions, NoTopicTwice) {
    auto all = topics(cautions_of(plain_case(), AntiLockUnit::yes, every_act()));
    const std::size_t count = all.size();
    std::ranges::sort(all);
    all.erase(std::unique(all.begin(), all.end()), all.end());
    EXPECT_EQ(all.size(), count);
}

TEST(Cautions, SpeakOfTheFluidAndOfTheUnit) {
    EXPECT_THAT(std::string(cautions_before(FluidFamily::silicone, AntiLockUnit::no)[3].text),
                HasSubstr("Silicone (DOT 5) never with glycol"));
    EXPECT_THAT(std::string(cautions_before(FluidFamily::mineral, AntiLockUnit::no)[3].text),
                HasSubstr("Mineral oil never"));
    EXPECT_THAT(std::string(cautions_before(FluidFamily::glycol, AntiLockUnit::unknown)[5].text),
                HasSubstr("Not stated"));
}

TEST(Cautions, ReadAsSentences) {
    EXPECT_EQ(to_text({"eyes and skin", "Goggles.", ""}), "Eyes and skin: Goggles.");
}

} // namespace
} // namespace clearstroke
