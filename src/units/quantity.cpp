#include "units/quantity.h"

#include <array>
#include <charconv>
#include <cmath>
#include <system_error>

#include "units/diagnostic.h"
#include "units/unit_expression.h"

namespace weighwright::units {

namespace {

constexpr Exponents exponents(Base base, int exponent = 1) {
  Exponents e{};
  e.at(static_cast<std::size_t>(base)) = exponent;
  return e;
}

constexpr Exponents exponents(Base a, int ea, Base b, int eb) {
  Exponents e = exponents(a, ea);
  e.at(static_cast<std::size_t>(b)) = eb;
  return e;
}

struct KindFacts {
  Kind kind;
  std::string_view name;  // with its article
  std::string_view si;
  std::string_view examples;  // units that are right
  Exponents above;
  Exponents below;
  Pounds pounds;
};

constexpr Exponents kNone{};

constexpr std::array kKinds = {
    KindFacts{Kind::length, "a length", "m", "m, mm, ft or in", exponents(Base::length), kNone,
              Pounds::mass},
    KindFacts{Kind::area, "an area", "m2", "mm2, in2 or AWG", exponents(Base::length, 2), kNone,
              Pounds::mass},
    KindFacts{Kind::mass, "a mass", "kg", "t, kg or lb", exponents(Base::mass), kNone,
              Pounds::mass},
    KindFacts{Kind::force, "a force", "N", "kN, N, lbf or kip", exponents(Base::force), kNone,
              Pounds::force},
    KindFacts{Kind::stiffness, "a stiffness", "N/m", "kN/mm, N/m or lb/in", exponents(Base::force),
              exponents(Base::length), Pounds::force},
    KindFacts{Kind::bending_rigidity, "a rigidity (EI or GJ)", "N m2", "MN m2, N m2 or kip in2",
              exponents(Base::force, 1, Base::length, 2), kNone, Pounds::force},
    KindFacts{Kind::torque, "a torque", "N m", "N m or ft lb",
              exponents(Base::force, 1, Base::length, 1), kNone, Pounds::force},
    KindFacts{Kind::resistance, "a resistance", "ohm", "ohm or kohm", exponents(Base::resistance),
              kNone, Pounds::mass},
    KindFacts{Kind::voltage, "a voltage", "V", "V, mV or uV", exponents(Base::voltage), kNone,
              Pounds::mass},
    KindFacts{Kind::voltage_ratio, "a rated output", "V/V", "mV/V", exponents(Base::voltage),
              exponents(Base::voltage), Pounds::mass},
    KindFacts{Kind::angle, "an angle", "rad", "deg", exponents(Base::angle), kNone, Pounds::mass},
    KindFacts{Kind::slope, "a slope", "m/m", "mm/m, in/ft, % or deg", exponents(Base::length),
              exponents(Base::length), Pounds::mass},
    KindFacts{Kind::temperature, "a temperature", "degC", "degC or degF", kNone, kNone,
              Pounds::mass},
    KindFacts{Kind::fraction, "a fraction", "", "% or none", kNone, kNone, Pounds::mass},
    KindFacts{Kind::acceleration, "an acceleration", "m/s2", "m/s2", exponents(Base::length),
              exponents(Base::time, 2), Pounds::mass},
    KindFacts{Kind::length_per_area, "a length over a cross-section", "m/m2", "m/mm2",
              exponents(Base::length), exponents(Base::length, 2), Pounds::mass},
    KindFacts{Kind::time, "a time", "s", "h, d, min or s", exponents(Base::time), kNone,
              Pounds::mass},
    KindFacts{Kind::pressure, "a pressure or a strength", "Pa", "MPa, psi or hPa",
              exponents(Base::pressure), kNone, Pounds::force},
};

const KindFacts& facts(Kind kind) {
  return kKinds.at(static_cast<std::size_t>(kind));
}

std::string wanted(Kind kind) {
  const KindFacts& k = facts(kind);
  if (kind == Kind::fraction) return "a fraction is wanted here, such as 5 %, 0.05 or 1/8";
  return std::string(k.name) + " is wanted here, in " + std::string(k.examples);
}

Parsed fault(std::string what, std::string expected) {
  return {0.0, std::move(what), std::move(expected)};
}

bool is_digit(char c) {
  return c >= '0' && c <= '9';
}
bool is_space(char c) {
  return c == ' ' || c == '\t';
}

std::string_view trim(std::string_view text) {
  while (!text.empty() && is_space(text.front())) text.remove_prefix(1);
  while (!text.empty() && is_space(text.back())) text.remove_suffix(1);
  return text;
}

bool take(std::string_view& text, std::string_view start) {
  if (!text.starts_with(start)) return false;
  text.remove_prefix(start.size());
  return true;
}

/// A number at the start of a text.
struct Number {
  double value = 0.0;
  std::string_view digits;  // as written, without sign; empty: there is no number
  bool has_comma = false;
  bool is_fraction = false;
  bool is_whole = false;
  bool too_large = false;
  bool zero_divisor = false;
};

std::string_view leading(std::string_view text, std::string_view allowed) {
  return text.substr(0, text.find_first_not_of(allowed));
}

double to_double(std::string_view digits, bool& too_large) {
  double value = 0.0;
  const auto result = std::from_chars(digits.data(), digits.data() + digits.size(), value);
  if (result.ec == std::errc::result_out_of_range) {
    // tiny numbers are out of range too; only the exponent's sign tells them apart
    too_large =
        digits.find("e-") == std::string_view::npos && digits.find("E-") == std::string_view::npos;
    return 0.0;
  }
  return value;
}

/// Digits, point, commas and an exponent such as e-3 (an e that no digit follows is no exponent).
std::string_view take_decimal(std::string_view& text) {
  std::size_t length = leading(text, "0123456789.,").size();
  if (length > 0 && length < text.size() && (text[length] == 'e' || text[length] == 'E')) {
    std::size_t i = length + 1;
    if (i < text.size() && (text[i] == '+' || text[i] == '-')) ++i;
    const std::size_t digits = leading(text.substr(i), "0123456789").size();
    if (digits > 0) length = i + digits;
  }
  const std::string_view decimal = text.substr(0, length);
  text.remove_prefix(length);
  return decimal;
}

/// "1/2" at the start, both whole; nothing is taken when it is not there.
bool take_fraction(std::string_view& text, double& numerator, double& denominator) {
  std::string_view rest = text;
  const std::string_view above = leading(rest, "0123456789");
  rest.remove_prefix(above.size());
  if (above.empty() || above.size() > 6 || !take(rest, "/")) return false;
  const std::string_view below = leading(rest, "0123456789");
  if (below.empty() || below.size() > 6) return false;
  rest.remove_prefix(below.size());
  bool ignored = false;
  numerator = to_double(above, ignored);
  denominator = to_double(below, ignored);
  text = rest;
  return true;
}

/// "4", "4.5", "1e3", "7/8", "4 1/2", "4-1/2", without a sign.
Number take_number(std::string_view& text) {
  Number number;
  const std::string_view start = text;
  double above = 0.0;
  double below = 1.0;
  if (take_fraction(text, above, below)) {
    number.is_fraction = true;
  } else {
    number.digits = take_decimal(text);
    number.has_comma = number.digits.find(',') != std::string_view::npos;
    number.is_whole = !number.digits.empty() &&
                      number.digits.find_first_not_of("0123456789") == std::string_view::npos;
    if (!number.has_comma) number.value = to_double(number.digits, number.too_large);
    std::string_view rest = text;
    const bool apart = number.is_whole && (take(rest, " ") || take(rest, "-"));
    if (apart) rest = trim(rest);
    number.is_fraction = apart && take_fraction(rest, above, below);
    if (number.is_fraction) text = rest;
  }
  if (number.is_fraction) {
    number.zero_divisor = below == 0.0;
    if (!number.zero_divisor) number.value += above / below;
    number.is_whole = false;
    number.digits = start.substr(0, start.size() - text.size());
  }
  return number;
}

/// Groups of three behind commas, as "80,000" or "1,234,567.8".
bool is_grouped(std::string_view digits) {
  const std::string_view whole = digits.substr(0, digits.find('.'));
  std::size_t group = 0;
  bool first = true;
  for (std::size_t i = 0; i <= whole.size(); ++i) {
    if (i < whole.size() && whole[i] != ',') {
      if (!is_digit(whole[i])) return false;
      ++group;
      continue;
    }
    if (first ? (group < 1 || group > 3) : group != 3) return false;
    first = false;
    group = 0;
  }
  return digits.find(',', whole.size()) == std::string_view::npos;
}

std::string without_commas(std::string_view digits) {
  std::string text;
  for (const char c : digits) {
    if (c != ',') text += c;
  }
  return text;
}

Parsed comma_fault(std::string_view digits, std::string_view unit) {
  const std::string tail = unit.empty() ? "" : " " + std::string(unit);
  std::string with_point(digits);
  for (char& c : with_point) {
    if (c == ',') c = '.';
  }
  const bool one_comma = digits.find(',') == digits.rfind(',');
  if (is_grouped(digits) && one_comma && digits.find('.') == std::string_view::npos) {
    return fault("the comma in " + quote(digits) + " can be a thousands mark or a decimal mark",
                 "write " + without_commas(digits) + tail + " or " + with_point + tail);
  }
  if (one_comma && digits.find('.') == std::string_view::npos) {
    return fault("decimal comma in " + quote(digits), "write " + with_point + tail);
  }
  return fault("commas in " + quote(digits),
               "write the number with a decimal point and no other mark");
}

/// Messages repeat parts of the text, so it has to be fit for them.
bool is_readable(std::string_view text) {
  for (const char c : text) {
    const auto byte = static_cast<unsigned char>(c);
    if ((byte < 0x20 && c != '\t') || byte == 0x7F) return false;
  }
  return is_utf8(text);
}

Parsed not_a_number(std::string_view text, Kind kind) {
  return fault(quote(text) + " does not begin with a number", wanted(kind));
}

Parsed check_finite(double value, std::string_view text) {
  if (std::isfinite(value)) return {value, "", ""};
  return fault(quote(text) + " is too large", "write a number that a deck can have");
}

// ---------------------------------------------------------------------------------- feet and
// inches

bool take_feet_mark(std::string_view& text) {
  // a prime, a right single quotation mark or an apostrophe; "''" is an inch mark
  if (text.starts_with("''")) return false;
  for (const std::string_view mark :
       {"feet", "foot", "ft.", "ft", "'", "\xE2\x80\xB2", "\xE2\x80\x99"}) {
    if (take(text, mark)) return true;
  }
  return false;
}

bool take_inch_mark(std::string_view& text) {
  for (const std::string_view mark :
       {"inches", "inch", "in.", "in", "\"", "''", "\xE2\x80\xB3", "\xE2\x80\x9D"}) {
    if (take(text, mark)) return true;
  }
  return false;
}

/// What follows the number of a length written with foot and inch marks; empty `handled` when the
/// text is an ordinary unit.
struct FeetInches {
  bool handled = false;
  Parsed parsed;
};

FeetInches parse_feet_inches(std::string_view all, const Number& first, std::string_view unit) {
  std::string_view rest = unit;
  if (take_inch_mark(rest) && rest.empty()) return {true, {first.value * kInch_m, "", ""}};
  rest = unit;
  if (!take_feet_mark(rest)) return {};
  rest = trim(rest);
  if (rest.empty()) return {true, {first.value * kFoot_m, "", ""}};
  if (take(rest, "-")) rest = trim(rest);
  if (rest.empty() || (!is_digit(rest.front()) && rest.front() != '.')) return {};
  const Number inches = take_number(rest);
  rest = trim(rest);
  const std::string right = R"(write feet and inches as 23' 4 1/2" or 23 ft 4.5 in)";
  if (inches.has_comma || inches.too_large || inches.zero_divisor) {
    return {true, fault("the inches in " + quote(all) + " are no number", right)};
  }
  if (!take_inch_mark(rest) || !rest.empty()) {
    return {true, fault("the inch mark is missing in " + quote(all), right)};
  }
  if (!first.is_whole) {
    return {true, fault("feet with a fraction and inches besides in " + quote(all), right)};
  }
  if (inches.value >= 12.0) {
    return {true, fault("twelve inches or more beside feet in " + quote(all), right)};
  }
  return {true, {(first.value * 12.0 + inches.value) * kInch_m, "", ""}};
}

// ----------------------------------------------------------------------------------- special units

/// Wire sizes: d = 0.005 in * 92^((36 - n)/39), ASTM B258.
Parsed parse_wire_gauge(double number) {
  if (number != std::round(number) || number < 0.0 || number > 40.0) {
    return fault("there is no such wire size", "write a whole number from 0 to 40, as 18 AWG");
  }
  const double diameter_m = 0.005 * kInch_m * std::pow(92.0, (36.0 - number) / 39.0);
  return {3.14159265358979323846 / 4.0 * diameter_m * diameter_m, "", ""};
}

Parsed parse_temperature(double number, std::string_view unit, std::string_view text) {
  if (unit == "degC" || unit ==
                            "\xC2\xB0"
                            "C")
    return check_finite(number, text);
  if (unit == "degF" || unit ==
                            "\xC2\xB0"
                            "F")
    return check_finite((number - 32.0) / 1.8, text);
  return fault(quote(text) + (unit.empty() ? " has no unit" : " is no temperature"),
               wanted(Kind::temperature));
}

/// "is a mass" for the dimension of a unit, or that it is nothing known here.
std::string describe(const UnitExpression& unit) {
  for (const KindFacts& k : kKinds) {
    if (k.kind == Kind::temperature || k.kind == Kind::fraction) continue;
    if (k.above == unit.above && k.below == unit.below) return "is " + std::string(k.name);
  }
  if (unit.above == exponents(Base::percent) && unit.below == kNone) return "is a fraction";
  return "has a unit that fits nothing in a deck file";
}

bool fits(const UnitExpression& unit, Kind kind) {
  const KindFacts& k = facts(kind);
  if (unit.above == k.above && unit.below == k.below) return true;
  const bool is_percent = unit.above == exponents(Base::percent) && unit.below == kNone;
  const bool is_angle = unit.above == exponents(Base::angle) && unit.below == kNone;
  if (kind == Kind::fraction) return is_percent;
  if (kind == Kind::pressure) {  // "35 N/mm2"
    return unit.above == exponents(Base::force) && unit.below == exponents(Base::length, 2);
  }
  return kind == Kind::slope && (is_percent || is_angle);
}

std::string missing_unit_example(std::string_view number, Kind kind) {
  return wanted(kind) + ": " + std::string(number) + " what?";
}

Parsed parse_plain(std::string_view text, double number, std::string_view unit_text, Kind kind) {
  if (unit_text.empty()) {
    if (kind == Kind::fraction) return check_finite(number, text);
    return fault(quote(text) + " has no unit", missing_unit_example(text, kind));
  }
  if (is_digit(unit_text.front()) || unit_text.front() == '.') {
    return fault("two numbers in " + quote(text), "write the number without a space: 80000 lb");
  }
  const UnitExpression unit = parse_unit(unit_text, facts(kind).pounds);
  if (!unit.what.empty()) {
    const bool hint = !unit.expected.empty();
    return fault(unit.what + " in " + quote(text), hint ? unit.expected : wanted(kind));
  }
  if (!fits(unit, kind)) return fault(quote(text) + " " + describe(unit), wanted(kind));
  const double value = number * unit.multiply / unit.divide;
  const bool is_angle = unit.above == exponents(Base::angle);
  return check_finite(kind == Kind::slope && is_angle ? std::tan(value) : value, text);
}

bool comma_is_thousands(std::string_view digits, std::string_view unit_text, Kind kind) {
  if (!is_grouped(digits) || unit_text.empty()) return false;
  std::string_view rest = unit_text;
  if (kind == Kind::length && (take_feet_mark(rest) || take_inch_mark(rest))) return true;
  const UnitExpression unit = parse_unit(unit_text, facts(kind).pounds);
  return unit.what.empty() && unit.us_customary;
}

/// @param sign  of the whole quantity: a temperature needs it before the zero of its scale is
/// shifted
Parsed parse_unsigned(std::string_view text, Kind kind, double sign) {
  std::string_view rest = text;
  Number number = take_number(rest);
  if (number.digits.empty()) return not_a_number(text, kind);
  const std::string_view unit = trim(rest);
  if (number.has_comma) {
    if (!comma_is_thousands(number.digits, unit, kind)) {
      const Parsed comma = comma_fault(number.digits, unit);
      return comma;
    }
    number.value = to_double(without_commas(number.digits), number.too_large);
    number.is_whole = number.digits.find('.') == std::string_view::npos;
  }
  if (number.too_large) return fault(quote(text) + " is too large", wanted(kind));
  if (number.zero_divisor) return fault("division by zero in " + quote(text), wanted(kind));
  // one point at most, and a digit beside it: from_chars stops at what it does not understand
  if (!number.is_fraction) {
    const std::string plain_digits = without_commas(number.digits);
    double ignored = 0.0;
    const auto result =
        std::from_chars(plain_digits.data(), plain_digits.data() + plain_digits.size(), ignored);
    if (result.ptr != plain_digits.data() + plain_digits.size()) return not_a_number(text, kind);
  }
  if (kind == Kind::temperature) return parse_temperature(sign * number.value, unit, text);
  if (kind == Kind::area && unit == "AWG") return parse_wire_gauge(number.value);
  if (kind == Kind::length) {
    const FeetInches marks = parse_feet_inches(text, number, unit);
    if (marks.handled) return {sign * marks.parsed.value, marks.parsed.what, marks.parsed.expected};
  }
  return parse_plain(text, sign * number.value, unit, kind);
}

}  // namespace

std::string_view si_unit(Kind kind) {
  return facts(kind).si;
}

Parsed parse(std::string_view text, Kind kind) {
  constexpr std::size_t kLongestQuantity = 200;
  std::string_view rest = trim(text);
  if (rest.empty()) return fault("there is no value", wanted(kind));
  if (rest.size() > kLongestQuantity) return fault(quote(rest) + " is too long", wanted(kind));
  if (!is_readable(rest)) return fault(quote(rest) + " is no readable text", wanted(kind));
  const bool negative = take(rest, "-") || take(rest, "\xE2\x88\x92");
  if (!negative) take(rest, "+");
  return parse_unsigned(trim(rest), kind, negative ? -1.0 : 1.0);
}

}  // namespace weighwright::units
