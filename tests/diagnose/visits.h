#pragma once
/// Visits written down by hand, for the tests of diagnosis.

#include <gtest/gtest.h>

#include <algorithm>
#include <fstream>
#include <iterator>
#include <stdexcept>
#include <string>
#include <utility>
#include <vector>

#include "deck/reading/deck_file.h"
#include "diagnose/diagnose.h"
#include "statics/model.h"

namespace weighwright::diagnose::tests {

inline deck::Deck deck_of(const std::string& path) {
  std::ifstream file(std::string(WEIGHWRIGHT_SOURCE_DIR) + "/" + path, std::ios::binary);
  const std::string text(std::istreambuf_iterator<char>(file), {});
  const deck::ParsedDeck parsed = deck::parse_deck(text, path);
  if (!parsed.deck) throw std::runtime_error(path + " is no deck");
  return *parsed.deck;
}

inline statics::Model model_of(const deck::Deck& deck) {
  const statics::BuiltModel built = statics::build_model(deck);
  if (!built.model) throw std::runtime_error("the deck does not stand");
  return *built.model;
}

inline record::ReadingSet cells(const std::vector<double>& mV) {
  record::ReadingSet set;
  set.source = "cells.csv";
  for (std::size_t i = 0; i < mV.size(); ++i) {
    record::StandReading reading;
    reading.stand = units::StandIndex{static_cast<int>(i)};
    reading.value = mV[i];
    reading.resolution = 0.01;
    reading.line = static_cast<int>(i) + 2;
    set.stands.push_back(reading);
  }
  return set;
}

inline record::LoadPlace over(const std::string& stand) {
  record::LoadPlace place;
  place.kind = record::LoadPlace::Kind::stand;
  place.stand = units::parse_stand(stand).value();
  place.typed = stand;
  return place;
}

inline record::LoadPlace at_point(double x_m, double y_m) {
  record::LoadPlace place;
  place.kind = record::LoadPlace::Kind::point;
  place.x_m = x_m;
  place.y_m = y_m;
  return place;
}

inline record::LoadReading load(const record::LoadPlace& place,
                                double load_kg,
                                double shows_kg,
                                record::Going going = record::Going::up,
                                double zero_after_kg = 0.0) {
  record::LoadReading reading;
  reading.place = place;
  reading.load_kg = load_kg;
  reading.indication_kg = shows_kg;
  reading.zero_before_kg = 0.0;
  reading.zero_after_kg = zero_after_kg;
  reading.resolution_kg = 2.0;
  reading.last_digit_kg = 2.0;
  reading.going = going;
  return reading;
}

inline record::ShiftSet shift(std::vector<record::LoadReading> readings) {
  record::ShiftSet set;
  set.source = "loads.csv";
  set.readings = std::move(readings);
  for (std::size_t i = 0; i < set.readings.size(); ++i) {
    set.readings[i].line = static_cast<int>(i) + 2;
  }
  return set;
}

inline record::ZeroSet zeros(
    const std::vector<std::pair<double, record::ZeroReading::After>>& readings) {
  record::ZeroSet set;
  set.source = "zero.csv";
  for (const auto& [kg, after] : readings) {
    record::ZeroReading reading;
    reading.zero_kg = kg;
    reading.after = after;
    reading.last_digit_kg = 2.0;
    reading.line = static_cast<int>(set.readings.size()) + 2;
    set.readings.push_back(reading);
  }
  return set;
}

inline record::ZeroSet zero(double kg) {
  return zeros({{kg, record::ZeroReading::After::nothing}});
}

inline record::LookSet look(const std::string& code, const std::string& where, bool found) {
  record::LookSet set;
  set.source = "looks.csv";
  set.looks.push_back({.code = code, .where = where, .found = found, .line = 2});
  return set;
}

/// Whether a cause is the most probable one, or of the class that can't be told from it.
inline ::testing::AssertionResult names(const Diagnosis& diagnosis,
                                        const std::string& code,
                                        const std::string& where) {
  std::string told;
  for (const Cause& cause : diagnosis.causes) {
    told += cause.code + " " + cause.where + " " + std::to_string(cause.probability) + "; ";
    if (cause.code != code || cause.where != where) continue;
    if (cause.alike == diagnosis.causes.front().alike) return ::testing::AssertionSuccess();
  }
  return ::testing::AssertionFailure() << code << " " << where << " is not first: " << told;
}

inline bool holds(const Diagnosis& diagnosis, Adjustment adjustment) {
  return std::find(diagnosis.do_not_adjust.begin(), diagnosis.do_not_adjust.end(), adjustment) !=
         diagnosis.do_not_adjust.end();
}

}  // namespace weighwright::diagnose::tests
