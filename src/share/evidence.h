#pragma once
/// The history of a deck as states: what was read in each, and what was turned in between.

#include <Eigen/Core>
#include <optional>
#include <vector>

#include "deck/deck.h"
#include "record/measurement.h"
#include "statics/model.h"
#include "units/diagnostic.h"

namespace weighwright::share {

/// Relative standard deviation of the thickness of sheet-steel shims (from memory, unverified).
inline constexpr double kShimError = 0.01;

/// Air measured at a contact.
struct GapSeen {
  int contact = 0;  // position in Model::contacts
  double gap_m = 0.0;
  double sd_m = 0.15e-3;  // of a feeler gauge at a rough edge; common practice, no source
};

/// The deck between two adjustments. s stands.
struct State {
  Eigen::VectorXd raise_m;      // s: what was turned or shimmed since the state before, up positive
  Eigen::VectorXd raise_error;  // s: relative standard deviation of that
  Eigen::VectorXd force_N;      // s: mean of the readings, no-load taken off where known
  Eigen::VectorXd noise_N;      // s: standard deviation of that mean
  int readings = 0;             // reading sets averaged
  std::vector<GapSeen> gaps;
};

/// How one stand was read last, for speaking of it in its own unit.
struct Display {
  double signal_V = 0.0;   // as read (mean of repeats), zero included
  double no_load_V = 0.0;  // 0 where unknown
  double excitation_V = 0.0;
  double sensitivity_V_per_N = 0.0;
  double step_V = 0.0;  // resolution of the reading
};

struct Evidence {
  std::vector<State> states;   // at least one
  std::vector<Display> last;   // s
  bool no_load_known = false;  // at every stand
  Eigen::VectorXd zero_N;      // s: standard deviation of what no-load readings leave unknown
  bool excitation_assumed = false;
  record::ReadingUnit unit = record::ReadingUnit::mV;
  Eigen::VectorXd survey_m;  // s, at the first state; NaN where not surveyed; empty: no survey
  // s: sum of all raises since the first reading; on shims also of those before it.
  Eigen::VectorXd used_m;
  bool map_proven = false;
  bool remapped = false;
};

struct GatheredEvidence {
  std::optional<Evidence> evidence;  // empty when there are faults
  units::Diagnostics faults;
};

/// Events in the order in which they happened. Faults: a reading that no cell can give, counts
/// where the deck gives no counts, turns at shims, no reading at the end, a map that is no
/// exchange.
[[nodiscard]] GatheredEvidence gather(const deck::Deck& deck,
                                      const statics::Model& model,
                                      const std::vector<record::Measurement>& events);

}  // namespace weighwright::share
