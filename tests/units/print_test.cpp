#include <gtest/gtest.h>

#include <limits>

#include "units/place.h"
#include "units/quantity.h"

namespace weighwright::units {
namespace {

// The expected texts of this file are the wanted wording itself; there is no outside source for
// them.

TEST(PrintExact, IsShortestDecimalText) {
  EXPECT_EQ(print_exact(0.1), "0.1");
  EXPECT_EQ(print_exact(9.80665), "9.80665");
  EXPECT_EQ(print_exact(1e20), "1e+20");
  EXPECT_EQ(print_exact(252e6, Kind::bending_rigidity), "2.52e+08 N m2");
  EXPECT_EQ(print_exact(0.05, Kind::fraction), "0.05");
}

TEST(PrintFixed, NeverShowsANegativeZero) {
  EXPECT_EQ(print_fixed(-0.001, 2), "0.00");
  EXPECT_EQ(print_fixed(-0.0, 0), "0");
  EXPECT_EQ(print_fixed(1.005, 1), "1.0");
  EXPECT_EQ(print_fixed(-1.25, 2), "-1.25");
  EXPECT_EQ(print_fixed(2.0, -3), "2");
  EXPECT_EQ(print_fixed(std::numeric_limits<double>::max(), 2).size(), 312U);
}

TEST(PrintTurns, SaysTurnsAsATechnicianDoes) {
  EXPECT_EQ(print_turns(0.75, 8), "3/4");
  EXPECT_EQ(print_turns(-1.25, 8), "-1 1/4");
  EXPECT_EQ(print_turns(2.0, 8), "2");
  EXPECT_EQ(print_turns(0.125, 8), "1/8");
  EXPECT_EQ(print_turns(0.0, 8), "0");
  EXPECT_EQ(print_turns(-0.0, 8), "0");
  EXPECT_EQ(print_turns(5.0 / 6.0, 6), "5/6");
}

TEST(PrintTurns, FallsBackToDecimalsForWhatCannotBeSet) {
  EXPECT_EQ(print_turns(0.33, 8), "0.33");
  EXPECT_EQ(print_turns(0.5, 0), "0.50");
  EXPECT_EQ(print_turns(1e300, 8).size(), 304U);
  EXPECT_EQ(print_turns(std::numeric_limits<double>::quiet_NaN(), 8), "nan");
}

TEST(StandLabel, ReadsBackWhatItPrints) {
  for (int i = 0; i < 200; ++i) EXPECT_EQ(parse_stand(print(StandIndex{i})), StandIndex{i});
  EXPECT_EQ(print(StandIndex{0}), "1L");
  EXPECT_EQ(print(StandIndex{3}), "2R");
  EXPECT_EQ(print(Side::right), "right");
}

TEST(StandLabel, RefusesWhatIsNone) {
  for (const char* const text : {"", "L", "2", "0L", "02L", "2l", "2LR", "-1L", " 2L", "L2",
                                 "99999L", "2.L", "1234567890123L"}) {
    EXPECT_FALSE(parse_stand(text).has_value()) << text;
  }
}

}  // namespace
}  // namespace weighwright::units
