#pragma once
/// Whether shift readings speak of trims at all, or of something that no trim should hide.
///
/// Limits  zero return 0.5 e (as OIML R 76-1:2006 A.4.4 asks zero to be read after unloading; the
///         figure is common practice, no source); up against down 1 d; a demand on a trim 1 %
///         ([trim] most; common practice, no source); disagreement of repeats, of loads in
///         proportion and with the model: 3 standard uncertainties of the difference (for the
///         model 3.5, one place among many), more where many are compared (so that the chance of a
///         false word stays), and at least half an interval.

#include <string>
#include <vector>

#include "deck/deck.h"
#include "trim/elements.h"
#include "trim/gains.h"
#include "trim/placements.h"

namespace weighwright::trim {

enum class Cause {
  zero_return,      // zero did not come back
  up_down,          // the same load differs with the way it was reached
  repeats,          // two readings of one thing disagree
  less_when_heavy,  // in proportion a greater load reads less: deck touching, a cell at its stop
  more_when_heavy,  // and more: friction overcome, a stand that took its share late
  overload,         // more on a cell than it is made for
  no_response,      // a load that the display hardly shows
  falls,            // a load that lowers the display
  mixed_units,      // loads in one unit, indications in another
  beyond_limit,     // a stand differs by more than a trim should mend
  too_coarse,       // the display is too coarse for this load to tell a trim
  trim_idle,        // a trim was turned and turned, and nothing moved
  trims_apart,      // trims already stand further apart than sound cells need
  unexplained,      // a place that does not fit what the others say
  contact_opens     // a stand or bearing lifts under the load; not a fault of the readings
};

struct Finding {
  Cause cause = Cause::unexplained;
  std::string place;      // of the reading, or the trim
  int stand = -1;         // nearest stand, -1: none
  double found = 0.0;     // kg; for beyond_limit and trims_apart a fraction
  double limit = 0.0;     // same unit
  double load_kg = 0.0;   // the (heavier) load; 0: does not apply
  double other_kg = 0.0;  // the lighter load, or the other reading
  bool between = false;   // the place lies between stands
  bool blocks = false;    // no trim advice before its cause is found
  std::string file;
  int line = 0;
};

[[nodiscard]] std::vector<Finding> judge(const deck::Deck& deck,
                                         const Shifts& shifts,
                                         const std::vector<Element>& elements,
                                         const GainFit& fit);

}  // namespace weighwright::trim
