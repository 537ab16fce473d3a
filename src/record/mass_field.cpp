#include "record/mass_field.h"

#include <algorithm>
#include <cstddef>

#include "record/typed_number.h"
#include "units/quantity.h"

namespace weighwright::record {

namespace {

MassField read_plain(std::string_view text, double unit_kg, bool us) {
  const TypedNumber typed = read_number(text);
  if (typed.fault != TypedNumber::Fault::none) {
    return {0.0, 0.0, us, describe(typed.fault, text), remedy(typed.fault, text)};
  }
  return {typed.value * unit_kg, last_digit(text) * unit_kg, us, "", ""};
}

/// Where the unit begins: behind digits, marks and an exponent such as e-3.
std::size_t end_of_number(std::string_view text) {
  static constexpr std::string_view kDigits = "0123456789";
  const std::size_t end = std::min(text.find_first_not_of("0123456789.,+- "), text.size());
  if (end == text.size() || (text[end] != 'e' && text[end] != 'E')) return end;
  std::size_t i = end + 1;
  if (i < text.size() && (text[i] == '+' || text[i] == '-')) ++i;
  const std::size_t after = std::min(text.find_first_not_of(kDigits, i), text.size());
  return after > i ? after : end;
}

/// "12.34 t": one of the last digit is 0.01 t. Without a plain number in front ("1/2 t") a whole
/// unit of that kind, or 1 kg.
double last_digit_of_quantity(std::string_view text) {
  const std::size_t end = end_of_number(text);
  std::string digits(text.substr(0, end));
  std::erase_if(digits, [](char c) { return c == ',' || c == ' '; });
  const units::Parsed one = units::parse("1 " + std::string(text.substr(end)), units::Kind::mass);
  const bool is_number = read_number(digits).fault == TypedNumber::Fault::none;
  return (one.ok() ? one.value : 1.0) * (is_number ? last_digit(digits) : 1.0);
}

MassField read_quantity(std::string_view text) {
  const units::Parsed parsed = units::parse(text, units::Kind::mass);
  if (!parsed.ok()) return {0.0, 0.0, false, parsed.what, parsed.expected};
  const bool us =
      text.find("lb") != std::string_view::npos || text.find("kip") != std::string_view::npos;
  return {parsed.value, last_digit_of_quantity(text), us, "", ""};
}

}  // namespace

MassField read_mass(std::string_view text, ColumnUnit unit) {
  if (unit == ColumnUnit::typed) return read_quantity(text);
  constexpr double kGram_kg = 1e-3;
  if (unit == ColumnUnit::g) return read_plain(text, kGram_kg, false);
  const bool us = unit == ColumnUnit::lb;
  return read_plain(text, us ? units::kPound_kg : 1.0, us);
}

}  // namespace weighwright::record
