// Trains of parcels: both phases are conserved whatever is done to them, and order is kept.
#include "models/contents.hpp"

#include "tests/models/support.hpp"

namespace clearstroke {
namespace {

using test::close;

Train train_of(const std::vector<Parcel>& parcels) {
    Train t;
    for (const Parcel& p : parcels) t.push(Side::to, p);
    return t;
}
const Parcel liquid{1e-6, 0.0}, gas{0.0, 2e-7};

TEST(Train, NeighboursOfOneKindMerge) {
    const Train t = train_of({liquid, liquid, gas, gas, liquid});
    ASSERT_EQ(t.size(), 3u);
    EXPECT_DOUBLE_EQ(t.parcels()[0].liquid, 2e-6);
    EXPECT_DOUBLE_EQ(t.parcels()[1].gas, 4e-7);
}

TEST(Train, TakesTheNearestOfThePhase) {
    Train t = train_of({liquid, gas, liquid});
    EXPECT_DOUBLE_EQ(t.take_gas(Side::to, 1e-7), 1e-7); // past the liquid at that end
    EXPECT_DOUBLE_EQ(t.take_liquid(Side::from, 1.5e-6), 1.5e-6);
    EXPECT_DOUBLE_EQ(t.total().liquid, 0.5e-6);
    EXPECT_DOUBLE_EQ(t.total().gas, 1e-7);
    EXPECT_DOUBLE_EQ(t.take_gas(Side::from, 5e-7), 1e-7); // no more than there is
}

TEST(Train, AdvancingGasMovesLiquidBehindIt) {
    Train t = train_of({liquid, gas, liquid});
    t.let_gas_advance(3e-7);
    ASSERT_EQ(t.size(), 3u);
    EXPECT_TRUE(close(t.parcels()[0].liquid, 1.3e-6, 1e-12));
    EXPECT_TRUE(close(t.parcels()[2].liquid, 0.7e-6, 1e-12));
    t.let_gas_advance(-3e-7);
    EXPECT_TRUE(close(t.parcels()[0].liquid, 1e-6, 1e-12));
}

TEST(Train, AdvancingGasNeverOverdrawsTheLiquidAhead) {
    Train t = train_of({liquid, gas, liquid, gas, liquid});
    t.let_gas_advance(5e-6);
    EXPECT_TRUE(close(t.total().liquid, 3e-6, 1e-12));
    EXPECT_TRUE(close(t.total().gas, 4e-7, 1e-12));
    for (const Parcel& p : t.parcels()) EXPECT_GE(p.liquid, 0.0);
}

TEST(Train, SplitAndAppendGiveTheWholeBack) {
    const Train whole = train_of({liquid, gas, liquid});
    for (const double cut : {0.3e-6, 1.1e-6, 1.3e-6, 5e-6}) {
        Train rest = whole;
        Train front = rest.split_front(cut, 1.0);
        EXPECT_TRUE(close(front.total().liquid + front.total().gas, std::min(cut, 2.2e-6), 1e-9)) << cut;
        front.append(rest);
        EXPECT_TRUE(close(front.total().liquid, 2e-6, 1e-12)) << cut;
        EXPECT_TRUE(close(front.total().gas, 2e-7, 1e-12)) << cut;
        EXPECT_EQ(front.size(), 3u) << cut;
    }
}

TEST(Train, TidyCapsTheCountAndKeepsBothPhases) {
    test::Sampler s(11u);
    for (int k = 0; k < 100; ++k) {
        Train t;
        for (int i = 0; i < 40; ++i)
            t.push(i % 3 ? Side::to : Side::from,
                   i % 2 ? Parcel{s(1e-12, 1e-6), 0.0} : Parcel{0.0, s(1e-12, 1e-6)});
        const Parcel before = t.total();
        t.tidy(12, 1e-10);
        EXPECT_LE(t.size(), 12u) << "case " << k;
        EXPECT_TRUE(close(t.total().liquid, before.liquid, 1e-12)) << "case " << k;
        EXPECT_TRUE(close(t.total().gas, before.gas, 1e-12)) << "case " << k;
    }
}

TEST(Train, TidyKeepsTheOrderOfWhatIsLarge) {
    Train t = train_of({liquid, {0.0, 1e-13}, liquid, gas, liquid});
    t.tidy(12, 1e-10);
    ASSERT_EQ(t.size(), 3u);
    EXPECT_EQ(kind_of(t.parcels()[0]), ParcelKind::liquid);
    EXPECT_EQ(kind_of(t.parcels()[1]), ParcelKind::gas);
}

TEST(Train, MatchSetsTheSumsExactly) {
    Train t = train_of({liquid, gas, liquid});
    t.match(2.1e-6, 1.9e-7);
    EXPECT_NEAR(t.total().liquid, 2.1e-6, 1e-21);
    EXPECT_NEAR(t.total().gas, 1.9e-7, 1e-22);
}

TEST(Train, RandomWorkConservesBothPhases) {
    test::Sampler s(23u);
    for (int k = 0; k < 50; ++k) {
        Train t;
        double liquid_in = 0.0, gas_in = 0.0;
        for (int i = 0; i < 200; ++i) {
            const Side side = s.uniform() < 0.5 ? Side::from : Side::to;
            const double amount = s(1e-10, 1e-6), pick = s.uniform();
            if (pick < 0.3)
                t.push(side, {amount, 0.0}), liquid_in += amount;
            else if (pick < 0.5)
                t.push(side, {0.0, amount}), gas_in += amount;
            else if (pick < 0.6)
                t.push(side, {amount, amount}), liquid_in += amount, gas_in += amount;
            else if (pick < 0.75)
                liquid_in -= t.take_liquid(side, amount);
            else if (pick < 0.85)
                gas_in -= t.take_gas(side, amount);
            else if (pick < 0.95)
                t.let_gas_advance(side == Side::from ? amount : -amount);
            else
                t.tidy(12, 1e-9);
            ASSERT_NEAR(t.total().liquid, liquid_in, 1e-17) << "case " << k << " work " << i;
            ASSERT_NEAR(t.total().gas, gas_in, 1e-17) << "case " << k << " work " << i;
            for (const Parcel& p : t.parcels()) ASSERT_TRUE(p.liquid >= 0.0 && p.gas >= 0.0) << "case " << k;
        }
    }
}

TEST(Train, LeavesMixedWhereTheEndParcelIsSmall) {
    Train t;
    t.push(Side::to, {0.0, 2e-10});
    t.push(Side::to, {1e-6, 0.0});
    const Parcel mixed = t.next_out(Side::from, 1e-9);
    EXPECT_DOUBLE_EQ(mixed.gas, 2e-10);
    EXPECT_DOUBLE_EQ(mixed.liquid, 8e-10); // fills the window
    EXPECT_EQ(t.next_out(Side::to, 1e-9), (Parcel{1e-6, 0.0}));
    EXPECT_EQ(t.next_out(Side::from, 1e-10), (Parcel{0.0, 2e-10}));
}

TEST(Train, PartsSmallFoamIntoItsNeighbours) {
    Train t;
    t.push(Side::to, {1e-6, 0.0});
    t.push(Side::to, {5e-10, 3e-10});
    t.push(Side::to, {0.0, 1e-6});
    t.tidy(12, 1e-12, 2e-9);
    ASSERT_EQ(t.size(), 2u);
    EXPECT_DOUBLE_EQ(t.end(Side::from).liquid, 1e-6 + 5e-10);
    EXPECT_DOUBLE_EQ(t.end(Side::to).gas, 1e-6 + 3e-10);
    Train alone;
    alone.push(Side::to, {5e-10, 3e-10});
    alone.push(Side::to, {1e-6, 0.0});
    alone.tidy(12, 1e-12, 2e-9); // no gas to join
    EXPECT_EQ(alone.size(), 2u);
}

} // namespace
} // namespace clearstroke
