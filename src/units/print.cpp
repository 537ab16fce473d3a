#include <array>
#include <charconv>
#include <cmath>
#include <numeric>

#include "units/quantity.h"

namespace weighwright::units {

std::string print_exact(double value) {
  std::array<char, 64> buffer{};
  const auto result = std::to_chars(buffer.data(), buffer.data() + buffer.size(), value);
  return {buffer.data(), result.ptr};
}

std::string print_exact(double value, Kind kind) {
  const std::string_view unit = si_unit(kind);
  std::string text = print_exact(value);
  if (!unit.empty()) text.append(" ").append(unit);
  return text;
}

std::string print_fixed(double value, int decimals) {
  // 309 digits before the point, the sign, the point and the decimals fit
  std::array<char, 400> buffer{};
  const int places = decimals < 0 ? 0 : decimals > 60 ? 60 : decimals;
  const auto result = std::to_chars(buffer.data(), buffer.data() + buffer.size(), value,
                                    std::chars_format::fixed, places);
  std::string text(buffer.data(), result.ptr);
  const bool is_zero = text.find_first_not_of("-0.") == std::string::npos;
  if (is_zero && text.front() == '-') text.erase(0, 1);
  return text;
}

std::string print_turns(double turns, int division) {
  constexpr double kMostParts = 1e9;  // beyond it a part of a turn is no longer told from rounding
  const double parts = turns * division;
  const double whole_parts = std::round(parts);
  const bool sayable = division > 0 && std::isfinite(parts) && std::abs(parts) < kMostParts &&
                       std::abs(parts - whole_parts) < 1e-6;
  if (!sayable) return print_fixed(turns, 2);
  const auto count = static_cast<long>(std::abs(whole_parts));
  if (count == 0) return "0";
  const long whole = count / division;
  const long rest = count % division;
  std::string text = whole_parts < 0.0 ? "-" : "";
  if (whole > 0 || rest == 0) text += std::to_string(whole);
  if (rest == 0) return text;
  const long common = std::gcd(rest, static_cast<long>(division));
  if (whole > 0) text += " ";
  return text + std::to_string(rest / common) + "/" + std::to_string(division / common);
}

}  // namespace weighwright::units
