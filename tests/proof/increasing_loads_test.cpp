// Which increasing loads a test needs. The tables of limits are those of the rulebooks, the source
// beside each; how near and how many is common practice, no source. Scales are our own invention.
#include "proof/increasing_loads.h"

#include <gtest/gtest.h>

#include <vector>

#include "rules/reading/read_rulebook.h"

// outside check: increasing loads at Min, the steps of the limit and Max | R 76-1:2006, 3.5.1,
// table
//  6 and 3.2, table 3 (Min 20 e), as quoted by French decree 91-330 (1991), Annex I; HB 44, 2.20,
//  table 6, III L (from memory, unverified)

namespace weighwright::proof {
namespace {

constexpr rules::Occasion kNew = rules::Occasion::as_new;

rules::Scale scale(const char* accuracy_class, double capacity_kg, double interval_kg) {
  rules::Scale one;
  one.accuracy_class = accuracy_class;
  one.capacity_kg = capacity_kg;
  one.interval_kg = interval_kg;
  one.supports = 8;
  one.sections = 4;
  return one;
}

std::vector<double> kg_of(const std::vector<IncreasingLoad>& loads) {
  std::vector<double> all;
  for (const IncreasingLoad& load : loads) all.push_back(load.kg);
  return all;
}

// R 76-1:2006, Table 3 (III: Min 20 e) and Table 6 (III: 500 e, 2000 e).
TEST(IncreasingLoads, AreMinTheStepsAndMax) {
  const auto loads =
      increasing_loads(rules::built_in("R76"), scale("III", 60'000.0, 20.0), kNew, 60'000.0);
  EXPECT_EQ(kg_of(loads), (std::vector<double>{400.0, 10'000.0, 40'000.0, 60'000.0}));
}

// HB 44, Table 6, III L: 1 d to 500 d, 1 d more every 500 d: 100 t by 10 kg has
// 19 steps.
TEST(IncreasingLoads, AreAHandfulWhereLimitsStepEvery500Divisions) {
  const auto loads =
      increasing_loads(rules::built_in("H44"), scale("III L", 100'000.0, 10.0), kNew, 100'000.0);
  ASSERT_GE(loads.size(), 5U);
  EXPECT_LE(loads.size(), 8U);
  EXPECT_DOUBLE_EQ(loads[0].kg, 5'000.0);
  EXPECT_DOUBLE_EQ(loads[1].kg, 10'000.0);
  EXPECT_DOUBLE_EQ(loads.back().kg, 100'000.0);
  for (std::size_t i = 1; i < loads.size(); ++i) {
    EXPECT_GT(loads[i].kg, loads[i - 1].kg);
    EXPECT_LE(loads[i].kg - loads[i - 1].kg, 30'000.0);  // spread: no great gap
  }
}

TEST(IncreasingLoads, EndAtTheGreatestKnownLoad) {
  const rules::Scale us = scale("III L", 100'000.0, 10.0);
  EXPECT_EQ(kg_of(increasing_loads(rules::built_in("H44"), us, kNew, 15'500.0)),
            (std::vector<double>{5'000.0, 10'000.0, 15'000.0, 15'500.0}));
  // A greatest load that counts as the step is the step: acceptance, 3 d * 0.5 = 15 kg at 15 t.
  EXPECT_EQ(kg_of(increasing_loads(rules::built_in("H44"), us, kNew, 15'004.0)),
            (std::vector<double>{5'000.0, 10'000.0, 15'004.0}));
  EXPECT_TRUE(increasing_loads(rules::built_in("H44"), us, kNew, 0.0).empty());
}

TEST(IncreasingLoads, NineTonnesAreNotTheStepAtTen) {
  const auto loads =
      increasing_loads(rules::built_in("R76"), scale("III", 60'000.0, 20.0), kNew, 60'000.0);
  const IncreasingLoad& step = loads[1];
  EXPECT_FALSE(step.is_met_by(9'000.0));
  EXPECT_FALSE(step.is_met_by(9'790.0));
  EXPECT_TRUE(step.is_met_by(9'800.0));
  EXPECT_FALSE(loads.back().is_met_by(58'700.0));
  EXPECT_TRUE(loads.back().is_met_by(58'800.0));
}

// R 76-1:2006, Table 6: 10 kg up to 500 e = 10 t, 20 kg above. A load above the step is judged by
// the next limit, unless it is so near that it counts as the step (a third of 10 kg).
TEST(IncreasingLoads, ALoadAboveAStepIsNotTheStep) {
  const auto loads =
      increasing_loads(rules::built_in("R76"), scale("III", 60'000.0, 20.0), kNew, 60'000.0);
  const IncreasingLoad& step = loads[1];
  EXPECT_TRUE(step.is_met_by(10'000.12));
  EXPECT_TRUE(step.is_met_by(10'003.3));
  EXPECT_FALSE(step.is_met_by(10'004.0));
  EXPECT_FALSE(step.is_met_by(11'000.0));
  // Nor does a greatest load just beyond a step make the step superfluous.
  EXPECT_EQ(
      kg_of(increasing_loads(rules::built_in("R76"), scale("III", 42'000.0, 20.0), kNew, 42'000.0)),
      (std::vector<double>{400.0, 10'000.0, 40'000.0, 42'000.0}));
}

}  // namespace
}  // namespace weighwright::proof
