#pragma once
/// What a fault makes of the rows: shifts, unknown amounts, readings put back, rows replaced.
///
/// Signal faults   change what a cell reads alone, and its part in the box. With the cells' signals
///                 in parallel (Millman) each counts by its conductance: an open signal lead leaves
///                 n/(n-1) of every other cell's part, a cell of another resistance r times the
///                 others' counts (1/r) n/(n-1+1/r), each other one n/(n-1+1/r).
/// Mechanics       settling of a stand: influence of its height on all stands with the contacts
///                 pressing, and the state in which it hangs; a bearing that hangs: the state in
///                 which it carries nothing. A packed end rubs (Coulomb): low on the way up, high
///                 on the way down. What lies under a girder takes part of a load from a gap on.
/// Source          Millman's theorem (any text on linear circuits; from memory, unverified); the
///                 figures of FIELD practice are in tests/diagnose. Sizes: hand estimates, no
///                 source.

#include <vector>

#include "diagnose/catalogue.h"
#include "diagnose/row_model.h"
#include "diagnose/rows.h"

namespace weighwright::diagnose {

struct Signature {
  /// Their weights (exp of log_weight) sum to 1 but for Jacobians; empty: the suspect does not
  /// apply to what was measured.
  std::vector<Prediction> variants;
  std::string unit;  // of the size
};

[[nodiscard]] Signature signature_of(const Scene& scene, const Rows& rows, const Suspect& suspect);

}  // namespace weighwright::diagnose
