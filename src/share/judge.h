#pragma once
/// Are these readings those of this deck at all? Judged before any screw is turned.
///
/// Whatever anyone turns, statics fixes the section sums and the roll moment of a hinged chain. Two
/// combinations of them do not depend on the module masses either: the zig-zag parity of the
/// section sums (zero with every centre of gravity at mid-length) and the roll moment (zero with
/// them in the middle). A residual beyond noise and the uncertainty of the centres of gravity means
/// a wrong cell factor or zero, a deck that touches, foreign or missing load; a hanging bearing
/// leaves both alone. Explanations are ranked by how well the deck with that fault gives these
/// readings (marginal likelihood, normal model), not by a list of rules.
///
/// Source  virtual work (parity), moment equilibrium (roll): docs/theory/share.md.

#include <vector>

#include "deck/deck.h"
#include "share/advice.h"
#include "share/evidence.h"
#include "share/reduced.h"

namespace weighwright::share {

struct Judged {
  Invariant parity;
  Invariant roll;
  std::vector<CannotFix> faults;   // readings that can't be used for advice; empty: go on
  std::vector<double> expected_N;  // s: load of every stand, shared evenly left and right
};

[[nodiscard]] Judged judge(const deck::Deck& deck,
                           const Reduced& reduced,
                           const Evidence& evidence);

}  // namespace weighwright::share
