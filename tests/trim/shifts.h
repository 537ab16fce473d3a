#pragma once
/// Decks and shift readings of our own invention for the tests of trimming.

#include <gtest/gtest.h>

#include <cmath>
#include <string>
#include <vector>

#include "statics/contact.h"
#include "statics/decks.h"
#include "statics/fixture.h"
#include "statics/surface.h"
#include "trim/advise.h"

namespace weighwright::trim::tests {

/// Three hinged modules on eight stands (the reference deck of the statics), with e, d and Max.
inline deck::Deck bridge(const std::string& trims = "digital") {
  deck::Deck deck = statics::tests::deck_r3();
  deck.capacity_kg = 60000.0;
  deck.interval_kg = 20.0;
  for (deck::Stand& stand : deck.stands) {
    stand.cell.output_ohm = 700.0;
    stand.cell.input_ohm = 775.0;
  }
  deck.boxes = {{.stands = {}, .trims = trims}};
  return deck;
}

inline record::LoadPlace over(int stand) {
  record::LoadPlace place;
  place.kind = record::LoadPlace::Kind::stand;
  place.stand = units::StandIndex{stand};
  place.typed = units::print(place.stand);
  return place;
}

inline record::LoadPlace point(double x_m, double y_m) {
  record::LoadPlace place;
  place.kind = record::LoadPlace::Kind::point;
  place.x_m = x_m;
  place.y_m = y_m;
  return place;
}

inline record::LoadPlace middle(int section) {
  record::LoadPlace place;
  place.kind = record::LoadPlace::Kind::section;
  place.section = units::SectionIndex{section};
  place.typed = std::to_string(section + 1);
  return place;
}

inline record::LoadReading reading(const record::LoadPlace& place,
                                   double load_kg,
                                   double shows_kg) {
  record::LoadReading one;
  one.place = place;
  one.load_kg = load_kg;
  one.indication_kg = shows_kg;
  one.last_digit_kg = 0.001;
  one.zero_before_kg = 0.0;
  one.zero_after_kg = 0.0;
  return one;
}

inline record::ShiftSet shift(std::vector<record::LoadReading> readings) {
  return {.readings = std::move(readings), .us = false, .source = "shift.csv"};
}

/// What a deck of these gains shows with a load at a place: forces by the statics.
inline double shows(const deck::Deck& deck,
                    const statics::Model& model,
                    const Eigen::VectorXd& gains,
                    const record::LoadPlace& place,
                    double load_kg) {
  const auto points = unit_load(deck, place, "");
  const statics::ContactState state = statics::solve_contact(
      model, model.dead, statics::tests::level(model), statics::nominal(model));
  const Eigen::MatrixXd share =
      statics::influence_surface(model, state, statics::nominal(model), *points);
  return load_kg * share.row(0).dot(gains);
}

/// A reading over every stand.
inline std::vector<record::LoadReading> corners(const deck::Deck& deck,
                                                const statics::Model& model,
                                                const Eigen::VectorXd& gains,
                                                double load_kg) {
  std::vector<record::LoadReading> readings;
  for (int i = 0; i < deck.stand_count(); ++i) {
    readings.push_back(reading(over(i), load_kg, shows(deck, model, gains, over(i), load_kg)));
  }
  return readings;
}

inline TrimAdvice advised(const deck::Deck& deck,
                          const statics::Model& model,
                          const std::vector<record::Measurement>& events) {
  Advised result = advise(deck, model, events);
  for (const units::Diagnostic& fault : result.faults) ADD_FAILURE() << fault.what;
  if (!result.advice) throw std::runtime_error("no advice");
  return std::move(*result.advice);
}

/// Gains against their mean, as log_gain is.
inline Eigen::VectorXd against_mean(const Eigen::VectorXd& gains) {
  Eigen::VectorXd logs = gains.array().log().matrix();
  logs.array() -= logs.mean();
  return logs;
}

}  // namespace weighwright::trim::tests
