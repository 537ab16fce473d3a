#pragma once
/// Two lines of one table that say of the same load, at the same place, in the same run, that
/// something else was shown.
///
/// Told    with both places: a second series is a run of its own, a slip is struck out. Both lines
///         are judged meanwhile, so that the worse one counts.
/// Blocks  where they differ by more than the limit of error at that load: results of one load may
///         not (R 76-1:2006, 3.6.1, as quoted by OIML Bulletin 1994/02), so one of them is wrong.
/// Not     repeatability, zero and discrimination, which are read several times, and lines that say
///         that they were taken at different times.

#include <vector>

#include "proof/evidence.h"

namespace weighwright::proof {

/// @pre loads and zeros of the rows are known
void tell_contradictions(const Evidence& evidence, std::vector<ProofFinding>& findings);

}  // namespace weighwright::proof
