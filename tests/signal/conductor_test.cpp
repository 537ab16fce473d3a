#include "signal/conductor.h"

#include <gtest/gtest.h>

#include <cmath>
#include <stdexcept>

// outside check: resistance of conductors | IEC 60228 class 5 at 20 °C; wire gauge tables of NBS
//  Handbook 100; IEC 60028 for copper

namespace weighwright::signal {
namespace {

// IEC 60228, class 5, plain copper at 20 degC, ohm/km as printed (reproductions of its table).
TEST(CoreResistance, IsTheStandardsForAListedArea) {
  EXPECT_DOUBLE_EQ(core_ohm_per_m(0.5e-6) * 1e3, 39.0);
  EXPECT_DOUBLE_EQ(core_ohm_per_m(0.75e-6) * 1e3, 26.0);
  EXPECT_DOUBLE_EQ(core_ohm_per_m(1.0e-6) * 1e3, 19.5);
  EXPECT_DOUBLE_EQ(core_ohm_per_m(1.5e-6) * 1e3, 13.3);
  EXPECT_DOUBLE_EQ(core_ohm_per_m(2.5e-6) * 1e3, 7.98);
}

// Annealed copper wire tables, NBS Handbook 100 (1966): ohm per 1000 ft at 20 degC, 18, 20, 22 AWG.
TEST(CoreResistance, OfAGaugeAgreesWithTheWireTables) {
  const struct {
    int gauge;
    double ohm_per_1000_ft;
    double half_digit;
  } rows[] = {{18, 6.385, 0.0005}, {20, 10.15, 0.005}, {22, 16.14, 0.005}};
  for (const auto& row : rows) {
    // ASTM B258: d = 0.127 mm x 92^((36 - n) / 39)
    const double diameter_m = 0.127e-3 * std::pow(92.0, (36 - row.gauge) / 39.0);
    const double area_m2 = std::acos(-1.0) / 4.0 * diameter_m * diameter_m;
    EXPECT_NEAR(core_ohm_per_m(area_m2) * 304.8, row.ohm_per_1000_ft, row.half_digit);
  }
}

// IEC 60228's factors to 20 degC as printed, three decimals. They follow 250 / (230 + t), 0.0040
// /K, where IEC 60028 says 0.00393 /K: 7e-5 for every kelvin, and half a digit.
TEST(CoreResistance, GoesWithTemperature) {
  const struct {
    double degC;
    double printed;
  } rows[] = {{10.0, 1.042}, {30.0, 0.962}, {40.0, 0.926}, {50.0, 0.893}};
  for (const auto& row : rows) {
    EXPECT_NEAR(1.0 / copper_factor(row.degC), row.printed,
                7e-5 * std::abs(row.degC - 20.0) + 0.0005);
  }
  EXPECT_NEAR(core_ohm(30.0, 0.5e-6, 20.0), 1.17, 1e-12);
  EXPECT_NEAR(core_ohm(30.0, 0.5e-6, 40.0), 1.17 * (1.0 + 0.00393 * 20.0), 1e-12);
}

TEST(CoreResistance, OfNoLengthIsNothing) {
  EXPECT_EQ(core_ohm(0.0, 0.5e-6, 20.0), 0.0);
}

TEST(CoreResistance, RefusesWhatIsNoConductor) {
  EXPECT_THROW((void)core_ohm_per_m(0.0), std::invalid_argument);
  EXPECT_THROW((void)core_ohm(-1.0, 0.5e-6, 20.0), std::invalid_argument);
}

}  // namespace
}  // namespace weighwright::signal
