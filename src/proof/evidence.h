#pragma once
/// Results as they are looked at by the parts of the verdict: one row a reading, with what was
/// found out about it so far. Internal to the verdict; the answer is verdict.h.

#include <cstdint>
#include <limits>
#include <map>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "proof/verdict.h"

namespace weighwright::proof {

/// What the display showed of one reading, before rounding where the rulebook asks for it and it
/// can be told.
struct Shown {
  double kg = 0.0;
  double rounded_off_kg = 0.0;  // kg before rounding less the indication; 0: not measured
  bool before_rounding = false;
  double division_kg = 0.0;  // d, or the finer step that was shown
  double step_kg = 0.0;      // what the figure is known to: d, or the step of the small weights
};

/// Zero error that belongs to a row.
struct ZeroOf {
  double kg = 0.0;
  bool read = false;
  bool before_rounding = false;
  double step_kg = 0.0;
};

/// A load as a sum of weights and of readings that gave substitutes their worth. Coefficients are
/// kept, since one reading may count in several substitutes.
struct Known {
  double kg = 0.0;
  double unnamed_kg = 0.0;            // of it, weights that are in no list
  std::map<std::string, int> counts;  // id -> how often it counts; only the same weights cancel
  bool named = true;                  // every weight is named by an id
  std::map<int, double> readings;     // row -> coefficient
  std::vector<std::string> sorts;     // substitutes on the deck
  double direct_kg = 0.0;             // weights on the deck now
  // By the papers of `counts` (settle, in known_weights.h).
  double standards_kg = 0.0;    // weights, repeats counted
  double u_weights_kg = 0.0;    // the same weights n times: linearly
  double class_error_kg = 0.0;  // the same for their limits
  double drift_kg = 0.0;
  double class_share = 0.0;  // greatest, for buoyancy
  bool densities_stated = false;
  double volume_off_m3_per_kg = 0.0;  // greatest |1/density - 1/8000|
  bool certified = false;             // any value by certificate
};

struct Row {
  const record::ProofReading* reading = nullptr;
  rules::Check check = rules::Check::increasing;
  std::string file;
  int set = 0;
  std::int64_t day = 0;  // on which it was taken, since 1970-01-01
  bool fresh = true;
  bool empty_deck = false;  // a look at zero (perhaps under a small load)
  bool usable = true;       // false: a finding says why its figures can't be trusted
  int range = 0;            // from 0, of a scale with several (weighing_range.h)
  Shown shown;
  ZeroOf zero;
  std::optional<Known> load;  // empty: not known
  std::optional<Known> own;   // of it, the weights that stood there beside substitutes
  bool fixes = false;         // gives a substitute its worth: no error of its own
  [[nodiscard]] double net_kg() const { return shown.kg - zero.kg; }
};

/// Standard deviation of repeated readings.
struct Repeats {
  double s_kg = 0.0;
  double dof = std::numeric_limits<double>::infinity();
  bool measured = false;
  std::optional<double> range_kg;  // greatest less least, the worst load
  // The same, but repeats that all show the same count as one step of the display.
  std::optional<double> sure_range_kg;
};

struct Evidence {
  const deck::Deck& deck;
  const rules::Rulebook& rulebook;
  const ProofCase& what;
  rules::Scale scale;
  std::vector<Row> rows;
  Repeats repeats;
  double eccentric_share = 0.0;  // relative standard uncertainty by where the load stands
  std::vector<SubstituteWorth> substitutes;
};

/// The load whose limits judge a load (rules/nominal_load.h).
[[nodiscard]] double judged_as_kg(const Evidence& evidence, double load_kg);

/// Not above `most_kg`, or so little that it counts as it.
[[nodiscard]] bool is_at_most(const Evidence& evidence, double load_kg, double most_kg);

/// A finding about a row.
[[nodiscard]] ProofFinding finding_at(const Row& row,
                                      std::string_view code,
                                      bool blocks,
                                      std::string what);

/// "1234.5 kg", as few digits as it takes.
[[nodiscard]] std::string in_kg(double kg);

/// Display division where so much is indicated, kg: d, or e where d is not stated.
[[nodiscard]] double division_at_kg(const deck::Deck& deck, double load_kg);

}  // namespace weighwright::proof
