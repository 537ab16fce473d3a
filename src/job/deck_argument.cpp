#include "job/deck_argument.h"

#include <string_view>

#include "units/quantity.h"

namespace weighwright::job {
namespace {

units::Diagnostic fault(const std::string& option, std::string what, std::string expected) {
  return {.file = option,
          .line = 0,
          .column = 0,
          .what = std::move(what),
          .expected = std::move(expected)};
}

/// A quantity that is one part of an argument; its fault names the option.
double quantity(const std::string& option,
                std::string_view text,
                units::Kind kind,
                units::Diagnostics& faults) {
  const units::Parsed parsed = units::parse(text, kind);
  if (!parsed.ok()) faults.push_back(fault(option, parsed.what, parsed.expected));
  return parsed.value;
}

std::string_view trimmed(std::string_view text) {
  const std::size_t first = text.find_first_not_of(' ');
  if (first == std::string_view::npos) return {};
  return text.substr(first, text.find_last_not_of(' ') - first + 1);
}

}  // namespace

ParsedLoad parse_load(const std::string& text, double gravity_m_per_s2) {
  const std::string option = "--load";
  const std::size_t first = text.find(',');
  const std::size_t second = first == std::string::npos ? first : text.find(',', first + 1);
  if (second == std::string::npos) {
    return {.load = {},
            .faults = {fault(option, "\"" + text + "\" is no load",
                             "place along, place across, mass: \"3.5 m,0.6 m,10 t\"")}};
  }
  const std::string_view all = text;
  ParsedLoad parsed;
  const double x_m =
      quantity(option, trimmed(all.substr(0, first)), units::Kind::length, parsed.faults);
  const double y_m = quantity(option, trimmed(all.substr(first + 1, second - first - 1)),
                              units::Kind::length, parsed.faults);
  // The mass comes last, so that it may hold a thousands comma.
  const double mass_kg =
      quantity(option, trimmed(all.substr(second + 1)), units::Kind::mass, parsed.faults);
  if (parsed.faults.empty() && mass_kg < 0.0) {
    parsed.faults.push_back(fault(option, "a load of less than nothing", "a mass of 0 or more"));
  }
  if (parsed.faults.empty()) {
    parsed.load = {.x_m = x_m, .y_m = y_m, .force_N = mass_kg * gravity_m_per_s2};
  }
  return parsed;
}

std::string stand_range(const deck::Deck& deck) {
  return "1L to " + units::print(units::StandIndex{deck.stand_count() - 1});
}

ParsedStand parse_stand_of(const std::string& text,
                           const deck::Deck& deck,
                           const std::string& option) {
  const std::string_view label = trimmed(text);
  const auto stand = units::parse_stand(label);
  if (!stand || stand->value >= deck.stand_count()) {
    return {.stand = {},
            .faults = {fault(option, "\"" + std::string(label) + "\" is no stand of this deck",
                             stand_range(deck))}};
  }
  return {.stand = stand, .faults = {}};
}

ParsedLift parse_lift(const std::string& text, const deck::Deck& deck) {
  const std::string option = "--jack";
  const std::size_t comma = text.find(',');
  if (comma == std::string::npos) {
    return {
        .lift = {},
        .faults = {fault(option, "\"" + text + "\" is no lift", "stand and rise: \"2L,3 mm\"")}};
  }
  ParsedStand stand = parse_stand_of(text.substr(0, comma), deck, option);
  ParsedLift parsed{.lift = {}, .faults = std::move(stand.faults)};
  const std::string_view all = text;
  const double lift_m =
      quantity(option, trimmed(all.substr(comma + 1)), units::Kind::length, parsed.faults);
  if (parsed.faults.empty() && lift_m < 0.0) {
    parsed.faults.push_back(fault(option, "a jack only lifts", "a rise of 0 or more"));
  }
  if (parsed.faults.empty()) parsed.lift = {.stand = *stand.stand, .lift_m = lift_m};
  return parsed;
}

}  // namespace weighwright::job
