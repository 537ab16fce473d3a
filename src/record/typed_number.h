#pragma once
/// A number as somebody typed it: its value, the value of its last digit, what is wrong with it.

#include <optional>
#include <string>
#include <string_view>

namespace weighwright::record {

struct TypedNumber {
  enum class Fault { none, no_number, decimal_comma, minus_sign, too_large };
  double value = 0.0;
  Fault fault = Fault::none;
};

/// Decimal point, optional sign and exponent; finite when there is no fault.
[[nodiscard]] TypedNumber read_number(std::string_view text);

/// What is wrong and what would be right, for a fault other than none.
[[nodiscard]] std::string describe(TypedNumber::Fault fault, std::string_view text);
[[nodiscard]] std::string remedy(TypedNumber::Fault fault, std::string_view text);

/// The value of one of the last digit typed: "1.10" -> 0.01, "2.5e-3" -> 1e-4. Text as read_number
/// takes it without fault.
[[nodiscard]] double last_digit(std::string_view typed);

}  // namespace weighwright::record
