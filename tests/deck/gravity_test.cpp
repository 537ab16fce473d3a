#include "deck/gravity.h"

#include <gtest/gtest.h>

#include <GeographicLib/NormalGravity.hpp>
#include <cmath>

#include "units/quantity.h"

// outside check: normal gravity at equator, pole and 45 degrees | NIMA TR8350.2, 3rd ed. (2000),
//  table 3.4; *Geodesist's Handbook* 1988, p. 356 (GRS 80)
// outside check: normal gravity by latitude and height | GeographicLib 2.1; sample values of its
//  documentation and of a public numerical toolbox
// outside check: fall with height | free-air gradient (Torge & Mueller, *Geodesy*, 4th ed.; from
//  memory, unverified)

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

/// Normal gravity by GeographicLib 2.1 (closed form on confocal ellipsoids), m/s2.
double geographic_lib(double latitude_deg, double height_m) {
  double north = 0.0;
  double up = 0.0;
  GeographicLib::NormalGravity::WGS84().Gravity(latitude_deg, height_m, north, up);
  return std::hypot(north, up);
}

// On the ellipsoid both are closed forms: 1e-9 is what the printed constants of table 3.4 are
// rounded to. Above it, eq. (4-3) of TR8350.2 is a series to the first order of the flattening:
// what it leaves out is some 3 f^2 = 3.4e-5 of the gradient of 3.086e-6 /s2, or 1.1e-10 m/s2 a
// metre (5e-8 of gravity at 5 km).
TEST(NormalGravity, IsThatOfGeographicLib) {
  for (const double latitude_deg : {0.0, 15.0, 30.0, 45.0, 52.3, 60.0, 75.0, 90.0}) {
    for (const double height_m : {0.0, 80.0, 1000.0, 5000.0}) {
      const double ours = normal_gravity_m_per_s2(latitude_deg * kHalfPi / 90.0, height_m);
      EXPECT_NEAR(ours, geographic_lib(latitude_deg, height_m), 1e-9 + 1.1e-10 * height_m)
          << latitude_deg << " deg, " << height_m << " m";
    }
  }
}

// The documentation of GeographicLib gives 308.5 mGal less at 1000 m over 45 deg; that of a public
// numerical toolbox 9.7997 m/s2 at 55 deg, 5000 m.
TEST(NormalGravity, IsThatOfPublishedExamplesAtHeight) {
  const double at_sea = normal_gravity_m_per_s2(kHalfPi / 2.0, 0.0);
  EXPECT_NEAR((at_sea - normal_gravity_m_per_s2(kHalfPi / 2.0, 1000.0)) * 1e5, 308.5, 0.05);
  EXPECT_NEAR(normal_gravity_m_per_s2(55.0 * kHalfPi / 90.0, 5000.0), 9.7997, 5e-5);
}

// Geodesist's Handbook 1988, p. 356, for the ellipsoid GRS 80: 9.780326772, 9.806199203 and
// 9.832186368 m/s2 at 0, 45 and 90 deg. WGS 84 has the same shape to parts in 1e11, and GM smaller
// by 1.46e-7 (3.986004418 for 3.986005), which is -1.43e-6 m/s2 everywhere.
TEST(NormalGravity, IsThatOfTheHandbookLessTheDifferenceOfEllipsoids) {
  constexpr double kLess = 1.43e-6;
  EXPECT_NEAR(normal_gravity_m_per_s2(0.0, 0.0), 9.780326772 - kLess, 2e-8);
  EXPECT_NEAR(normal_gravity_m_per_s2(kHalfPi / 2.0, 0.0), 9.806199203 - kLess, 2e-8);
  EXPECT_NEAR(normal_gravity_m_per_s2(kHalfPi, 0.0), 9.832186368 - kLess, 2e-8);
}

}  // namespace
}  // namespace weighwright::deck
