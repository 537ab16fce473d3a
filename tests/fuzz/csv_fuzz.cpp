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
  if (const auto* const trims = std::get_if<record::TrimSet>(&*parsed.value)) {
    for (const record::TrimMove& move : trims->moves) {
      const int given = (move.turns ? 1 : 0) + (move.ohm ? 1 : 0) + (move.factor ? 1 : 0);
      hold(given == 1 && move.place.section.value < kSections);
    }
  }
}

}  // namespace weighwright::fuzz

WEIGHWRIGHT_FUZZ_TARGET(weighwright::fuzz::read_csv)
