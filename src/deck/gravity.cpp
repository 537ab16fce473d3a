#include "deck/gravity.h"

#include <cmath>

namespace weighwright::deck {

namespace {

constexpr double kEquatorGravity_m_per_s2 = 9.7803253359;
constexpr double kPoleGravity_m_per_s2 = 9.8321849378;
constexpr double kSemiMajorAxis_m = 6378137.0;
constexpr double kFlattening = 1.0 / 298.257223563;
constexpr double kSemiMinorAxis_m = kSemiMajorAxis_m * (1.0 - kFlattening);
constexpr double kFirstEccentricitySquared = kFlattening * (2.0 - kFlattening);
// omega^2 a^2 b / GM, with omega = 7292115e-11 rad/s and GM = 3986004.418e8 m3/s2
constexpr double kRotation_rad_per_s = 7292115e-11;
constexpr double kGravitation_m3_per_s2 = 3986004.418e8;
constexpr double kCentrifugalShare = kRotation_rad_per_s * kRotation_rad_per_s * kSemiMajorAxis_m *
                                     kSemiMajorAxis_m * kSemiMinorAxis_m / kGravitation_m3_per_s2;
constexpr double kSomigliana =
    kSemiMinorAxis_m * kPoleGravity_m_per_s2 / (kSemiMajorAxis_m * kEquatorGravity_m_per_s2) - 1.0;

}  // namespace

double normal_gravity_m_per_s2(double latitude_rad, double altitude_m) {
  const double sine_squared = std::sin(latitude_rad) * std::sin(latitude_rad);
  const double on_ellipsoid = kEquatorGravity_m_per_s2 * (1.0 + kSomigliana * sine_squared) /
                              std::sqrt(1.0 - kFirstEccentricitySquared * sine_squared);
  const double height = altitude_m / kSemiMajorAxis_m;
  const double slope = 1.0 + kFlattening + kCentrifugalShare - 2.0 * kFlattening * sine_squared;
  return on_ellipsoid * (1.0 - 2.0 * slope * height + 3.0 * height * height);
}

}  // namespace weighwright::deck
