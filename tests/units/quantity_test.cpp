#include "units/quantity.h"

#include <gtest/gtest.h>
#include <rapidcheck.h>
#include <rapidcheck/gtest.h>

#include <cmath>
#include <limits>
#include <string>

// outside check: factors of units: inch, foot, pound, pound-force, kip | NIST Special Publication
//  811 (2008), appendix B.8

namespace weighwright::units {
namespace {

double value_of(const std::string& text, Kind kind) {
  const Parsed parsed = parse(text, kind);
  EXPECT_TRUE(parsed.ok()) << text << ": " << parsed.what << "; " << parsed.expected;
  return parsed.value;
}

std::string fault_of(const std::string& text, Kind kind) {
  const Parsed parsed = parse(text, kind);
  EXPECT_FALSE(parsed.ok()) << text << " was read as " << parsed.value;
  return parsed.what + "; " + parsed.expected;
}

void expect_fault(const std::string& text, Kind kind, const std::string& part) {
  const std::string fault = fault_of(text, kind);
  EXPECT_NE(fault.find(part), std::string::npos) << text << ": " << fault;
}

// Factors: NIST Special Publication 811 (2008), appendix B.8: inch 2.54 E-02 m, foot 3.048 E-01 m,
// pound 4.535 924 E-01 kg (exact 0.453 592 37), pound-force 4.448 222 E+00 N, kip 4.448 222 E+03 N,
// foot pound-force (moment) 1.355 818 E+00 N m, pound-force per inch 1.751 268 E+02 N/m.
// Tolerances: half of the last printed digit.
TEST(Quantity, HasTheFactorsOfNistSp811) {
  EXPECT_DOUBLE_EQ(value_of("1 in", Kind::length), 0.0254);
  EXPECT_DOUBLE_EQ(value_of("1 ft", Kind::length), 0.3048);
  EXPECT_DOUBLE_EQ(value_of("1 lb", Kind::mass), 0.45359237);
  EXPECT_NEAR(value_of("1 lbf", Kind::force), 4.448222, 5e-7);
  EXPECT_NEAR(value_of("1 lb", Kind::force), 4.448222, 5e-7);
  EXPECT_NEAR(value_of("1 kip", Kind::force), 4448.222, 5e-4);
  EXPECT_NEAR(value_of("1 ft lb", Kind::torque), 1.355818, 5e-7);
  EXPECT_NEAR(value_of("1 ft-lb", Kind::torque), 1.355818, 5e-7);
  EXPECT_NEAR(value_of("1 ft\xC2\xB7lb", Kind::torque), 1.355818, 5e-7);
  EXPECT_NEAR(value_of("1 lb/in", Kind::stiffness), 175.1268, 5e-5);
  EXPECT_NEAR(value_of("1 kgf", Kind::force), 9.80665, 1e-12);
  // psi 6.894 757 E+03 Pa; hour 3.6 E+03 s, day 8.64 E+04 s
  EXPECT_NEAR(value_of("1 psi", Kind::pressure), 6894.757, 5e-4);
  EXPECT_NEAR(value_of("1 lb/in2", Kind::pressure), 6894.757, 5e-4);
  EXPECT_DOUBLE_EQ(value_of("35 MPa", Kind::pressure), 35e6);
  EXPECT_DOUBLE_EQ(value_of("35 N/mm2", Kind::pressure), 35e6);
  EXPECT_DOUBLE_EQ(value_of("1013.25 hPa", Kind::pressure), 101'325.0);
  EXPECT_DOUBLE_EQ(value_of("24 h", Kind::time), 86'400.0);
  EXPECT_DOUBLE_EQ(value_of("28 d", Kind::time), 28.0 * 86'400.0);
  EXPECT_DOUBLE_EQ(value_of("90 min", Kind::time), 5'400.0);
  expect_fault("24 h", Kind::pressure, "is a time; a pressure or a strength is wanted here");
  // by hand from the factors above: 4448.2216152605 * 0.0254^2
  EXPECT_NEAR(value_of("1 kip in2", Kind::bending_rigidity), 2.86981466, 5e-8);
}

TEST(Quantity, ReadsMetricUnitsToTheNearestDouble) {
  EXPECT_EQ(value_of("7 m", Kind::length), 7.0);
  EXPECT_EQ(value_of("7 mm", Kind::length), 0.007);
  EXPECT_EQ(value_of("0.4 mm", Kind::length), 0.0004);
  EXPECT_EQ(value_of("25t", Kind::mass), 25000.0);
  EXPECT_EQ(value_of("252 MN m2", Kind::bending_rigidity), 252e6);
  EXPECT_EQ(value_of("252 MNm2", Kind::bending_rigidity), 252e6);
  EXPECT_EQ(value_of("252 MN\xC2\xB7m\xC2\xB2", Kind::bending_rigidity), 252e6);
  EXPECT_EQ(value_of("252 MN*m^2", Kind::bending_rigidity), 252e6);
  EXPECT_EQ(value_of("200 kN/mm", Kind::stiffness), 200e6);
  EXPECT_EQ(value_of("2 mV/V", Kind::voltage_ratio), 0.002);
  EXPECT_EQ(value_of("0.5 uV", Kind::voltage), 0.5e-6);
  EXPECT_EQ(value_of("0.5 \xC2\xB5V", Kind::voltage), 0.5e-6);
  EXPECT_EQ(value_of("350 ohm", Kind::resistance), 350.0);
  EXPECT_EQ(value_of("350 \xCE\xA9", Kind::resistance), 350.0);
  EXPECT_EQ(value_of("5 mm/m", Kind::slope), 0.005);
  EXPECT_EQ(value_of("0.5 %", Kind::slope), 0.005);
  EXPECT_EQ(value_of("20 %", Kind::fraction), 0.2);
  EXPECT_EQ(value_of("1/8", Kind::fraction), 0.125);
  EXPECT_EQ(value_of("0.05", Kind::fraction), 0.05);
  EXPECT_EQ(value_of("9.8145 m/s2", Kind::acceleration), 9.8145);
  EXPECT_DOUBLE_EQ(value_of("150 m/mm2", Kind::length_per_area), 150e6);  // 1 mm2 is 1e-6 m2
  EXPECT_EQ(value_of("1.5 mm2", Kind::area), 1.5e-6);
  EXPECT_EQ(value_of(" -10 mm ", Kind::length), -0.01);
  EXPECT_EQ(value_of("+25 mm", Kind::length), 0.025);
  EXPECT_EQ(value_of("1e3 kg", Kind::mass), 1000.0);
}

TEST(Quantity, ReadsAnglesAndTemperatures) {
  // 180 deg = pi rad (SI Brochure, 9th ed., table 8)
  EXPECT_NEAR(value_of("180 deg", Kind::angle), 3.14159265358979, 1e-14);
  EXPECT_NEAR(value_of("54.4\xC2\xB0", Kind::angle), 54.4 * 3.14159265358979 / 180.0, 1e-14);
  // tan 45 deg = 1
  EXPECT_NEAR(value_of("45 deg", Kind::slope), 1.0, 1e-15);
  // fixed points of the scales: 32 degF = 0 degC, 212 degF = 100 degC, -40 degF = -40 degC
  EXPECT_NEAR(value_of("32 degF", Kind::temperature), 0.0, 1e-13);
  EXPECT_NEAR(value_of("212 degF", Kind::temperature), 100.0, 1e-13);
  EXPECT_NEAR(value_of("-40 degF", Kind::temperature), -40.0, 1e-13);
  EXPECT_EQ(value_of("-15 degC", Kind::temperature), -15.0);
}

TEST(Quantity, ReadsFeetAndInchesAsDrawingsWriteThem) {
  // 23 ft 4 1/2 in = 280.5 in = 7.1247 m by the exact inch
  const double expected_m = 280.5 * 0.0254;
  for (const char* const text :
       {"23' 4 1/2\"", "23'-4 1/2\"", "23' 4-1/2\"", "23'4.5\"", "23 ft 4.5 in", "23 ft 4 1/2 in",
        "23ft 4 1/2in", "23 feet 4.5 inches", "23\xE2\x80\xB2 4 1/2\xE2\x80\xB3", "23'-4 1/2''",
        "280.5 in", "280 1/2\"", "280-1/2 in"}) {
    EXPECT_NEAR(value_of(text, Kind::length), expected_m, 1e-15) << text;
  }
  EXPECT_NEAR(value_of("23 ft 4 in", Kind::length), 280.0 * 0.0254, 1e-15);
  EXPECT_EQ(value_of("7/8 in", Kind::length), 0.875 * 0.0254);
  EXPECT_EQ(value_of("1/8\"", Kind::length), 0.125 * 0.0254);
  EXPECT_NEAR(value_of("23.5 ft", Kind::length), 23.5 * 0.3048, 1e-15);
  EXPECT_NEAR(value_of("-1' 6\"", Kind::length), -18 * 0.0254, 1e-15);
  EXPECT_NEAR(value_of("1/16 in/ft", Kind::slope), 1.0 / 192.0, 1e-15);
}

TEST(Quantity, ReadsThousandsCommasWithUsUnitsOnly) {
  EXPECT_NEAR(value_of("80,000 lb", Kind::mass), 36287.3896, 1e-9);  // 80 000 * 0.453 592 37
  EXPECT_NEAR(value_of("1,234,567.8 lb", Kind::mass), 1234567.8 * 0.45359237, 1e-6);
  EXPECT_NEAR(value_of("80 kip", Kind::mass), 36287.3896, 1e-9);
  expect_fault("1,234 kg", Kind::mass,
               "thousands mark or a decimal mark; write 1234 kg or 1.234 kg");
  expect_fault("1,234", Kind::mass, "thousands mark or a decimal mark");
  expect_fault("1,5 m", Kind::length, "decimal comma in \"1,5\"; write 1.5 m");
  expect_fault("80,00 lb", Kind::mass, "decimal comma");
  expect_fault("1.234,5 kg", Kind::mass, "no other mark");
}

TEST(Quantity, ReadsWireSizes) {
  // ASTM B258: 18 AWG has a diameter of 0.0403 in, so an area of 0.823 mm2
  EXPECT_NEAR(value_of("18 AWG", Kind::area), 0.823e-6, 0.0005e-6);
  expect_fault("18.5 AWG", Kind::area, "no such wire size");
}

TEST(Quantity, AsksWhichTonIsMeant) {
  for (const char* const text : {"60 ton", "60 tons", "60 short tons"}) {
    const std::string fault = fault_of(text, Kind::mass);
    if (std::string(text) != "60 short tons") {
      EXPECT_NE(fault.find("which ton"), std::string::npos) << fault;
      EXPECT_NE(fault.find("2000 lb"), std::string::npos) << fault;
      EXPECT_NE(fault.find("2240 lb"), std::string::npos) << fault;
    }
  }
}

TEST(Quantity, SaysWhichUnitsAreRightWhenOneIsMissing) {
  expect_fault("7", Kind::length, "\"7\" has no unit; a length is wanted here, in m, mm, ft or in");
  expect_fault("2", Kind::voltage_ratio, "a rated output is wanted here, in mV/V");
  expect_fault("20", Kind::temperature, "has no unit");
}

TEST(Quantity, SaysWhatAWrongDimensionIsAndWhatIsWanted) {
  expect_fault("7 kg", Kind::length, "\"7 kg\" is a mass; a length is wanted here");
  expect_fault("7 m", Kind::mass, "\"7 m\" is a length; a mass is wanted here");
  expect_fault("25 kN", Kind::mass, "is a force; a mass is wanted here");
  expect_fault("25 kg", Kind::force, "is a mass; a force is wanted here");
  expect_fault("2 mV", Kind::voltage_ratio, "is a voltage; a rated output is wanted here");
  expect_fault("2 V/V", Kind::slope, "is a rated output; a slope is wanted here");
  expect_fault("5 %", Kind::length, "is a fraction; a length is wanted here");
  expect_fault("5 m", Kind::temperature, "is no temperature");
  expect_fault("5 m", Kind::fraction, "is a length; a fraction is wanted here");
  expect_fault("5 kg s", Kind::length, "fits nothing in a deck file");
}

TEST(Quantity, RefusesWhatIsNoNumber) {
  for (const char* const text : {"", "   ", "m", "nan m", "inf m", "-inf m", "seven m", "--7 m",
                                 ". m", "1..2 m", "1.2.3 m", "NaN", "0x10 m", "/8 in", "- 3 - m"}) {
    static_cast<void>(fault_of(text, Kind::length));
  }
  expect_fault("1e999 m", Kind::length, "too large");
  expect_fault("1e305 km2", Kind::area, "too large");
  expect_fault("1/0 in", Kind::length, "division by zero");
  expect_fault(std::string(300, '7') + " m", Kind::length, "too long");
  EXPECT_EQ(value_of("1e-999 m", Kind::length), 0.0);
}

// Found by fuzzing: the message about the comma repeated the bytes of the unit.
TEST(Quantity, RefusesBytesThatAreNoText) {
  expect_fault(
      "2, \xBC"
      "2",
      Kind::mass, "is no readable text");
  expect_fault("1,234 k\ng", Kind::mass, "is no readable text");
}

TEST(Quantity, RefusesUnitsThatItDoesNotKnow) {
  expect_fault("7 KG", Kind::mass, "unknown unit \"KG\" in \"7 KG\"; did you mean kg?");
  expect_fault("7 furlong", Kind::length, "unknown unit \"furlong\"");
  expect_fault("7 N m/mm/m", Kind::stiffness, "two strokes");
  expect_fault("7 kN/", Kind::stiffness, "one side of the stroke is missing");
  expect_fault("7 m9", Kind::length, "exponent of 9");
  expect_fault("80 000 lb", Kind::mass, "two numbers in \"80 000 lb\"");
  expect_fault("7 " + std::string(80, 'k'), Kind::mass, "unknown unit");
}

TEST(Quantity, RefusesFeetAndInchesThatAreUnclear) {
  expect_fault("23' 4", Kind::length, "inch mark is missing");
  expect_fault("23.5' 4\"", Kind::length, "feet with a fraction");
  expect_fault("23' 14\"", Kind::length, "twelve inches or more");
  expect_fault("23' 1/0\"", Kind::length, "are no number");
  expect_fault("23' x", Kind::length, "unknown unit");
}

constexpr Kind kAllKinds[] = {Kind::length,          Kind::area,       Kind::mass,
                              Kind::force,           Kind::stiffness,  Kind::bending_rigidity,
                              Kind::torque,          Kind::resistance, Kind::voltage,
                              Kind::voltage_ratio,   Kind::angle,      Kind::slope,
                              Kind::temperature,     Kind::fraction,   Kind::acceleration,
                              Kind::length_per_area, Kind::time,       Kind::pressure};

RC_GTEST_PROP(Quantity, ReadsBackWhatItPrints, (double value)) {
  RC_PRE(std::isfinite(value));
  for (const Kind kind : kAllKinds) {
    const Parsed parsed = parse(print_exact(value, kind), kind);
    RC_ASSERT(parsed.ok());
    RC_ASSERT(parsed.value == value);
  }
}

RC_GTEST_PROP(Quantity, ReadsAnyTextWithoutHarm, (const std::string& text)) {
  for (const Kind kind : kAllKinds) {
    const Parsed parsed = parse(text, kind);
    RC_ASSERT(!parsed.ok() || std::isfinite(parsed.value));
    RC_ASSERT(parsed.ok() || !parsed.what.empty());
  }
}

RC_GTEST_PROP(Quantity, ReadsFeetAndInchesLikeInches, (unsigned short feet)) {
  const int inches = *rc::gen::inRange(0, 12);
  const int sixteenths = *rc::gen::inRange(1, 16);
  const std::string drawn = std::to_string(feet) + "'-" + std::to_string(inches) + " " +
                            std::to_string(sixteenths) + "/16\"";
  const double expected_in = 12.0 * feet + inches + sixteenths / 16.0;
  const Parsed parsed = parse(drawn, Kind::length);
  RC_ASSERT(parsed.ok());
  RC_ASSERT(parsed.value == expected_in * 0.0254);
}

}  // namespace
}  // namespace weighwright::units
