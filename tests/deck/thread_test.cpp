#include "deck/thread.h"

#include <gtest/gtest.h>

// outside check: pitch of coarse metric threads | ISO 261:1998, table 2

namespace weighwright::deck {
namespace {

// ISO 261:1998, table 2, coarse pitches in mm.
TEST(Thread, KnowsTheCoarsePitchesOfIso261) {
  EXPECT_DOUBLE_EQ(parse_thread("M12")->pitch_m, 1.75e-3);
  EXPECT_DOUBLE_EQ(parse_thread("M16")->pitch_m, 2.0e-3);
  EXPECT_DOUBLE_EQ(parse_thread("M20")->pitch_m, 2.5e-3);
  EXPECT_DOUBLE_EQ(parse_thread("M24")->pitch_m, 3.0e-3);
  EXPECT_DOUBLE_EQ(parse_thread("M30")->pitch_m, 3.5e-3);
  EXPECT_DOUBLE_EQ(parse_thread("M36")->pitch_m, 4.0e-3);
  EXPECT_DOUBLE_EQ(parse_thread("M36")->diameter_m, 36e-3);
}

TEST(Thread, TakesAPitchThatIsWritten) {
  EXPECT_DOUBLE_EQ(parse_thread("M20x1.5")->pitch_m, 1.5e-3);
  EXPECT_DOUBLE_EQ(parse_thread("M20X1.5")->diameter_m, 20e-3);
}

// ASME B1.1: 5/8-11 UNC has 11 threads an inch; 1 1/4-7 UNC has 7.
TEST(Thread, ReadsInchThreads) {
  EXPECT_DOUBLE_EQ(parse_thread("5/8-11 UNC")->pitch_m, 25.4e-3 / 11.0);
  EXPECT_DOUBLE_EQ(parse_thread("5/8-11 UNC")->diameter_m, 0.625 * 25.4e-3);
  EXPECT_DOUBLE_EQ(parse_thread("1 1/4-7")->diameter_m, 1.25 * 25.4e-3);
  EXPECT_DOUBLE_EQ(parse_thread("1-1/4-7 UNC")->diameter_m, 1.25 * 25.4e-3);
  EXPECT_DOUBLE_EQ(parse_thread("3/4-16UNF")->pitch_m, 25.4e-3 / 16.0);
}

TEST(Thread, RefusesWhatIsNone) {
  for (const char* const text :
       {"", "M", "M0", "M21", "Mx2", "M20x", "M20x30", "M20x-1", "M1e1", "5/8", "-11", "5/8-",
        "5/8-0", "0-11", "1/0-11", "thirty", "1/64-11"}) {
    EXPECT_FALSE(parse_thread(text).has_value()) << text;
  }
  EXPECT_FALSE(parse_thread(std::string(100, 'M')).has_value());
}

}  // namespace
}  // namespace weighwright::deck
