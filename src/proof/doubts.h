#pragma once
/// What makes a verdict less sure than its lines look. Told; only what blocks is acted on.
///
/// not_capable  lines whose expanded uncertainty takes more than a third of their limit: the
///         measurement hardly tells pass from fail there (JCGM 106:2012, 8.2.3).
/// order_unknown  results that may be older than an adjustment; it blocks.
/// eccentricity_not_measured  no load was compared between places, so no term says what the place
///         of a load on the whole deck does to its error (the term: line_budget.h).

#include <vector>

#include "proof/evidence.h"

namespace weighwright::proof {

/// Each at most once.
void tell_doubts(const Evidence& evidence,
                 const std::vector<JudgedLine>& lines,
                 std::vector<ProofFinding>& findings);

/// Results of different years in one run: nobody tests so long, or a date is mistyped.
/// @param days  rising
void tell_years(const std::vector<std::int64_t>& days, std::vector<ProofFinding>& findings);

}  // namespace weighwright::proof
