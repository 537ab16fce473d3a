#include <gtest/gtest.h>

#include "shifts.h"
#include "trim/indications.h"

namespace weighwright::trim {
namespace {

using tests::bridge;
using tests::over;
using tests::reading;

record::LoadReading zero_row(double shows_kg) {
  record::LoadReading row = reading(over(0), 0.0, shows_kg);
  row.zero_before_kg.reset();
  row.zero_after_kg.reset();
  return row;
}

record::LoadReading loaded(double load_kg, double shows_kg) {
  record::LoadReading row = reading(over(0), load_kg, shows_kg);
  row.zero_before_kg.reset();
  row.zero_after_kg.reset();
  return row;
}

// OIML R 76-1:2006, A.4.4.3: P = I + e/2 - dL, of the empty deck as well: 0 + 10 - 2 = 8 before
// rounding, 10 000 + 10 - 2 = 10 008; less its zero 10 000.
TEST(ZeroRows, AreTakenBeforeRoundingWhereSmallWeightsWereAdded) {
  record::LoadReading zero = zero_row(0.0);
  zero.added_kg = 2.0;
  record::LoadReading load = loaded(10000.0, 10000.0);
  load.added_kg = 2.0;
  const std::vector<Indication> list = indications(bridge(), {zero, load});
  ASSERT_EQ(list.size(), 1U);
  EXPECT_DOUBLE_EQ(list[0].kg, 10000.0);
  EXPECT_TRUE(list[0].from_empty);
}

TEST(ZeroRows, TellOneDriftOnce) {
  const std::vector<Indication> list = indications(
      bridge(),
      {zero_row(0.0), loaded(10000.0, 10000.0), loaded(10000.0, 10000.0), zero_row(20.0)});
  ASSERT_EQ(list.size(), 2U);
  EXPECT_TRUE(list[0].zero_change_kg);
  EXPECT_FALSE(list[1].zero_change_kg);
  EXPECT_DOUBLE_EQ(list[1].kg, 9990.0);
}

// By hand: e is 10 kg up to 30 t and 20 kg above; a display counts by the e of the load on it.
TEST(Ranges, GiveEveryLoadItsOwnStep) {
  deck::Deck deck = bridge();
  deck.ranges = {{30000.0, 10.0}, {60000.0, 20.0}};
  deck.interval_kg = 10.0;
  EXPECT_DOUBLE_EQ(deck.interval_at_kg(30000.0), 10.0);
  EXPECT_DOUBLE_EQ(deck.interval_at_kg(30020.0), 20.0);
  const std::vector<Indication> list =
      indications(deck, {loaded(20000.0, 20010.0), loaded(40000.0, 40020.0)});
  EXPECT_DOUBLE_EQ(list[0].resolution_kg, 10.0);
  EXPECT_DOUBLE_EQ(list[1].resolution_kg, 20.0);
}

}  // namespace
}  // namespace weighwright::trim
