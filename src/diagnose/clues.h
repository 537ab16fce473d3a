#pragma once
/// What was found by looking, feeling, exchanging and metering: a chance under every suspect.
///
/// Look, gap, map  chance of the answer if the suspect is what is wrong (catalogue.h).
/// Meter           posterior over prior of signal/electrics.h, against a sound cell.
/// Trims           as found: further apart than sound cells need, or not.

#include <Eigen/Core>
#include <functional>
#include <string>
#include <string_view>
#include <vector>

#include "deck/deck.h"
#include "diagnose/catalogue.h"
#include "diagnose/meter_memory.h"
#include "record/measurement.h"
#include "units/diagnostic.h"

namespace weighwright::diagnose {

struct Clue {
  std::string what;  // "look: bearing_gap at bearing1R"
  std::string code;  // of the look, "gap", "map", "meter", "trims"
  std::string where;
  bool found = false;
  std::function<double(const Suspect&)> log_chance;  // ln, any common constant left out
  std::string file;
  int line = 0;
};

struct Clues {
  std::vector<Clue> list;
  bool map_complete = false;
  std::vector<std::string> notes;
  units::Diagnostics faults;
  [[nodiscard]] bool asked(std::string_view code, std::string_view where) const;
};

/// @param dead_kg  expected on every stand, N
[[nodiscard]] Clues gather_clues(const deck::Deck& deck,
                                 const std::vector<record::Measurement>& now,
                                 const Eigen::VectorXd& dead_kg,
                                 bool shared,
                                 MeterMemory* memory = nullptr);

}  // namespace weighwright::diagnose
