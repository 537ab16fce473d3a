#pragma once
/// The budget of one line checked by propagation of distributions.
///
/// Model   the error is computed anew from draws: every rounding a rectangle, zero and where the
///         load stands as well, the weights by one common draw (they are the same weights), every
///         reading of a substitution chain with a rounding and a repeatability of its own, and one
///         draw of the standard deviation that all repeatabilities share (s sqrt(nu / chi2(nu)),
///         as JCGM 101:2008, 6.4.9 implies for readings from one sample).
/// Source  JCGM 101:2008, 7.9 (adaptive), 8.1 (validation).

#include "proof/evidence.h"
#include "proof/monte_carlo.h"

namespace weighwright::proof {

struct SampledLine {
  Sampled sampled;
  Validation validation;
};

/// @pre row.load, line.budget; empty: nothing in it is uncertain
[[nodiscard]] std::optional<SampledLine> sample_line(const Evidence& evidence,
                                                     const Row& row,
                                                     const JudgedLine& line);

}  // namespace weighwright::proof
