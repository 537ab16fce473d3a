#include "share/level.h"

#include <gtest/gtest.h>
#include <rapidcheck.h>

#include <array>
#include <cmath>
#include <string>

// outside check: plate on four screws | rise of a screw over the spacing, by hand; 0.15 mm = 21.6°
//  of M20

namespace weighwright::share {
namespace {

constexpr std::size_t kNearLeft = 0;
constexpr std::size_t kNearRight = 1;
constexpr std::size_t kFarLeft = 2;
constexpr std::size_t kFarRight = 3;

deck::Stand plate(double side_m) {
  deck::Stand stand;  // M20 coarse, pitch 2.5 mm (ISO 262), eighths
  stand.plate_along_m = stand.plate_across_m = side_m;
  return stand;
}

/// Farthest the four turns are from one plane, turns.
double rock(const std::array<double, 4>& turns) {
  return std::abs(turns[kNearLeft] + turns[kFarRight] - turns[kNearRight] - turns[kFarLeft]);
}

// By hand: 0.75 turn of 2.5 mm = 1.875 mm over 250 mm = 7.5 mm/m.
TEST(PlateLevel, TurnsThreeQuartersBetweenTheSidesForSevenAndAHalfMillimetresAMetre) {
  const LevelMove move = level_plate(plate(0.25), 7.5e-3, 0.0, 0.0);
  EXPECT_NEAR(move.turns[kNearLeft] - move.turns[kFarLeft], 0.75, 1e-12);
  EXPECT_NEAR(move.turns[kNearRight] - move.turns[kFarRight], 0.75, 1e-12);
  EXPECT_NEAR(move.raise_m[kNearLeft] - move.raise_m[kFarLeft], 1.875e-3, 1e-15);
  EXPECT_GT(move.turns[kNearLeft], 0.0);  // the end-2 side is high, so the near side goes up
  EXPECT_NEAR(move.left_along, 0.0, 1e-12);
  EXPECT_NEAR(move.left_across, 0.0, 1e-12);
  EXPECT_NEAR(move.rock_m, 0.0, 1e-15);
}

TEST(PlateLevel, LowersTheLeftSideWhereItIsHigh) {
  const LevelMove move = level_plate(plate(0.25), 0.0, 7.5e-3, 0.0);
  EXPECT_NEAR(move.turns[kNearRight] - move.turns[kNearLeft], 0.75, 1e-12);
  EXPECT_NEAR(move.turns[kFarRight] - move.turns[kFarLeft], 0.75, 1e-12);
}

// By hand: plate of 300 mm, 0.5 mm/m off (a builder's level): 0.15 mm = 0.06 turn = 21.6 degrees.
TEST(PlateLevel, NeedsTwentyOneDegreesForWhatABuildersLevelShows) {
  const LevelMove move = level_plate(plate(0.30), 0.5e-3, 0.0, 0.0);
  EXPECT_NEAR((move.raise_m[kNearLeft] - move.raise_m[kFarLeft]) * 1e3, 0.15, 1e-12);
  EXPECT_NEAR((move.exact_turns[kNearLeft] - move.exact_turns[kFarLeft]) * 360.0, 21.6, 1e-9);
}

TEST(PlateLevel, LeavesALevelPlateAlone) {
  const LevelMove move = level_plate(plate(0.25), 0.0, 0.0, 0.0);
  for (const double turns : move.turns) EXPECT_EQ(turns, 0.0);
}

TEST(PlateLevel, RaisesAllFourAlikeForHeightAlone) {
  const LevelMove move = level_plate(plate(0.25), 0.0, 0.0, 2.5e-3);
  for (const double turns : move.turns) EXPECT_NEAR(turns, 1.0, 1e-12);
}

/// All settable coplanar turns within two divisions of the exact ones, each screw by itself: the
/// least squared error, in divisions.
double least_error(const std::array<double, 4>& exact_divisions) {
  double best = 1e9;
  std::array<int, 4> off{};
  for (int code = 0; code < 625; ++code) {
    int rest = code;
    std::array<double, 4> steps{};
    double error = 0.0;
    for (std::size_t i = 0; i < 4; ++i) {
      off[i] = rest % 5 - 2;
      rest /= 5;
      steps[i] = std::round(exact_divisions[i]) + off[i];
      error += std::pow(steps[i] - exact_divisions[i], 2);
    }
    if (rock(steps) < 0.5) best = std::min(best, error);
  }
  return best;
}

TEST(PlateLevel, SetsTheNearestTurnsThatLeaveNoScrewLoose) {
  const bool holds = rc::check("rounded turns", [] {
    deck::Stand stand = plate(0.1 + 0.01 * *rc::gen::inRange(0, 40));
    stand.plate_across_m = 0.1 + 0.01 * *rc::gen::inRange(0, 40);
    stand.division = *rc::gen::element(4, 6, 8);
    const double along = 1e-5 * *rc::gen::inRange(-2000, 2000);
    const double across = 1e-5 * *rc::gen::inRange(-2000, 2000);
    const double raise_m = 1e-5 * *rc::gen::inRange(-1000, 1000);
    const LevelMove move = level_plate(stand, along, across, raise_m);
    RC_ASSERT(rock(move.turns) < 1e-9);
    RC_ASSERT(rock(move.exact_turns) < 1e-9);
    RC_ASSERT(move.rock_m < 1e-12);
    std::array<double, 4> exact{};
    double error = 0.0;
    for (std::size_t i = 0; i < 4; ++i) {
      const double divisions = move.turns[i] * stand.division;
      RC_ASSERT(std::abs(divisions - std::round(divisions)) < 1e-9);
      exact[i] = move.exact_turns[i] * stand.division;
      error += std::pow(divisions - exact[i], 2);
    }
    RC_ASSERT(error < least_error(exact) + 1e-6);
    // What remains is what the rounding left: at most one division over the plate.
    const double step_m = stand.pitch_m / stand.division;
    RC_ASSERT(std::abs(move.left_along) <= step_m / stand.plate_along_m + 1e-12);
    RC_ASSERT(std::abs(move.left_across) <= step_m / stand.plate_across_m + 1e-12);
  });
  EXPECT_TRUE(holds);
}

TEST(PlateLevel, NamesTheScrewsAsSeenFromEndOne) {
  EXPECT_EQ(std::string(print(Corner::near_left)), "near left");
  EXPECT_EQ(std::string(print(Corner::far_right)), "far right");
}

}  // namespace
}  // namespace weighwright::share
