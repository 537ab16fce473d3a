#include <algorithm>
#include <array>

#include "record/entry.h"
#include "record/local_time.h"
#include "record/typed_number.h"
#include "units/diagnostic.h"
#include "units/place.h"

namespace weighwright::record {
namespace {

constexpr std::string_view kUnknown = "unknown";

bool is_one_of(std::string_view value, std::string_view list) {
  while (!list.empty()) {
    const std::size_t bar = list.find('|');
    if (value == list.substr(0, bar)) return true;
    if (bar == std::string_view::npos) return false;
    list.remove_prefix(bar + 1);
  }
  return false;
}

bool is_digit(char c) {
  return c >= '0' && c <= '9';
}

bool is_letter(char c) {
  return (c >= 'a' && c <= 'z') || (c >= 'A' && c <= 'Z');
}

bool is_token(std::string_view value) {
  constexpr std::size_t kLeast = 8;
  constexpr std::size_t kMost = 64;
  return value.size() >= kLeast && value.size() <= kMost &&
         std::all_of(value.begin(), value.end(),
                     [](char c) { return is_letter(c) || is_digit(c) || c == '-'; });
}

/// Nine digits: no counter of an indicator has more.
bool is_whole(std::string_view value) {
  constexpr std::size_t kMost = 9;
  return value.size() <= kMost && std::all_of(value.begin(), value.end(), is_digit);
}

bool is_hash(std::string_view value) {
  constexpr std::size_t kDigits = 64;
  return value.size() == kDigits && std::all_of(value.begin(), value.end(), [](char c) {
           return is_digit(c) || (c >= 'a' && c <= 'f');
         });
}

bool is_country(std::string_view value) {
  return value.size() == 2 &&
         std::all_of(value.begin(), value.end(), [](char c) { return c >= 'A' && c <= 'Z'; });
}

/// Of a number or a quantity; `expected` holds what would be right where the text is none.
units::Parsed read_figure(const FieldRule& rule, std::string_view value) {
  if (rule.kind == FieldKind::quantity) return units::parse(value, rule.of);
  const TypedNumber number = read_number(value);
  if (number.fault == TypedNumber::Fault::none) return {number.value, "", ""};
  return {0.0, describe(number.fault, value), ""};
}

bool is_within(const FieldRule& rule, double value) {
  return value >= rule.least && value <= rule.most;
}

/// "a number in degC, from -60 to 60".
std::string figure_words(const FieldRule& rule, std::string_view what) {
  std::string text(what);
  if (!rule.unit.empty()) text += " in " + std::string(rule.unit);
  if (!rule.range.empty()) text += ", " + std::string(rule.range);
  return text;
}

/// What would be right.
std::string right_of(const FieldRule& rule, const units::Parsed& figure) {
  switch (rule.kind) {
    case FieldKind::choice:
      return "one of " + std::string(rule.one_of);
    case FieldKind::number:
      return figure_words(rule, "a number");
    case FieldKind::whole:
      return "digits alone, as it shows them: 012";
    case FieldKind::quantity:
      return figure_words(rule, figure.ok() ? "with its unit, as " + std::string(example_of(rule))
                                            : figure.expected);
    case FieldKind::date:
      return "a day of the calendar, as 2026-11-25";
    case FieldKind::local_time:
      return "day and time of the place, as 2026-11-25T18:30";
    case FieldKind::stand:
      return "a stand by section and side, as 2L";
    case FieldKind::country:
      return "two capital letters (ISO 3166-1), as GB";
    case FieldKind::hash:
      return "64 hex digits";
    case FieldKind::token:
      return "8 to 64 of the letters A to Z, digits and hyphens";
    case FieldKind::text:
      break;
  }
  return "";
}

bool is_right(const FieldRule& rule, std::string_view value, const units::Parsed& figure) {
  switch (rule.kind) {
    case FieldKind::choice:
      return is_one_of(value, rule.one_of);
    case FieldKind::number:
    case FieldKind::quantity:
      return figure.ok() && is_within(rule, figure.value);
    case FieldKind::whole:
      return is_whole(value);
    case FieldKind::date:
      return read_date(value).has_value();
    case FieldKind::local_time:
      return read_local_time(value).has_value();
    case FieldKind::stand:
      return units::parse_stand(value).has_value();
    case FieldKind::country:
      return is_country(value);
    case FieldKind::hash:
      return is_hash(value);
    case FieldKind::token:
      return is_token(value);
    case FieldKind::text:
      break;
  }
  return true;
}

bool is_figure(const FieldRule& rule) {
  return rule.kind == FieldKind::number || rule.kind == FieldKind::quantity;
}

}  // namespace

std::string_view code_of(FieldKind kind) {
  constexpr std::array<std::string_view, 11> kCodes = {"text",     "choice", "number",     "whole",
                                                       "quantity", "date",   "local_time", "stand",
                                                       "country",  "hash",   "token"};
  return kCodes.at(static_cast<std::size_t>(kind));
}

std::string_view example_of(const FieldRule& rule) {
  switch (rule.kind) {
    case FieldKind::date:
      return "2026-11-25";
    case FieldKind::local_time:
      return "2026-11-25T18:30";
    case FieldKind::stand:
      return "2L";
    case FieldKind::country:
      return "GB";
    case FieldKind::whole:
      return "012";
    case FieldKind::quantity:
      break;
    default:
      return "";
  }
  switch (rule.of) {
    case units::Kind::mass:
      return "25 t";
    case units::Kind::voltage_ratio:
      return "2 mV/V";
    case units::Kind::resistance:
      return "350 ohm";
    case units::Kind::temperature:
      return "12 degC";
    case units::Kind::time:
      return "24 h";
    case units::Kind::pressure:
      return "35 MPa";
    default:
      return "";
  }
}

std::optional<ValueFault> fault_of_value(const FieldRule& rule, std::string_view value) {
  if (rule.or_unknown && value == kUnknown) return {};
  const units::Parsed figure = is_figure(rule) ? read_figure(rule, value) : units::Parsed{};
  if (is_right(rule, value, figure)) return {};
  return ValueFault{.what = std::string(rule.name) + " is " + units::quote(value),
                    .expected = right_of(rule, figure) + (rule.or_unknown ? "; or unknown" : "")};
}

std::optional<double> figure_of(const FieldRule& rule, std::string_view value) {
  if (!is_figure(rule) || value.empty() || (rule.or_unknown && value == kUnknown)) return {};
  const units::Parsed figure = read_figure(rule, value);
  if (!figure.ok() || !is_within(rule, figure.value)) return {};
  return figure.value;
}

}  // namespace weighwright::record
