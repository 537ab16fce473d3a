#pragma once
/// The weights at hand as standards: what they are worth together, how sure, and which may not be
/// used.
///
/// Value   conventional mass by certificate where there is one, else nominal.
/// Sure    by certificate U/k; else the class's limit over sqrt 3 (JCGM 100:2008, 4.3.7). Weights
///         compared with one standard add linearly (5.2.2 Note 1), and so do all weights of one
///         class taken at nominal; others in squares. Certified weights of which nobody says what
///         they were compared with may all hang on one standard: they add linearly as well (the
///         cautious reading of that note; common practice, no source).

#include <cstdint>
#include <optional>
#include <string>
#include <vector>

#include "record/measurement.h"
#include "rules/rulebook.h"

namespace weighwright::proof {

struct Taken {
  std::string id;
  int count = 1;
};

/// "W1" or "W1*3". Empty: it is written otherwise.
[[nodiscard]] std::optional<Taken> parse_taken(const std::string& text);

struct Load {
  double kg = 0.0;
  double u_kg = 0.0;  // standard
  double class_error_kg =
      0.0;                   // sum of what class or certificate allow: compared with 1/3 of limits
  double class_share = 0.0;  // class limit over mass, the greatest, for buoyancy
  double drift_kg = 0.0;     // half width, of certified values; 0 where nominal values are used
  bool densities_stated = false;      // of all of them
  double volume_off_m3_per_kg = 0.0;  // greatest |1/density - 1/8000| of stated densities
  bool certified = false;             // any value by certificate
  bool sure = true;                   // false: a weight without class and certificate is among them
  std::vector<std::string> unknown;   // ids that are in no weights file
};

[[nodiscard]] Load load_of(const std::vector<Taken>& taken,
                           const std::vector<record::Weight>& weights);

struct StandardFinding {
  /// no_certificate, expired, no_class_value, value_unlike_nominal, doubled; uncertainty_zero (the
  /// limit of its class is taken, and where it has none it may not serve)
  std::string code;
  std::string id;
  bool refuses = true;  // may not serve as a standard (it may as a substitution load)
  int line = 0;
};
/// @param day  since 1970-01-01, of the test
[[nodiscard]] std::vector<StandardFinding> judge_standards(
    const std::vector<record::Weight>& weights, std::int64_t day);

/// It has papers, and nobody says what it was compared with.
[[nodiscard]] bool traces_to_nothing(const record::Weight& weight);

/// How much their certified values make more than their nominal ones; of vehicles, whose nominal
/// value is only about what they weigh, nothing.
[[nodiscard]] double above_nominal_kg(const std::vector<Taken>& taken,
                                      const std::vector<record::Weight>& weights);

/// May it serve as a standard on that day?
[[nodiscard]] bool usable(const record::Weight& weight, std::int64_t day);

}  // namespace weighwright::proof
