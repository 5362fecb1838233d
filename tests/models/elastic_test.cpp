// Elastic volumes: slopes, the play of a seal's roll-back, take-up of slack.
#include "models/elastic.hpp"

#include "tests/models/support.hpp"

namespace clearstroke {
namespace {

using test::close;

TEST(Elastic, LinearAndSettlingPartsByHand) {
    // 1e-13 x 1e6 = 1e-7; 2e-7 x 1e6 / (1e6 + 1e6) = 1e-7.
    const ElasticLaw law{1e-13, 2e-7, 1e6};
    EXPECT_TRUE(close(elastic_volume(law, 1e6, 0.0).volume, 2e-7, 1e-12));
    EXPECT_TRUE(close(elastic_volume(law, -1e6, 0.0).volume, -2e-7, 1e-12));
    EXPECT_TRUE(close(elastic_volume(law, 0.0, 0.0).slope, 1e-13 + 2e-13, 1e-12));
}

TEST(Elastic, SlackIsTakenUpBetweenItsTwoPressures) {
    ElasticLaw law;
    law.take_up_volume = 0.8e-6, law.take_up_from = 1e5, law.take_up_to = 3e5;
    EXPECT_EQ(elastic_volume(law, 1e5, 0.0).volume, 0.0);
    EXPECT_TRUE(close(elastic_volume(law, 2e5, 0.0).volume, 0.4e-6, 1e-12));
    EXPECT_TRUE(close(elastic_volume(law, 9e5, 0.0).volume, 0.8e-6, 1e-12));
    EXPECT_EQ(elastic_volume(law, 9e5, 0.0).slope, 0.0);
}

TEST(Elastic, SlopeIsTheDerivative) {
    const ElasticLaw law{1e-13, 2e-7, 7e5, 0.0, 0.8e-6, 1e5, 3e5};
    for (const double e : {-5e5, -1e3, 4e4, 1.5e5, 2.9e5, 4e6}) {
        const double h = 10.0, numeric = (elastic_volume(law, e + h, 0.0).volume -
                                          elastic_volume(law, e - h, 0.0).volume) /
                                         (2.0 * h);
        EXPECT_TRUE(close(elastic_volume(law, e, 0.0).slope, numeric, 1e-6)) << e;
    }
}

TEST(Elastic, PlayFollowsHoldsAndComesBack) {
    const double play = 1e5;
    EXPECT_EQ(play_operator(5e4, play, 0.0), 0.0);   // inside the play: nothing
    EXPECT_EQ(play_operator(3e5, play, 0.0), 2e5);   // follows, the play behind
    EXPECT_EQ(play_operator(1.5e5, play, 2e5), 2e5); // falls by less than twice the play: holds
    EXPECT_EQ(play_operator(0.0, play, 2e5), 1e5);   // falls by more: comes back
}

TEST(Elastic, RollBackKeepsVolumeUntilTwiceThePlay) {
    const ElasticLaw law{0.0, 2e-7, 1e6, 1e5};
    double felt = play_operator(1e6, law.play, 0.0);
    const double at_peak = elastic_volume(law, 1e6, 0.0).volume;
    EXPECT_EQ(elastic_volume(law, 0.81e6, felt).volume, at_peak);
    EXPECT_LT(elastic_volume(law, 0.79e6, felt).volume, at_peak);
}

TEST(Elastic, PlayDoesNotDependOnTheNumberOfSteps) {
    const double direct = play_operator(8e5, 1e5, 0.0);
    double stepped = 0.0;
    for (int i = 1; i <= 80; ++i) stepped = play_operator(1e4 * i, 1e5, stepped);
    EXPECT_DOUBLE_EQ(stepped, direct);
}

// (E-3): a quarter stuck leaves three quarters of every part, slopes and kept volume too; all stuck leaves nothing.
TEST(Elastic, WhatIsStuckGivesNothingAndTheRestItsOwn) {
    const ElasticLaw law{1e-13, 2e-7, 7e5, 1e5, 0.8e-6, 1e5, 3e5}, most = partly_stuck(law, 0.25),
                                                                   none = partly_stuck(law, 1.0);
    for (const double e : {-5e4, 0.0, 1.5e5, 2e6})
        for (const double kept : {0.0, 4e5}) {
            const VolumeSlope sound = elastic_volume(law, e, kept), moves = elastic_volume(most, e, kept),
                              still = elastic_volume(none, e, kept);
            EXPECT_TRUE(close(moves.volume, 0.75 * sound.volume, 1e-14)) << e;
            EXPECT_TRUE(close(moves.slope, 0.75 * sound.slope, 1e-14)) << e;
            EXPECT_EQ(still.volume, 0.0) << e;
            EXPECT_EQ(still.slope, 0.0) << e;
        }
}

// (E-4): above the springs a hand brake that is on takes the free play away, below them nothing.
TEST(Elastic, WhatTheHandBrakeTookUpIsTheFreePlay) {
    const ElasticLaw law{1e-13, 2e-7, 7e5, 1e5, 0.8e-6, 1e5, 3e5}, on = taken_up(law);
    const auto less = [&](double e) {
        return elastic_volume(law, e, 0.0).volume - elastic_volume(on, e, 0.0).volume;
    };
    EXPECT_TRUE(close(less(5e5), 0.8e-6, 1e-12));
    EXPECT_EQ(less(0.9e5), 0.0);
}

} // namespace
} // namespace clearstroke
