#include <gtest/gtest.h>

#include <cmath>
#include <string>
#include <variant>

#include "file_text.h"
#include "record/csv.h"

namespace weighwright::deck {
namespace {

using testing::deck_of;
using testing::read_file;

constexpr const char* kExamples[] = {"one-module",     "three-modules", "five-modules-us",
                                     "concrete-shims", "one-piece",     "digital"};

record::ReadingSet readings_of(const std::string& name, const Deck& deck) {
  const std::string path = "examples/" + name + "-readings.csv";
  const record::ParsedMeasurement parsed =
      record::parse_measurement(read_file(path), path, static_cast<int>(deck.sections.size()),
                                static_cast<int>(deck.joints.size()));
  for (const units::Diagnostic& fault : parsed.faults) ADD_FAILURE() << units::print(fault);
  return std::get<record::ReadingSet>(parsed.value.value_or(record::ReadingSet{}));
}

TEST(Examples, AreReadWithoutFaultOrNote) {
  for (const char* const name : kExamples) {
    const std::string path = std::string("examples/") + name + ".toml";
    const ParsedDeck parsed = parse_deck(read_file(path), path);
    EXPECT_TRUE(parsed.deck.has_value()) << name;
    for (const units::Diagnostic& fault : parsed.faults) ADD_FAILURE() << units::print(fault);
    for (const units::Diagnostic& note : parsed.notes) ADD_FAILURE() << units::print(note);
  }
}

TEST(Examples, SayThatTheyAreInvented) {
  for (const char* const name : kExamples) {
    EXPECT_TRUE(read_file(std::string("examples/") + name + ".toml").starts_with("# Invented"))
        << name;
    EXPECT_TRUE(
        read_file(std::string("examples/") + name + "-readings.csv").starts_with("# Invented"))
        << name;
  }
}

/// kg that a reading stands for, by hand: mV / (output * excitation) * capacity.
double mass_kg(const record::StandReading& reading, record::ReadingUnit unit, const Deck& deck) {
  const double net = reading.value - reading.no_load.value_or(0.0);
  if (unit == record::ReadingUnit::kg) return net;
  const Cell& cell = deck.stands[static_cast<std::size_t>(reading.stand.value)].cell;
  return net * 1e-3 / (cell.output_V_per_V * deck.excitation_V) * cell.capacity_kg;
}

// Statics: whatever the screws do, the readings together are the mass of the deck. Tolerance: the
// readings are rounded to 0.01 mV, two readings a stand (with no-load), at most 0.1 t in all.
TEST(Examples, ReadTheMassOfTheirDeckInAll) {
  for (const char* const name : kExamples) {
    const Deck deck = deck_of(read_file(std::string("examples/") + name + ".toml"));
    const record::ReadingSet set = readings_of(name, deck);
    double read_kg = 0.0;
    double told_kg = 0.0;
    for (const record::StandReading& reading : set.stands)
      read_kg += mass_kg(reading, set.unit, deck);
    for (const Module& module : deck.modules) told_kg += module.mass_kg;
    EXPECT_NEAR(read_kg, told_kg, 100.0) << name;
  }
}

TEST(Examples, HaveAPairOutOfTolerance) {
  for (const char* const name : kExamples) {
    const Deck deck = deck_of(read_file(std::string("examples/") + name + ".toml"));
    const record::ReadingSet set = readings_of(name, deck);
    double worst = 0.0;
    for (std::size_t i = 0; i + 1 < set.stands.size(); i += 2) {
      const double left = mass_kg(set.stands[i], set.unit, deck);
      const double right = mass_kg(set.stands[i + 1], set.unit, deck);
      worst = std::max(worst, std::abs(left - right) / ((left + right) / 2.0));
    }
    EXPECT_GT(worst, 0.25) << name;  // default: 20 % of the pair's mean
  }
}

}  // namespace
}  // namespace weighwright::deck
