#include <cmath>
#include <cstddef>
#include <variant>
#include <vector>

#include "fuzz/entry.h"
#include "record/csv.h"
#include "units/diagnostic.h"

namespace weighwright::fuzz {

namespace {

/// Finite, known or named, on the deck.
void hold_loads(const std::vector<record::LoadReading>& readings, int sections) {
  hold(!readings.empty());
  for (const record::LoadReading& reading : readings) {
    hold(reading.load_kg.has_value() == reading.load_id.empty());
    hold(!reading.load_kg || (std::isfinite(*reading.load_kg) && *reading.load_kg >= 0.0));
    hold(std::isfinite(reading.indication_kg) && reading.last_digit_kg > 0.0);
    hold(std::isfinite(reading.place.x_m) && std::isfinite(reading.place.y_m));
    hold(reading.place.section.value >= 0 && reading.place.section.value < sections);
  }
}

/// What plan and verdict rely on: loads that are numbers, runs and counts from 1.
void hold_results(const record::ProofSet& set, int sections) {
  hold(!set.readings.empty());
  for (const record::ProofReading& one : set.readings) {
    hold(!one.check.empty() && one.run >= 1);
    hold(std::isfinite(one.reading.indication_kg) && one.reading.last_digit_kg > 0.0);
    hold(!one.reading.load_kg ||
         (std::isfinite(*one.reading.load_kg) && *one.reading.load_kg >= 0));
    hold(one.reading.place.section.value < sections);
    hold(one.check != "strain" || one.start_kg.has_value());
    hold(one.check != "discrimination" || (one.then_kg && one.reading.added_kg));
  }
}

void hold_weights(const record::WeightSet& set) {
  hold(!set.weights.empty());
  for (const record::Weight& one : set.weights) {
    hold(!one.id.empty() && one.count >= 1);
    hold(std::isfinite(one.nominal_kg) && one.nominal_kg > 0.0);
    hold(!one.conventional_kg || one.uncertainty_kg);
    hold(one.coverage >= 1.0 && one.axles >= 0);
    hold(!one.length_m || *one.length_m > 0.0);
  }
}

}  // namespace

void read_csv(std::string_view bytes) {
  constexpr int kSections = 3;
  constexpr int kJoints = 2;
  const record::ParsedMeasurement parsed =
      record::parse_measurement(bytes, "file.csv", kSections, kJoints);
  hold(parsed.value.has_value() == parsed.faults.empty());
  for (const units::Diagnostic& fault : parsed.faults) hold(units::is_utf8(units::print(fault)));
  if (!parsed.value) return;
  if (const auto* const readings = std::get_if<record::ReadingSet>(&*parsed.value)) {
    hold(readings->stands.size() == std::size_t{2} * kSections);
    for (const record::StandReading& reading : readings->stands) {
      hold(std::isfinite(reading.value) && reading.resolution > 0.0);
    }
  }
  if (const auto* const shift = std::get_if<record::ShiftSet>(&*parsed.value)) {
    hold_loads(shift->readings, kSections);
  }
  if (const auto* const loads = std::get_if<record::LoadSet>(&*parsed.value)) {
    hold_loads(loads->readings, kSections);
  }
  if (const auto* const forces = std::get_if<record::ForceSet>(&*parsed.value)) {
    hold(forces->force_N.size() == std::size_t{2} * kSections);
  }
  if (const auto* const results = std::get_if<record::ProofSet>(&*parsed.value)) {
    hold_results(*results, kSections);
  }
  if (const auto* const weights = std::get_if<record::WeightSet>(&*parsed.value)) {
    hold_weights(*weights);
  }
  if (const auto* const trims = std::get_if<record::TrimSet>(&*parsed.value)) {
    for (const record::TrimMove& move : trims->moves) {
      const int given = (move.turns ? 1 : 0) + (move.ohm ? 1 : 0) + (move.factor ? 1 : 0);
      hold(given == 1 && move.place.section.value < kSections);
    }
  }
}

}  // namespace weighwright::fuzz

WEIGHWRIGHT_FUZZ_TARGET(weighwright::fuzz::read_csv)
