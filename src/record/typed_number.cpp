#include "record/typed_number.h"

#include <algorithm>
#include <charconv>
#include <cmath>
#include <system_error>

#include "units/diagnostic.h"

namespace weighwright::record {

namespace {

bool looks_like_decimal_comma(std::string_view text) {
  const std::size_t comma = text.find(',');
  return comma != std::string_view::npos && comma > 0 && comma + 1 < text.size() &&
         text.find_first_not_of("0123456789,.+-") == std::string_view::npos;
}

}  // namespace

TypedNumber read_number(std::string_view text) {
  std::string_view digits = text;
  if (digits.starts_with("\xE2\x88\x92")) return {0.0, TypedNumber::Fault::minus_sign};
  if (digits.starts_with("+")) digits.remove_prefix(1);
  double value = 0.0;
  const auto result = std::from_chars(digits.data(), digits.data() + digits.size(), value);
  const bool all = result.ptr == digits.data() + digits.size();
  if (result.ec == std::errc::result_out_of_range && all) {
    return {0.0, TypedNumber::Fault::too_large};
  }
  if (result.ec == std::errc{} && all && std::isfinite(value)) return {value};
  return {0.0, looks_like_decimal_comma(text) ? TypedNumber::Fault::decimal_comma
                                              : TypedNumber::Fault::no_number};
}

std::string describe(TypedNumber::Fault fault, std::string_view text) {
  switch (fault) {
    case TypedNumber::Fault::decimal_comma:
      return "decimal comma in " + units::quote(text);
    case TypedNumber::Fault::minus_sign:
      return units::quote(text) + " has a typographic minus sign";
    case TypedNumber::Fault::too_large:
      return units::quote(text) + " is beyond what can be measured";
    case TypedNumber::Fault::no_number:
    case TypedNumber::Fault::none:
      break;
  }
  return units::quote(text) + " is no number";
}

std::string remedy(TypedNumber::Fault fault, std::string_view text) {
  if (fault == TypedNumber::Fault::decimal_comma) {
    return "write the number with a point, as 1.09";
  }
  if (fault == TypedNumber::Fault::minus_sign) return "write - from the keyboard";
  if (!text.empty() && text.front() >= '0' && text.front() <= '9') {
    return "the number alone; its unit stands in the header";
  }
  return "a number such as 1.09; leave the line out rather than writing words";
}

double last_digit(std::string_view typed) {
  const std::size_t exponent_at = typed.find_first_of("eE");
  const std::string_view mantissa = typed.substr(0, exponent_at);
  const std::size_t point = mantissa.find('.');
  const auto decimals =
      point == std::string_view::npos ? 0 : static_cast<int>(mantissa.size() - point) - 1;
  int exponent = 0;
  if (exponent_at != std::string_view::npos) {
    std::string_view digits = typed.substr(exponent_at + 1);
    if (digits.starts_with("+")) digits.remove_prefix(1);
    std::from_chars(digits.data(), digits.data() + digits.size(), exponent);
  }
  // parsed as text, so that "1.10" gives the double nearest to 0.01
  const std::string power = "1e" + std::to_string(std::clamp(exponent - decimals, -300, 300));
  double value = 0.0;
  std::from_chars(power.data(), power.data() + power.size(), value);
  return value;
}

}  // namespace weighwright::record
