#pragma once
/// Loads on the deck as typed, for the tests of span.

#include <optional>
#include <string>
#include <vector>

#include "deck/deck.h"
#include "record/measurement.h"

namespace weighwright::span::tests {

inline deck::Deck scale(double capacity_kg, double interval_kg) {
  deck::Deck deck;
  deck.name = "Practice";
  deck.capacity_kg = capacity_kg;
  deck.interval_kg = interval_kg;
  return deck;
}

inline record::LoadReading row(double load_kg, double shows_kg) {
  record::LoadReading one;
  one.load_kg = load_kg;
  one.indication_kg = shows_kg;
  one.last_digit_kg = 1.0;
  one.zero_before_kg = 0.0;
  one.zero_after_kg = 0.0;
  return one;
}

inline record::LoadReading changeover(double load_kg, double shows_kg, double added_kg) {
  record::LoadReading one = row(load_kg, shows_kg);
  one.added_kg = added_kg;
  return one;
}

inline record::LoadSet loads(std::vector<record::LoadReading> readings) {
  return {.readings = std::move(readings), .us = false, .source = "span.csv"};
}

}  // namespace weighwright::span::tests
