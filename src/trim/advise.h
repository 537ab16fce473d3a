#pragma once
/// Corner adjustment: from shift readings and trims made so far to every setting at once.

#include <Eigen/Core>
#include <optional>
#include <string>
#include <vector>

#include "deck/deck.h"
#include "record/measurement.h"
#include "statics/model.h"
#include "trim/design.h"
#include "trim/elements.h"
#include "trim/gains.h"
#include "trim/judge.h"
#include "trim/order.h"
#include "trim/placements.h"

namespace weighwright::trim {

enum class Verdict {
  within,       // every place agrees within what is wanted: leave the trims alone
  adjust,       // settings follow
  learn,        // one trim is turned by one turn first, to learn what a turn does
  more_places,  // the readings do not determine the trims
  too_coarse,   // they do, but a step of the display is worth more than a trim should do
  cause_first,  // something that no trim should hide
  no_trims,     // too far apart, and the boxes have no trims that could mend it
  at_limit      // what the trims can do is not enough
};

/// One trim to set.
struct TrimSetting {
  int element = 0;
  double change = 0.0;  // of its effect, after rounding to what can be set
  double effect_after = 0.0;
  std::optional<double> turns;   // clockwise positive, in steps that can be set
  std::optional<double> ohm;     // afterwards, both leads together
  std::optional<double> factor;  // afterwards
  bool at_end = false;           // it would go further if it could
  double u_change = 0.0;         // standard uncertainty of what is asked, from the readings
};

/// One place with one load, now and then. Errors against the mean of all places with that load.
struct PointThen {
  std::string name;
  double load_kg = 0.0;
  bool load_known = false;
  bool read_now = false;  // read since the last trim was moved; else computed
  double error_kg = 0.0;
  double u_error_kg = 0.0;
  double then_error_kg = 0.0;
  double u_then_error_kg = 0.0;
  double then_indication_kg = 0.0;  // what the display will show there
};

/// Greatest less least error over the places with one load; the worst load counts.
struct Spread {
  double kg = 0.0;             // as read, or of the most likely gains
  double expected_kg = 0.0;    // with the uncertainty of the gains
  double upper_kg = 0.0;       // 95 % lie below
  double chance_within = 0.0;  // of being within what is wanted
};

struct Learning {
  int element = 0;
  double turns = 1.0;  // clockwise positive
};

struct Undetermined {
  std::vector<std::string> trims;  // "2L"
  bool left_right_only = false;    // only left against right is open
  std::string settle_by;           // the placement that would settle most
};

/// What n placements more would bring.
struct MorePlacements {
  int count = 0;
  double u_trim_kg = 0.0;  // standard uncertainty of the worst trim, in kg of the load
  std::vector<std::string> places;
};

struct TrimAdvice {
  Verdict verdict = Verdict::within;
  std::vector<Element> elements;
  Shifts shifts;
  GainFit fit;
  std::vector<Finding> findings;
  std::vector<TrimSetting> settings;  // only trims to be moved
  std::optional<Learning> learning;
  std::optional<Undetermined> undetermined;
  std::vector<PointThen> points;
  double wanted_kg = 0.0;
  double reference_kg = 0.0;  // greatest load used; what kg figures of trims refer to
  Spread before;
  Spread then;
  double attainable_kg = 0.0;  // with exact readings: what the trims can do, at best
  double whole_deck = 0.0;     // relative change of every reading by the settings: span comes after
  std::vector<OrderStep> order;
  MoveCosts costs;
  std::vector<MorePlacements> more;
};

struct Advised {
  std::optional<TrimAdvice> advice;  // empty when there are faults
  units::Diagnostics faults;
};

/// @param events  shift readings and trims made, in order; the last must be shift readings
[[nodiscard]] Advised advise(const deck::Deck& deck,
                             const statics::Model& model,
                             const std::vector<record::Measurement>& events);

/// The solution alone, from placements whose shares are known: what is timed.
[[nodiscard]] TrimAdvice solve_trims(const deck::Deck& deck, Shifts shifts);

}  // namespace weighwright::trim
