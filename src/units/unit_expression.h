#pragma once
/// The unit part of a quantity ("MN m2", "mV/V", "lb/in") to a factor and a dimension.

#include <array>
#include <cstddef>
#include <string>
#include <string_view>

namespace weighwright::units {

/// Bases kept apart as people think of them: force is not derived from mass, "mV/V" stays voltage
/// over voltage. So a wrong dimension can be named.
enum class Base { length, mass, force, voltage, resistance, angle, time, percent, pressure };
inline constexpr std::size_t kBases = 9;

/// Exponent of each base on one side of the stroke.
using Exponents = std::array<int, kBases>;

struct UnitExpression {
  double multiply = 1.0;      // value * multiply / divide is in coherent SI; two numbers, so that
  double divide = 1.0;        // "7 mm" is exactly the double nearest to 0.007
  Exponents above{};          // before the stroke
  Exponents below{};          // after it
  bool us_customary = false;  // a comma may then be a thousands mark
  std::string what;           // empty when understood
  std::string expected;
};

/// Whether a pound is one of mass or of force, and a kip likewise (1000 of it).
enum class Pounds { mass, force };

/// Reads a unit; an empty text is a pure number. Never throws.
[[nodiscard]] UnitExpression parse_unit(std::string_view text, Pounds pounds);

}  // namespace weighwright::units
