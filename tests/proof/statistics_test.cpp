#include <gtest/gtest.h>

#include <array>
#include <cmath>
#include <vector>

#include "proof/outlier.h"
#include "proof/spread.h"

// outside check: pooled deviation, deviation of five readings | JCGM 100:2008, H.3.6 Note and
//  table H.2
// outside check: outliers among readings (Grubbs) | NIST/SEMATECH e-Handbook of Statistical
//  Methods, 1.3.5.17.1; critical values by its formula with SciPy

namespace weighwright::proof {
namespace {

// JCGM 100:2008, H.3.6 Note (pooled); 2.1, 1.7, 2.6 of 6, 6, 3 readings by hand: 2.041650, 12.
TEST(Spread, IsPooledByDegreesOfFreedom) {
  const std::array<Spread, 4> sets = {
      {{0, 2.1, 0, 6}, {0, 1.7, 0, 6}, {0, 2.6, 0, 3}, {0, 0.0, 0, 1}}};
  const PooledSpread all = pooled(sets);
  EXPECT_NEAR(all.s, 2.041650, 5e-7);
  EXPECT_EQ(all.dof, 12.0);
  EXPECT_EQ(pooled({}).dof, 0.0);
}

// JCGM 100:2008, table H.2: five readings of a voltage, mean 4.9990 V, s of the mean 0.0032 V.
TEST(Spread, IsThatOfTheGuidesVoltages) {
  const std::vector<double> volts = {5.007, 4.994, 5.005, 4.990, 4.999};
  const Spread spread = spread_of(volts);
  EXPECT_NEAR(spread.mean, 4.9990, 5e-5);
  EXPECT_NEAR(spread.s / std::sqrt(5.0), 0.0032, 5e-5);
  EXPECT_NEAR(spread.range, 0.017, 1e-12);
  EXPECT_EQ(spread_of(std::vector<double>{3.0}).s, 0.0);
  EXPECT_EQ(spread_of({}).count, 0);
}

const std::vector<double> kUranium = {199.31, 199.53, 200.19, 200.82,
                                      201.92, 201.95, 202.18, 245.57};

// NIST/SEMATECH e-Handbook of Statistical Methods, 1.3.5.17.1: mass spectrometer readings of a
// uranium isotope, G = 2.468765, critical value of the one-sided test 2.031652.
TEST(Grubbs, FlagsTheReadingOfNistsExample) {
  const auto test = grubbs(kUranium, 0.05, Sides::one);
  ASSERT_TRUE(test);
  EXPECT_NEAR(test->statistic, 2.468765, 5e-7);
  EXPECT_NEAR(test->critical, 2.031652, 1e-6);
  EXPECT_TRUE(test->flagged);
  EXPECT_EQ(test->index, 7);
}

double critical(int count, double alpha, Sides sides) {
  std::vector<double> readings;
  for (int i = 0; i < count; ++i) readings.push_back(i);
  const auto test = grubbs(readings, alpha, sides);
  return test ? test->critical : 0.0;
}

// The handbook's formula with t by SciPy.
TEST(Grubbs, HasTheCriticalValuesOfTheHandbooksFormula) {
  EXPECT_NEAR(critical(3, 0.05, Sides::one), 1.1531, 5e-5);
  EXPECT_NEAR(critical(5, 0.05, Sides::one), 1.6714, 5e-5);
  EXPECT_NEAR(critical(6, 0.05, Sides::one), 1.8221, 5e-5);
  EXPECT_NEAR(critical(10, 0.05, Sides::one), 2.1761, 5e-5);
  EXPECT_NEAR(critical(3, 0.05, Sides::two), 1.1543, 5e-5);
  EXPECT_NEAR(critical(5, 0.05, Sides::two), 1.7150, 5e-5);
  EXPECT_NEAR(critical(6, 0.05, Sides::two), 1.8871, 5e-5);
  EXPECT_NEAR(critical(10, 0.05, Sides::two), 2.2900, 5e-5);
  EXPECT_NEAR(critical(6, 0.01, Sides::two), 1.9728, 5e-5);
}

// With three readings the statistic is at most (3 - 1)/sqrt 3: two alike and one other would always
// be flagged, which is what a scale with a coarse interval shows every day.
TEST(Grubbs, HasNoPowerWithThreeReadings) {
  const auto test = grubbs(std::vector<double>{20000, 20000, 20020});
  ASSERT_TRUE(test);
  EXPECT_TRUE(test->powerless);
  EXPECT_FALSE(test->flagged);
  EXPECT_LE(test->statistic, 2.0 / std::sqrt(3.0) + 1e-9);
  EXPECT_FALSE(grubbs(std::vector<double>{1, 2}));
  EXPECT_FALSE(grubbs(std::vector<double>{5, 5, 5, 5}));
}

TEST(Grubbs, LeavesOrdinaryReadingsAlone) {
  const auto test = grubbs(std::vector<double>{199.31, 199.53, 200.19, 200.82, 201.92, 201.95});
  ASSERT_TRUE(test);
  EXPECT_FALSE(test->flagged);
}

}  // namespace
}  // namespace weighwright::proof
