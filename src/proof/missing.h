#pragma once
/// What a rulebook's required tests still want.
///
/// A required test is made where it, or one that may stand in for it, has results; then its places,
/// loads and repeats are looked at. Which loads count for which:
/// increasing_loads.h; one that is only weighed several times within a quarter (common practice, no
/// source).

#include <vector>

#include "proof/evidence.h"

namespace weighwright::proof {

/// @param judged  lines, ranges, steps and zeros are filled
/// @param no_zero_after  rows: last loads of a table with no zero read afterwards
[[nodiscard]] std::vector<Missing> missing_of(const Evidence& evidence,
                                              const Verdict& judged,
                                              const std::vector<int>& no_zero_after);

}  // namespace weighwright::proof
