#include "job/speak.h"

#include <gtest/gtest.h>

namespace weighwright::job {
namespace {

deck::Deck deck_in(deck::UnitSystem units) {
  deck::Deck deck;
  deck.units = units;
  return deck;
}

TEST(Speaker, TellsAForceAsTheMassThatWeighsItHere) {
  const Speaker metric(deck_in(deck::UnitSystem::metric));
  EXPECT_EQ(metric.mass(9806.65), "1000 kg");
  EXPECT_EQ(metric.mass(-98.0665), "-10 kg");
  EXPECT_EQ(metric.mass(-0.001), "0 kg");
  deck::Deck elsewhere = deck_in(deck::UnitSystem::metric);
  elsewhere.site.gravity_m_per_s2 = 9.78;
  EXPECT_EQ(Speaker(elsewhere).mass(9780.0), "1000 kg");
}

TEST(Speaker, SpeaksOfPoundsInchesAndPoundFeetToUsDecks) {
  // 1 lb = 0.453 592 37 kg, 1 in = 25.4 mm (NIST SP 811, B.8); 1 lbf ft = 1.355 818 N m (same
  // table)
  const Speaker us(deck_in(deck::UnitSystem::us));
  EXPECT_EQ(us.mass(20000 * 0.45359237 * 9.80665), "20,000 lb");
  EXPECT_EQ(us.length(0.0254 / 8.0), "0.125 in");
  EXPECT_EQ(us.torque(60 * 1.355818), "60 lbf ft");
}

TEST(Speaker, RoundsJacksUp) {
  const Speaker metric(deck_in(deck::UnitSystem::metric));
  EXPECT_EQ(metric.jack_size(5001 * 9.80665), "5.5 t");
  EXPECT_EQ(Speaker(deck_in(deck::UnitSystem::us)).jack_size(5001 * 0.45359237 * 9.80665),
            "6,000 lb");
}

TEST(Speaker, IsNeverCertain) {
  EXPECT_EQ(chance(1.0), "over 99 %");
  EXPECT_EQ(chance(0.0), "under 1 %");
  EXPECT_EQ(chance(0.846), "85 %");
}

TEST(Speaker, ShowsNoNegativeZero) {
  EXPECT_EQ(signal(-0.000001), "0.00 mV");
}

TEST(Speaker, Lists) {
  EXPECT_EQ(all_of({}), "");
  EXPECT_EQ(all_of({"a"}), "a");
  EXPECT_EQ(all_of({"a", "b", "c"}), "a, b and c");
  EXPECT_EQ(count_of(1, "stand"), "1 stand");
  EXPECT_EQ(count_of(0, "stand"), "0 stands");
}

}  // namespace
}  // namespace weighwright::job
