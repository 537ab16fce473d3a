#include "trim/indications.h"

#include <gtest/gtest.h>

#include <cmath>

#include "shifts.h"

namespace weighwright::trim {
namespace {

// JCGM 100:2008, F.2.2.1: a rectangular error of full width w has the standard uncertainty
// w / (2 sqrt 3). P = I + d/2 - added: OIML R 76-1:2006, A.4.4.3.
record::LoadReading changed_over(double zero_before_kg, double zero_after_kg) {
  record::LoadReading reading = tests::reading(tests::over(0), 10000.0, 10020.0);
  reading.added_kg = 6.0;
  reading.zero_before_kg = zero_before_kg;
  reading.zero_after_kg = zero_after_kg;
  reading.resolution_kg = 20.0;
  return reading;
}

TEST(SmallWeights, AtTheLoadAloneLeaveTheZeroRounded) {
  const auto found = indications(tests::bridge(), {changed_over(0.0, 0.0)});
  ASSERT_EQ(found.size(), 1U);
  EXPECT_DOUBLE_EQ(found[0].kg, 10024.0);
  // 0.3 d of repeatability, 2 kg steps at the load, two zeros to 20 kg
  EXPECT_NEAR(found[0].u_kg, std::sqrt(36.0 + 4.0 / 12.0 + 400.0 / 24.0), 1e-9);
}

TEST(SmallWeights, AtZeroTooMakeItAsFineAsTheLoad) {
  const auto found = indications(tests::bridge(), {changed_over(3.0, 1.0)});
  ASSERT_EQ(found.size(), 1U);
  EXPECT_DOUBLE_EQ(found[0].kg, 10022.0);
  EXPECT_NEAR(found[0].u_kg, std::sqrt(36.0 + 4.0 / 12.0 + 4.0 / 24.0), 1e-9);
}

}  // namespace
}  // namespace weighwright::trim
