#pragma once
/// Quantities as drawings and data plates write them, to coherent SI and back.
///
/// Grammar: number, optional space, unit. In a unit a space is a product, `/` stands once, an
/// exponent digit stands after its unit ("MN m2"). Points are decimal points. Feet, inches and
/// fractions of an inch are read as US drawings write them ("23' 4 1/2\"", "23 ft 4 in", "23'-4
/// 1/2\"", "1/8 in"). A comma is a thousands mark with US customary units only and only in groups
/// of three
/// ("80,000 lb"); every other comma is refused with the question what was meant. `ton` is refused:
/// t, or short ton (2000 lb), or long ton (2240 lb).
///
/// Sources of the factors: NIST Special Publication 811 (2008), appendix B (inch, foot, pound,
/// pound-force exact by definition); kip = 1000 lbf.

#include <optional>
#include <string>
#include <string_view>

namespace weighwright::units {

/// What a quantity is. The value is in the SI unit named behind each.
enum class Kind {
  length,            // m
  area,              // m2
  mass,              // kg
  force,             // N
  stiffness,         // N/m
  bending_rigidity,  // N m2  (EI, GJ)
  torque,            // N m
  resistance,        // ohm
  voltage,           // V
  voltage_ratio,     // V/V   ("2 mV/V"; never a bare number)
  angle,             // rad   (latitude, longitude)
  slope,             // m/m   ("5 mm/m", "0.3 deg", "1/16 in/ft", "0.5 %")
  temperature,       // degC  (kept in degC: people's scale, never added)
  fraction,          // 1     ("5 %", "0.05", "1/8")
  acceleration,      // m/s2
  length_per_area,   // 1/m   ("150 m/mm2", of a cable: length over cross-section)
  time,              // s     ("24 h", "7 d")
  pressure           // Pa    ("35 MPa", "5000 psi", "1013 hPa", "35 N/mm2")
};

/// A value, or what is wrong with the text and what would be right.
struct Parsed {
  double value = 0.0;
  std::string what;  // empty when the text was understood
  std::string expected;
  [[nodiscard]] bool ok() const { return what.empty(); }
};

/// Reads a quantity of the given kind. Never throws, never guesses; the value is finite when ok().
[[nodiscard]] Parsed parse(std::string_view text, Kind kind);

/// The SI unit of a kind as printed, e.g. "N m2".
[[nodiscard]] std::string_view si_unit(Kind kind);

/// Shortest decimal text that reads back to the same double ("0.1", "9.80665", "1e+20").
[[nodiscard]] std::string print_exact(double value);

/// Fixed number of decimals, without a minus sign before a zero ("0.00", never "-0.00").
[[nodiscard]] std::string print_fixed(double value, int decimals);

/// A quantity that parse() reads back to the same double: print_exact and the SI unit.
[[nodiscard]] std::string print_exact(double value, Kind kind);

/// Turns as a technician says them: 0.75 -> "3/4", -1.25 -> "-1 1/4", 2 -> "2"; other values with
/// two decimals. `division` is the number of parts of a turn that can be set.
[[nodiscard]] std::string print_turns(double turns, int division);

/// Exact factors used across floors.
inline constexpr double kStandardGravity_m_per_s2 = 9.80665;  // NIST SP 811, B.8
inline constexpr double kPound_kg = 0.45359237;               // NIST SP 811, B.8, exact
inline constexpr double kFoot_m = 0.3048;                     // NIST SP 811, B.8, exact
inline constexpr double kInch_m = 0.0254;                     // NIST SP 811, B.8, exact

}  // namespace weighwright::units
