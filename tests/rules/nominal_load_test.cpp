// Which load counts as the nominal one that it stands for. Scales are our own invention.
//
// The allowance is our own; its size is that of the third in R 76-1:2006, 3.7.1 (error of weights,
// as quoted by OIML Bulletin 1994/02). Limits: R 76-1:2006, 3.5.1, Table 6 (class III: 0.5 e to
// 500 e, 1 e to 2000 e, 1.5 e above), doubled in service (3.5.2).
#include "rules/nominal_load.h"

#include <gtest/gtest.h>

#include "scales.h"

// outside check: a third of the limit at a step of the limits and at Max | R 76-1:2006, 3.5.1,
//  Table 6 and 3.7.1, as quoted by OIML Bulletins 2013/03 and 1994/02

namespace weighwright::rules {
namespace {

using namespace testing;  // NOLINT(google-build-using-namespace)

constexpr double kGram = 0.001;

TEST(NominalLoad, IsMetWithinAThirdOfTheLimitThere) {
  const Scale scale = metric("III", 60'000, 20);
  const auto at_most = [&](double load_kg, double most_kg) {
    return is_at_most(r76(), scale, Occasion::as_new, load_kg, most_kg);
  };
  EXPECT_NEAR(nominal_allowance_kg(r76(), scale, Occasion::as_new, 60'000), 10.0, 1e-9);
  EXPECT_TRUE(at_most(60'000.72, 60'000));
  EXPECT_TRUE(at_most(60'010.0, 60'000));
  EXPECT_FALSE(at_most(60'010.0 + kGram, 60'000));
  EXPECT_TRUE(at_most(10'003.333, 10'000));  // 10 kg there
  EXPECT_FALSE(at_most(10'003.334, 10'000));
  EXPECT_NEAR(nominal_allowance_kg(r76(), scale, Occasion::routine, 10'000), 20.0 / 3.0, 1e-9);
}

TEST(NominalLoad, JustAboveAStepIsJudgedByTheTighterLimit) {
  const Scale scale = metric("III", 60'000, 20);
  const auto judged_as = [&](double load_kg) {
    return judged_as_kg(r76(), scale, Occasion::as_new, load_kg);
  };
  EXPECT_DOUBLE_EQ(judged_as(10'000.12), 10'000.0);
  EXPECT_DOUBLE_EQ(judged_as(40'006.0), 40'000.0);  // a third of 20 kg
  EXPECT_DOUBLE_EQ(judged_as(60'000.72), 60'000.0);
  EXPECT_DOUBLE_EQ(judged_as(9'999.88), 9'999.88);  // below: the tighter limit is its own
  EXPECT_DOUBLE_EQ(judged_as(10'020.0), 10'020.0);  // one interval more is another load
  EXPECT_DOUBLE_EQ(judged_as(25'000.3), 25'000.3);
}

/// Where a table ends at Max there is no limit above it.
TEST(NominalLoad, AboveTheLastLimitOfAClassIsJudgedAsMax) {
  const Scale scale = metric("III", 200'000, 20);  // 10 000 e: the end of Table 6, class III
  ASSERT_FALSE(limit_at(r76(), scale, Occasion::as_new, 200'001));
  EXPECT_DOUBLE_EQ(judged_as_kg(r76(), scale, Occasion::as_new, 200'001), 200'000.0);
}

TEST(NominalLoad, WithoutALimitIsMetByItselfOnly) {
  const Scale scale = metric("no such class", 60'000, 20);
  EXPECT_EQ(nominal_allowance_kg(r76(), scale, Occasion::as_new, 60'000), 0.0);
  EXPECT_TRUE(is_at_most(r76(), scale, Occasion::as_new, 60'000, 60'000));
  EXPECT_FALSE(is_at_most(r76(), scale, Occasion::as_new, 60'000.1, 60'000));
}

}  // namespace
}  // namespace weighwright::rules
