#include "proof/air.h"

#include <gtest/gtest.h>

#include <array>
#include <cmath>
#include <numbers>

#include "deck/gravity.h"

// outside check: density of air by pressure, temperature, humidity and altitude | CIPM-2007
//  (Picard et al., *Metrologia* 45 (2008) 149), by a separate script with its constants; OIML R
//  111-1:2004, E.3 and E.3.1 (from memory, unverified); a public psychrometrics library for dry
//  air
// outside check: conventional mass, buoyancy | JCGM 101:2008, 9.3.1.2 and eq. (24), by hand;
//  EURAMET cg-18 (from memory, unverified)
// outside check: gravity of zones at 52.3 degrees and 80 m, spread that a zone may have | WELMEC
//  gravity formula as the documentation of the AHRS library for Python prints it; PTB's page on
//  gravity zones
// outside check: a scale carried elsewhere: 60 t and 40 t in kg, equator to pole in parts | OIML
//  Bulletins on scales that were moved, by hand from the same formula
// outside check: edge case 24: degrees against radians, sin^2(2 phi), sign of the height,
//  correction only of what was adjusted elsewhere | both formulas by hand; NIMA TR8350.2, 3rd ed.
//  (2000), table 3.4; free-air gradient 3.086e-6 /s2 (Torge & Mueller, *Geodesy*, 4th ed.; from
//  memory, unverified)

namespace weighwright::proof {
namespace {

constexpr double kDegree = std::numbers::pi / 180.0;

struct AirRow {
  Air air;
  double cipm;
  double simple;
};

// Computed from the constants of CIPM-2007 (Picard et al., Metrologia 45 (2008) 149) and of the
// approximation (OIML R 111-1:2004, E.3.1, from memory, unverified) by a script made apart from the
// project; two public programs that cite the paper have the same constants.
constexpr std::array<AirRow, 9> kRows = {{{{20, 101325, 0.5}, 1.199314, 1.199294},
                                          {{20, 101325, 0.0}, 1.204557, 1.204494},
                                          {{20, 100000, 0.5}, 1.183557, 1.183543},
                                          {{15, 101325, 0.5}, 1.221631, 1.221495},
                                          {{25, 100000, 0.5}, 1.161824, 1.161872},
                                          {{10, 95000, 0.8}, 1.164782, 1.164510},
                                          {{30, 98000, 0.3}, 1.120959, 1.120987},
                                          {{-10, 101325, 0.5}, 1.341657, 1.340881},
                                          {{40, 101325, 0.5}, 1.111945, 1.111079}}};

TEST(AirDensity, IsThatOfOtherProgramsForBothFormulas) {
  for (const AirRow& row : kRows) {
    EXPECT_NEAR(cipm_2007(row.air).kg_per_m3, row.cipm, 5e-7) << row.air.temperature_degC;
    EXPECT_NEAR(simplified(row.air).kg_per_m3, row.simple, 5e-7) << row.air.temperature_degC;
  }
}

// A public psychrometrics library prints 1.20448 kg/m3 for dry air at 20 degC and one atmosphere,
// by the ideal gas; the compressibility of air, 4e-4 at most, is left out there.
TEST(AirDensity, OfDryAirIsNearThatOfPsychrometrics) {
  EXPECT_NEAR(cipm_2007({20.0, 101325.0, 0.0}).kg_per_m3, 1.20448, 4e-4 * 1.2);
}

// The paper's own sensitivities at 20 degC, 1013.25 hPa, 50 % (relative): 1e-5 /Pa, -4e-3 /K,
// -9e-3 for the whole range of humidity, as rounded in OIML R 111-1 (from memory, unverified).
TEST(AirDensity, MovesWithPressureTemperatureAndHumidity) {
  const double at = cipm_2007({}).kg_per_m3;
  EXPECT_NEAR((cipm_2007({20, 101425, 0.5}).kg_per_m3 / at - 1.0) / 100, 1e-5, 0.05e-5);
  EXPECT_NEAR(cipm_2007({21, 101325, 0.5}).kg_per_m3 / at - 1.0, -4e-3, 0.5e-3);
  EXPECT_NEAR(cipm_2007({20, 101325, 1.0}).kg_per_m3 / at - 1.0, -4.5e-3, 0.25e-3);
}

// Stated ranges: CIPM-2007 600 to 1100 hPa, 15 to 27 degC; approximation 900 to 1100 hPa, 10 to
// 30 degC, below 80 % (from memory, unverified).
TEST(AirDensity, SaysWhenItsFormulaIsStretched) {
  EXPECT_TRUE(cipm_2007({15, 60000, 1.0}).in_range);
  EXPECT_FALSE(cipm_2007({-10, 101325, 0.5}).in_range);
  EXPECT_FALSE(cipm_2007({20, 59000, 0.5}).in_range);
  EXPECT_GT(cipm_2007({-10, 101325, 0.5}).u_relative, cipm_2007({}).u_relative);
  EXPECT_TRUE(simplified({10, 90000, 0.79}).in_range);
  EXPECT_FALSE(simplified({10, 90000, 0.80}).in_range);
  EXPECT_FALSE(simplified({31, 100000, 0.5}).in_range);
}

// rho = 1.2 exp(-1.2 g h / 101325) (OIML R 111-1:2004, E.3, from memory, unverified), by the same
// script.
TEST(AirDensity, FallsWithAltitude) {
  EXPECT_DOUBLE_EQ(density_at_altitude(0.0), 1.2);
  EXPECT_NEAR(density_at_altitude(200), 1.172447, 5e-7);
  EXPECT_NEAR(density_at_altitude(500), 1.132300, 5e-7);
  EXPECT_NEAR(density_at_altitude(1000), 1.068420, 5e-7);
  EXPECT_NEAR(density_at_altitude(1500), 1.008143, 5e-7);
  EXPECT_NEAR(density_at_altitude(2000), 0.951267, 5e-7);
}

// JCGM 101:2008, 9.3.1.2: m (1 - 1.2/rho) = m_c (1 - 1.2/8000). Values by hand; OIML D 28:2004 has
// the same definition.
TEST(ConventionalMass, IsWhatBalancesInConventionalAir) {
  EXPECT_NEAR(conventional_mass(20.0, 7200.0), 19.999667, 5e-7);
  EXPECT_NEAR(true_mass(500.0, 7850.0), 500.001433, 5e-7);
  EXPECT_DOUBLE_EQ(conventional_mass(20.0, 8000.0), 20.0);
  EXPECT_NEAR(conventional_mass(1.0, 7800.0) - 1.0, -3.85e-6, 0.005e-6);
  EXPECT_NEAR(conventional_mass(1.0, 2700.0) - 1.0, -294e-6, 0.5e-6);
  EXPECT_NEAR(conventional_mass(1.0, 21500.0) - 1.0, 94e-6, 0.5e-6);
  EXPECT_NEAR(conventional_mass(1.0, 1000.0) - 1.0, -1.050e-3, 0.0005e-3);
  EXPECT_NEAR(true_mass(conventional_mass(3.0, 7100.0), 7100.0), 3.0, 1e-14);
}

// -(rho_a - 1.2)(1/rho - 1/8000), first factor of JCGM 101:2008 eq. (24): cast iron, steel and
// gravel by hand. The second part, (rho_a - rho_as)/8000: EURAMET cg-18, from memory, unverified.
TEST(Buoyancy, OfWeightsIsSmallAndOfGravelIsNot) {
  EXPECT_NEAR(buoyancy_correction(1.0, 7100, 1.1, 1.1), 1.5845e-6, 5e-11);
  EXPECT_NEAR(buoyancy_correction(1.0, 7850, 1.0, 1.0), 4.777e-7, 5e-11);
  EXPECT_NEAR(buoyancy_correction(10000, 2400, 1.1, 1.1), 0.29, 0.005);
  EXPECT_NEAR(buoyancy_correction(8000, 8000, 1.2, 1.1), -0.1, 1e-12);
}

// 0.1 * 1.2 / 8000 / sqrt 3 = 8.660e-6; class M1: 5e-5 / (4 sqrt 3) = 7.217e-6. Cases of EURAMET
// cg-18, from memory, unverified; its constants follow from 10 hPa, any humidity and -4e-3 /K.
TEST(Buoyancy, IsDoubtedByWhatIsKnownOfTheAir) {
  EXPECT_NEAR(u_buoyancy_relative({true, 10.0}, 5e-5), 7.217e-6, 5e-10);
  EXPECT_NEAR(u_buoyancy_relative({false, {}}, 0.0), 8.660e-6, 5e-10);
  EXPECT_NEAR(u_buoyancy_relative({false, {}}, 5e-5), 15.877e-6, 1e-9);
  const double pressure = 1e-5 * 1000;
  const double humidity = 9e-3 / std::sqrt(12.0);
  const double temperature = 4e-3 * 20.0 / std::sqrt(12.0);
  const double expected =
      std::sqrt(pressure * pressure + humidity * humidity + temperature * temperature) * 1.5e-4;
  EXPECT_NEAR(u_buoyancy_relative({false, 20.0}, 0.0) / expected, 1.0, 0.003);
}

// Conventional mass (JCGM 101:2008, 9.3.1.2) holds in air of 1.2 kg/m3; elsewhere a weight of
// another density is off by (ra - 1.2)(1/r - 1/8000). Concrete of 2400 kg/m3 in air of 1.1:
// 0.1 (1/2400 - 1/8000) = 2.917e-5, as a rectangle (JCGM 100:2008, 4.3.7) 1.684e-5. By hand.
TEST(Buoyancy, IsDoubtedByADensityThatIsStated) {
  const double half_width = 0.1 * (1.0 / 2400.0 - 1.0 / 8000.0);
  EXPECT_NEAR(u_buoyancy_relative({true, {}, half_width}, 5e-5), 1.684e-5, 5e-9);
  EXPECT_NEAR(u_buoyancy_relative({false, {}, half_width}, 5e-5), 1.684e-5 + 8.660e-6, 5e-9);
  EXPECT_EQ(u_buoyancy_relative({true, {}, 0.0}, 5e-5), 0.0);
}

// 9.812483709897048 m/s2 at 52.3 deg, 80 m: documentation of the AHRS library for Python, which
// names WELMEC. The others by hand from the same formula.
TEST(ZoneGravity, IsThatOfThePublishedExample) {
  EXPECT_NEAR(welmec_gravity(52.3 * kDegree, 80.0), 9.812483709897048, 1e-14);
  EXPECT_NEAR(welmec_gravity(48.0 * kDegree, 500.0), 9.807359352, 5e-10);
  EXPECT_NEAR(welmec_gravity(0.0, 0.0), 9.780318, 1e-14);
  EXPECT_NEAR(welmec_gravity(45.0 * kDegree, 0.0), 9.80619085, 5e-9);
  EXPECT_NEAR(welmec_gravity(90.0 * kDegree, 0.0), 9.83217716, 5e-9);
  EXPECT_LT(welmec_gravity(0.5, 100.0), welmec_gravity(0.5, 0.0));
  EXPECT_DOUBLE_EQ(welmec_gravity(-0.5, 0.0), welmec_gravity(0.5, 0.0));
}

// A force-measuring scale reads m g2/g1. 60 t carried from 52.3 deg/80 m to 48 deg/500 m: -31.3 kg;
// 40 t to 40.4 deg/650 m: -50.72 kg; equator to pole 0.53 % (OIML Bulletins; by hand).
TEST(ZoneGravity, MovesTheSpanOfADeckAdjustedElsewhere) {
  const double north = welmec_gravity(52.3 * kDegree, 80.0);
  EXPECT_NEAR(60000 * gravity_effect(north, welmec_gravity(48.0 * kDegree, 500.0)), -31.3, 0.05);
  EXPECT_NEAR(40000 * gravity_effect(north, welmec_gravity(40.4 * kDegree, 650.0)), -50.72, 0.005);
  const double pole = welmec_gravity(90.0 * kDegree, 0.0);
  EXPECT_NEAR(gravity_effect(welmec_gravity(0.0, 0.0), pole), 0.0053, 0.00005);
}

// A third of the limit (PTB's page on gravity zones): 3000 intervals at Max, 1.5 e of 3000 e leave
// 1.667e-4, which is 1.8 degrees of latitude at 45 or 530 m of height.
TEST(ZoneGravity, FitsAZoneOfAThirdOfTheLimit) {
  const double limit = 1.5 / 3000;
  const double at = welmec_gravity(45.0 * kDegree, 0.0);
  EXPECT_TRUE(zone_fits(gravity_effect(at, welmec_gravity(46.8 * kDegree, 0.0)), limit));
  EXPECT_FALSE(zone_fits(gravity_effect(at, welmec_gravity(46.9 * kDegree, 0.0)), limit));
  EXPECT_TRUE(zone_fits(gravity_effect(at, welmec_gravity(45.0 * kDegree, 525.0)), limit));
  EXPECT_FALSE(zone_fits(gravity_effect(at, welmec_gravity(45.0 * kDegree, 535.0)), limit));
}

// ---------------------------------------------------------------------------- edge case 24

// Both take radians: the published value (AHRS, above) is met only with the degrees turned into
// them, and 52.3 itself as an angle lies 0.009 m/s2 off.
TEST(ZoneGravity, EdgeCase24TakesRadians) {
  const double published = 9.812483709897048;
  EXPECT_NEAR(welmec_gravity(52.3 * kDegree, 80.0), published, 1e-14);
  EXPECT_NEAR(welmec_gravity(52.3, 80.0) - published, 0.009, 0.0005);
  // a right angle is the pole for both: NIMA TR8350.2, table 3.4, 9.8321849378
  EXPECT_NEAR(deck::normal_gravity_m_per_s2(std::numbers::pi / 2.0, 0.0), 9.8321849378, 1e-9);
  EXPECT_NEAR(welmec_gravity(std::numbers::pi / 2.0, 0.0), 9.8321849378, 1e-5);
}

// The second term is sin^2 of the doubled angle: at 45 degrees it is all there, 0.0000058, at
// equator and pole it is nothing. By hand from the printed formula, 9.780318 (1 + 0.0053024 / 2 -
// 0.0000058) = 9.80619085; with 2 sin^2 phi in its place the same at 45, but 9.780318 * 1.16e-5
// less at the pole.
TEST(ZoneGravity, EdgeCase24DoublesTheAngleAndNotTheSquare) {
  EXPECT_NEAR(welmec_gravity(45.0 * kDegree, 0.0), 9.80619085, 5e-9);
  EXPECT_NEAR(welmec_gravity(90.0 * kDegree, 0.0), 9.780318 * 1.0053024, 1e-13);
  const double thirty = 9.780318 * (1.0 + 0.0053024 * 0.25 - 0.0000058 * 0.75);
  EXPECT_NEAR(welmec_gravity(30.0 * kDegree, 0.0), thirty, 1e-13);
  // the two formulas have ellipsoids of their own and stay within 1e-5 m/s2 of each other
  for (double degrees = -90.0; degrees <= 90.0; degrees += 7.5) {
    EXPECT_NEAR(welmec_gravity(degrees * kDegree, 0.0),
                deck::normal_gravity_m_per_s2(degrees * kDegree, 0.0), 2e-5)
        << degrees;
  }
}

// Higher is lighter, below the sea is heavier: 3.086e-6 m/s2 a metre (free-air gradient, textbook
// value), the rounded 3.085e-6 of the zones' formula.
TEST(ZoneGravity, EdgeCase24FallsWithHeight) {
  for (const double height_m : {-100.0, 100.0, 500.0}) {
    const double zone = welmec_gravity(0.8, height_m) - welmec_gravity(0.8, 0.0);
    const double normal =
        deck::normal_gravity_m_per_s2(0.8, height_m) - deck::normal_gravity_m_per_s2(0.8, 0.0);
    EXPECT_NEAR(zone / height_m, -3.085e-6, 1e-12) << height_m;
    EXPECT_NEAR(normal / height_m, -3.086e-6, 2e-9) << height_m;
  }
}

// A deck adjusted where it is used has no correction at all, whatever gravity is there; one
// adjusted elsewhere reads m g2/g1: lighter on a hill, heavier towards the pole (OIML Bulletins on
// scales that were moved; 60 t by 1e-4 is 6 kg, by hand).
TEST(ZoneGravity, EdgeCase24CorrectsOnlyWhatWasAdjustedElsewhere) {
  const double here = welmec_gravity(52.3 * kDegree, 80.0);
  EXPECT_EQ(gravity_effect(here, here), 0.0);
  EXPECT_EQ(gravity_effect(9.78, 9.78), 0.0);
  EXPECT_LT(gravity_effect(here, welmec_gravity(52.3 * kDegree, 500.0)), 0.0);
  EXPECT_GT(gravity_effect(here, welmec_gravity(60.0 * kDegree, 80.0)), 0.0);
  EXPECT_NEAR(60000 * gravity_effect(9.81, 9.81 * 1.0001), 6.0, 1e-9);
}

}  // namespace
}  // namespace weighwright::proof
