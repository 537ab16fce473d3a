#include "deck/gravity.h"

#include <gtest/gtest.h>

#include "units/quantity.h"

namespace weighwright::deck {
namespace {

constexpr double kHalfPi = 1.5707963267948966;

// NIMA TR8350.2, 3rd ed. (2000), table 3.4: gamma_e = 9.7803253359, gamma_p = 9.8321849378 m/s2.
// Tolerance: half the last printed digit and what the constants of the formula are rounded to.
TEST(NormalGravity, IsThatOfWgs84AtEquatorAndPole) {
  EXPECT_NEAR(normal_gravity_m_per_s2(0.0, 0.0), 9.7803253359, 1e-10);
  EXPECT_NEAR(normal_gravity_m_per_s2(kHalfPi, 0.0), 9.8321849378, 1e-9);
  EXPECT_NEAR(normal_gravity_m_per_s2(-kHalfPi, 0.0), 9.8321849378, 1e-9);
}

// Free-air gradient 0.3086 mGal/m = 3.086e-6 /s2 (Torge & Mueller, Geodesy, 4th ed.; from memory,
// unverified), a mean over latitudes, which differ by less than 0.1 %; hence the tolerance.
TEST(NormalGravity, FallsByTheFreeAirGradient) {
  const double latitude_rad = kHalfPi / 2.0;
  const double fall =
      normal_gravity_m_per_s2(latitude_rad, 100.0) - normal_gravity_m_per_s2(latitude_rad, 0.0);
  EXPECT_NEAR(fall / 100.0, -3.086e-6, 0.003e-6);
}

// Standard gravity 9.80665 m/s2 was chosen for latitude 45 deg at the level of the sea; today's
// value there is 9.8062 (3rd General Conference on Weights and Measures, 1901; WGS 84 value by
// table 3.4).
TEST(NormalGravity, IsNearStandardGravityAtMidLatitude) {
  EXPECT_NEAR(normal_gravity_m_per_s2(kHalfPi / 2.0, 0.0), units::kStandardGravity_m_per_s2, 6e-4);
}

}  // namespace
}  // namespace weighwright::deck
